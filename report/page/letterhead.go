package page

import (
	"html/template"
	"net/url"
	"regexp"
	"strings"

	"pourback/report/say"
)

// Letterhead is the company on papers that leave the office, as far as its owner
// has set it.
type Letterhead struct {
	Address, Email, License string
	Phones                  Phones
	SiteURL                 string // of the crew's own site, without a / at its end
	HoldsDays               int    // of a proposal's price; 30 where 0
	Payment, Warranty       string // the owner's words on a proposal
}

// Phones are numbers to call.
type Phones struct{ Plant, Pump, Owner string }

// Call is a number to tap.
type Call struct {
	Who, Number string
	Href        template.URL
}

// calls are those numbers that are set, in the order in which a crew needs them.
func (p Phones) calls(v *say.Voice) (calls []Call) {
	for _, c := range [][2]string{{"plant", p.Plant}, {"pump", p.Pump}, {"owner", p.Owner}} {
		if number := say.Clean(c[1], say.ShortName); number != "" {
			calls = append(calls, Call{v.Phone(c[0]), number, telephone(number)})
		}
	}
	return calls
}

var extension = regexp.MustCompile(`(?i)\s*(?:ext\.?|x|#)\s*(\d+)\s*$`)

// telephone is a number as an address to call (RFC 3966), "" where it holds no
// digit: nothing of it stands there but digits, and a plus before them.
func telephone(number string) template.URL {
	digits := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r >= '0' && r <= '9' {
				return r
			}
			return -1
		}, s)
	}
	more := ""
	if at := extension.FindStringSubmatchIndex(number); at != nil {
		number, more = number[:at[0]], ";ext="+number[at[2]:at[3]]
	}
	plain := digits(number)
	if plain == "" {
		return ""
	}
	if strings.HasPrefix(strings.TrimSpace(number), "+") {
		plain = "+" + plain
	}
	return template.URL("tel:" + plain + more)
}

// formOf is the address of a job's form on the crew's site, "" where there is no
// site or no number.
func (l Letterhead) formOf(jobNo string) string {
	if l.SiteURL == "" || jobNo == "" {
		return ""
	}
	return strings.TrimRight(l.SiteURL, "/") + "/pour/" + url.PathEscape(jobNo)
}
