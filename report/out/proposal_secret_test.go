package out

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"pgregory.net/rapid"

	"pourback/analysis/bid"
	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

// forCustomers are the numbers of a bid that a proposal may show or rest on, by
// the names of the fields that lead to them; all others are the office's.
var forCustomers = regexp.MustCompile(`^\.(Month$|Price\.Asked$|Reserve\.Months\.|Spec\.Placements\.|Placements\.(AreaSqft|ThicknessIn|Joints|Steel\.Takeoff)\b)`)

// disturb multiplies every number of v that is the office's, wherever it stands,
// and counts them.
func disturb(v reflect.Value, path string, by float64) (touched int) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return disturb(v.Elem(), path, by)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			name := "." + v.Type().Field(i).Name
			if v.Type().Field(i).Anonymous {
				name = ""
			}
			touched += disturb(v.Field(i), path+name, by)
		}
	case reflect.Slice:
		for i := range v.Len() {
			touched += disturb(v.Index(i), path, by)
		}
	case reflect.Float64, reflect.Int:
		if forCustomers.MatchString(path) || !v.CanSet() {
			return 0
		}
		if v.Kind() == reflect.Int {
			v.SetInt(v.Int()*int64(by) + 1)
		} else {
			v.SetFloat(v.Float() * by)
		}
		return 1
	}
	return touched
}

// TestProposalKeepsTheOfficesNumbers: a proposal stays the same to the byte when
// every cost, margin, hour, rate, reserve and chance of its bid is another. So
// none of them stands in it, in words, attributes or remarks.
func TestProposalKeepsTheOfficesNumbers(t *testing.T) {
	for _, lang := range say.Languages() {
		for _, units := range []string{"us", "si"} {
			opt := headed
			opt.Units = units
			b := trial.JobOf(t, 4)
			before := proposalHTML(t, b, lang, opt)
			if n := disturb(reflect.ValueOf(b).Elem(), "", 3); n < 300 {
				t.Fatalf("only %d numbers were changed", n)
			}
			if b.Cost.Total.Mean < 19000 || b.Price.Asked != 9000 {
				t.Fatal("the costs are as they were, or the price is not")
			}
			if after := proposalHTML(t, b, lang, opt); after != before {
				t.Errorf("%s, %s: what the office knows changes the proposal", lang, units)
			}
			b.Price.Asked *= 3
			if proposalHTML(t, b, lang, opt) == before {
				t.Error("the price is not on the proposal: the check cannot fail")
			}
		}
	}
}

// TestProposalHasNoWordOfCosts: neither a word of the office's nor a remark in the
// markup.
func TestProposalHasNoWordOfCosts(t *testing.T) {
	words := regexp.MustCompile(`(?i)\b(costs?|margins?|hours?|wage|overhead|contingency|reserve|markup|chance|profit|in 100|costos?|margen|horas?|recargo|imprevistos|utilidad|de cada 100)\b|\d ?%|<!--`)
	for _, lang := range say.Languages() {
		html := proposalHTML(t, trial.JobOf(t, 3), lang, headed)
		text := regexp.MustCompile(`(?s)<style>.*?</style>`).ReplaceAllString(html, "")
		if found := words.FindAllString(text, -1); found != nil {
			t.Errorf("%s: %q", lang, found)
		}
	}
	if !strings.Contains(bidHTML(t, trial.MadeUpBid(t), page.Options{}), "For the office: costs and margins") {
		t.Error("the cost sheet does not say for whom it is")
	}
}

// TestCostSheetIsMarkedOnPaper: that it is for the office is seen on paper too.
func TestCostSheetIsMarkedOnPaper(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "bid.html")
	if err := os.WriteFile(file, []byte(bidHTML(t, trial.MadeUpBid(t), page.Options{})), 0o644); err != nil {
		t.Fatal(err)
	}
	v := open(t, browser(t), "file://"+file, screen{width: 710, height: 950})
	v.do(command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
	if !ask[bool](v, `document.querySelector('.internal').checkVisibility() && document.querySelector('.internal').getBoundingClientRect().height > 10`) {
		t.Error("the mark is not printed")
	}
}

// TestPapersOfAnyBid: whatever is poured, however it is called, both papers are
// written, name every placement, and say no figure that is none.
func TestPapersOfAnyBid(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		b := trial.JobOf(t, rapid.IntRange(1, 6).Draw(r, "placements"))
		for i := range b.Placements {
			name := rapid.StringMatching(`[A-Za-z<>&"' ñá]{0,60}`).Draw(r, "name")
			b.Placements[i].Name, b.Spec.Placements[i].Name = name, name
			asked := &b.Spec.Placements[i]
			asked.Base = rapid.SampledFrom([]string{"", "native", "compacted", "crushed base", "existing slab", "odd"}).Draw(r, "base")
			asked.Finish = rapid.SampledFrom([]string{"", "broom", "trowel", "exposed", "stamped", "swirl"}).Draw(r, "finish")
			asked.Curing = rapid.SampledFrom([]string{"", "none", "water", "compound", "sheet", "blanket"}).Draw(r, "curing")
			asked.Reinforcement = rapid.SampledFrom([]string{"", "none", "mesh", "rebar", "fiber", "rebar+fiber"}).Draw(r, "steel")
			if rapid.Bool().Draw(r, "steps") {
				b.Placements[i].Joints, b.Placements[i].AreaSqft = bid.JointPlan{}, 0
				asked.Steps = bid.Steps{Risers: 3, RiseIn: 7, TreadIn: 12, WidthFt: 4}
			}
		}
		if rapid.Bool().Draw(r, "no clock") {
			b.Days[0].Clock, b.Days[0].Asked = nil, nil
		}
		b.Days[0].Hold.Worth = rapid.Bool().Draw(r, "hold")
		b.JobNo = rapid.StringMatching(`[A-Z0-9/ #-]{0,40}`).Draw(r, "job")
		b.On = rapid.SampledFrom([]string{"", "7", "2026-07", "2026-07-14"}).Draw(r, "on")
		opt := headed
		opt.Units = rapid.SampledFrom([]string{"us", "si"}).Draw(r, "units")
		lang := rapid.SampledFrom(say.Languages()).Draw(r, "lang")
		for name, html := range map[string]string{"pour day": pourDayHTML(t, b, lang, opt), "proposal": proposalHTML(t, b, lang, opt)} {
			text := readOf(html)
			if bad := regexp.MustCompile(`NaN|\bInf\b|%!|\{[a-z]+\}|<no value>|ZgotmplZ`).FindString(text + html); bad != "" {
				r.Fatalf("%s says %q", name, bad)
			}
			if !strings.HasSuffix(strings.TrimSpace(html), "</html>") {
				r.Fatalf("%s is cut off: %q", name, html[max(0, len(html)-80):])
			}
			if n := strings.Count(html, "<article>"); name == "proposal" && n != len(b.Placements) {
				r.Fatalf("%d slabs of %d", n, len(b.Placements))
			}
			if n := strings.Count(html, `class="plan"`); name == "pour day" && n != len(b.Placements) {
				r.Fatalf("%d slabs of %d", n, len(b.Placements))
			}
		}
	})
}

// TestGoldenPapers holds both papers to those that a person has looked at.
func TestGoldenPapers(t *testing.T) {
	opt := headed
	for _, lang := range say.Languages() {
		b := trial.JobOf(t, 2)
		for name, html := range map[string]string{"pour-day": pourDayHTML(t, b, lang, opt), "proposal": proposalHTML(t, b, lang, opt)} {
			html = regexp.MustCompile(`(?s)<style>.*?</style>|style-src '[^;]*;|style-src &#39;.*?&#39;;`).ReplaceAllString(html, "")
			golden(t, fmt.Sprintf("%s-%s.html", name, lang), []byte(html))
		}
	}
}
