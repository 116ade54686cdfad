package site

import (
	"net/url"
	"slices"
	"time"

	"pourback/ingest/record"
	"pourback/report/say"
)

// Choice is what of the records is looked at, and how: all of it stands in the
// address of a page. The zero value of a field is everything, or as it is set.
type Choice struct {
	From, To          string // months such as 2025-01: poured in them and between
	Use, Crew, Method string
	AsOf              record.Date // the data date, never 0
	Month             string      // the month to speak of
	SeenBy            string      // the crew that sees only its own and nobody's pours, "" for who sees all: never of the address

	Lang, Units string // never ""

	usual struct { // as they are where nothing is chosen
		asOf        record.Date
		lang, units string
	}
}

// choice is where nothing is chosen.
func (s Settings) choice(now time.Time) (c Choice) {
	c.usual.asOf, c.usual.lang, c.usual.units = s.asOf(now), s.Lang, s.Units
	if c.usual.lang == "" {
		c.usual.lang = "en"
	}
	if c.usual.units == "" {
		c.usual.units = "us"
	}
	c.AsOf, c.Lang, c.Units = c.usual.asOf, c.usual.lang, c.usual.units
	return c
}

// readView reads language and units, where they are any.
func (c *Choice) readView(q url.Values) {
	if lang := q.Get("lang"); slices.Contains(say.Languages(), lang) {
		c.Lang = lang
	}
	if units := q.Get("units"); units == "us" || units == "si" {
		c.Units = units
	}
}

// readChoice reads the whole choice from the address.
func (a *Ask) readChoice() error {
	c, q := &a.Choice, a.URL.Query()
	for _, at := range []struct {
		name string
		into *string
	}{{"from", &c.From}, {"to", &c.To}, {"month", &c.Month}} {
		if *at.into = q.Get(at.name); *at.into == "" {
			continue
		}
		if _, err := time.Parse("2006-01", *at.into); err != nil {
			return wrongValue(at.name, *at.into, say.Site.MonthLike)
		}
	}
	if c.From != "" && c.To != "" && c.From > c.To {
		return wrongValue("to", c.To, say.Site.FromBeforeTo)
	}
	if day := q.Get("as_of"); day != "" {
		d, err := record.ParseDate(day)
		if err != nil {
			return wrongValue("as_of", day, say.Site.DayLike)
		}
		c.AsOf = d
	}
	c.Use, c.Crew, c.Method = q.Get("use"), q.Get("crew"), q.Get("method")
	for _, at := range []struct{ name, value, column string }{{"use", c.Use, "use"}, {"method", c.Method, "method"}} {
		if words := record.Placements.Column(at.column).Words.Words; at.value != "" && !slices.Contains(words, at.value) {
			return wrongValue(at.name, at.value, say.Site.ChooseFromList)
		}
	}
	return nil
}

// wrongValue is a value of the address that cannot be.
func wrongValue(name, value string, right func(say.Site) string) error {
	return Wrong(func(w say.Site) string { return w.WrongValue(name, say.Clean(value, say.ShortName)) }, right)
}

// View is only the language and the units of a choice.
func (c Choice) View() Choice {
	return Choice{AsOf: c.usual.asOf, Lang: c.Lang, Units: c.Units, usual: c.usual}
}

// Records is a choice in whatever language and units.
func (c Choice) records() Choice {
	return Choice{From: c.From, To: c.To, Use: c.Use, Crew: c.Crew, Method: c.Method, AsOf: c.AsOf, SeenBy: c.SeenBy}
}

// Part says whether something is left out.
func (c Choice) Part() bool {
	return c.From != "" || c.To != "" || c.Use != "" || c.Crew != "" || c.Method != ""
}

// choiceNames are what an address may say of a choice.
var choiceNames = []string{"from", "to", "use", "crew", "method", "month", "as_of", "lang", "units"}

// query is the choice as an address ends, "" where nothing is chosen.
func (c Choice) query() string {
	q := url.Values{}
	set := func(name, value, usual string) {
		if value != usual {
			q.Set(name, value)
		}
	}
	set("from", c.From, "")
	set("to", c.To, "")
	set("use", c.Use, "")
	set("crew", c.Crew, "")
	set("method", c.Method, "")
	set("month", c.Month, "")
	set("as_of", c.AsOf.String(), c.usual.asOf.String())
	set("lang", c.Lang, c.usual.lang)
	set("units", c.Units, c.usual.units)
	if len(q) == 0 {
		return ""
	}
	return "?" + q.Encode()
}

// of are the records of a history that are chosen, and how many jobs' money is
// left out because only part of the job is.
func (c Choice) of(h *record.History) (*record.History, int) {
	if !c.Part() {
		return h, 0
	}
	p := &h.Placements
	return h.Subset(func(i int) bool {
		month := p.PlacedOn.At(i).Month()
		return (c.From == "" || month >= c.From) && (c.To == "" || month <= c.To) && (c.Use == "" || p.Use.At(i) == c.Use) &&
			(c.Crew == "" || p.Crew.At(i) == c.Crew) && (c.Method == "" || p.Method.At(i) == c.Method)
	})
}
