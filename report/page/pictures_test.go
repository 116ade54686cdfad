package page

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/money"
	"pourback/analysis/visits"
	"pourback/report/chart"
	"pourback/report/internal/trial"
	"pourback/report/say"
)

// drawnOn is the drawing of a chart on a page.
func drawnOn(t *testing.T, p Page, id string) *chart.Drawing {
	t.Helper()
	i := slices.IndexFunc(p.Exhibits, func(e Exhibit) bool { return e.Chart != nil && e.Chart.ID == id })
	if i < 0 {
		t.Fatalf("%s has no picture %q", p.Slug, id)
	}
	return p.Exhibits[i].Chart.Drawing()
}

// marked counts the shapes of a class that say something where they are pointed at.
func marked(d *chart.Drawing, class string) (n int) {
	for _, s := range d.Shapes {
		if strings.HasPrefix(s.Class, class) && s.Tip != "" {
			n++
		}
	}
	return n
}

// said are the words of a drawing.
func said(d *chart.Drawing) string {
	var all []string
	for _, s := range d.Shapes {
		all = append(all, strings.Join(s.Words, " "))
	}
	return strings.Join(all, "\n")
}

// The steps of a month and those of its year each add up to what they lie from
// their bids, in % of revenue.
func TestMonthBesideItsYearAddsUp(t *testing.T) {
	f := trial.CompanyFactors(t)
	p := pageOf(t, Pages(f, Options{}), monthSlug)
	rows := tableOn(t, p, "From bid to earned, cents").Rows
	for _, column := range []int{1, 2} {
		sum := 0.0
		for _, row := range rows[:len(rows)-1] {
			sum += amountOf(t, row[column])
		}
		if want := amountOf(t, rows[len(rows)-1][column]); math.Abs(sum-want) > 1e-6 {
			t.Errorf("column %d: steps of %v, together %v", column, sum, want)
		}
	}
	m := &f.Margin.Months[f.Margin.At("")]
	told := f.Margin.InFull(m.Earned, money.InMonth(m.Month))
	if got, want := amountOf(t, rows[len(rows)-1][1]), 100*told.AgainstBid.Value/told.Revenue.Dollars(); math.Abs(got-want) > 1e-9 {
		t.Errorf("%v against bids, want %v", got, want)
	}
	if d := drawnOn(t, p, "chart-month-year"); marked(d, "mark past") == 0 || marked(d, "mark own") == 0 {
		t.Error("the month and its year are not both drawn")
	}
}

// The map has a mark for each pour whose drying is known, those called about
// apart, and its table counts the same.
func TestWeatherMapShowsEachPour(t *testing.T) {
	f := trial.CompanyFactors(t)
	p := pageOf(t, Pages(f, Options{}), weatherSlug)
	pours, cracked, hot := 0, 0, 0
	for i := range f.Weather.Placements {
		e := &f.Weather.Placements[i]
		if !e.Rate.OK {
			continue
		}
		pours++
		if e.Cracked {
			cracked++
		}
		if e.Over() {
			hot++
		}
	}
	d := drawnOn(t, p, "chart-weather-map")
	if got := marked(d, "mark worse"); got != cracked || cracked == 0 {
		t.Errorf("%d pours called about are marked, want %d", got, cracked)
	}
	if got := marked(d, "mark cloud own"); got != pours-cracked {
		t.Errorf("%d others are drawn, want %d", got, pours-cracked)
	}
	rows := tableOn(t, p, "Pours on both sides").Rows
	if got := amountOf(t, rows[1][1]); got != float64(hot) || hot != f.Weather.HotCount {
		t.Errorf("%v over the limit, want %d", got, hot)
	}
	if got := amountOf(t, rows[0][2]) + amountOf(t, rows[1][2]); got != float64(cracked) {
		t.Errorf("%v called about, want %d", got, cracked)
	}
}

// Each box of the grid counts its slabs; all of them are in it.
func TestGridCountsAllSlabs(t *testing.T) {
	f := trial.CompanyFactors(t)
	d := drawnOn(t, pageOf(t, Pages(f, Options{}), cracksSlug), "chart-grid")
	filled := 0
	for i := range f.Cracks.Cells {
		if f.Cracks.Cells[i].Placements > 0 {
			filled++
		}
	}
	if got := marked(d, "cell shade"); got != filled {
		t.Errorf("%d boxes with slabs, want %d", got, filled)
	}
}

// The calendar marks each visit that is due in its two months, and no other.
func TestCalendarMarksWhatIsDue(t *testing.T) {
	f := trial.CompanyFactors(t)
	if f.Visits == nil {
		f = trial.Visited(t, trial.Company(t))
	}
	c := &f.Visits.Calendar
	rows := tableOn(t, pageOf(t, Pages(f, Options{}), visitsSlug), "Pours and visits by day").Rows
	var got, want [3]float64
	for _, row := range rows {
		for k := range got {
			got[k] += amountOf(t, row[1+k])
		}
	}
	for _, d := range c.Days {
		for k, n := range d.Has {
			want[k] += float64(n)
		}
	}
	if got != want || want[visits.CalendarDue] == 0 {
		t.Errorf("%v, want %v", got, want)
	}
}

// A decision between two is drawn with what it comes to now and with where it
// turns; what moves nothing has no bar.
func TestWhatTurnsADecisionIsDrawn(t *testing.T) {
	w := say.New("", "", "")
	levers := []figure.Lever{{Input: "a", Unit: figure.Dollar, Value: 10, Low: 5, High: 20, AtLow: -40, AtHigh: 90, Now: 30, Turns: figure.Known(7), Within: true},
		{Input: "b", Unit: figure.Dollar, Value: 10, Low: 8, High: 12, AtLow: 30, AtHigh: 30, Now: 30}}
	d := decision{id: "chart-turns", head: "then", comes: w.Exactly, turns: turnsOf("", levers), scale: "saved, $", factor: 1, between: true}
	drawing := leversOf(w, d)[0].Chart.Drawing()
	if got := marked(drawing, "mark own"); got != 1 {
		t.Errorf("%d bars, want 1", got)
	}
	for _, words := range []string{"as things are", "the answer turns here", "$5", "$20", "saved, $"} {
		if !strings.Contains(said(drawing), words) {
			t.Errorf("%q is not in %q", words, said(drawing))
		}
	}
	d.id = ""
	if c := leversOf(w, d)[0].Chart; c != nil {
		t.Error("a kept bid does not hold what it comes to now, and is drawn")
	}
}

// A bid's margin, its range and what was kept stand on one line.
func TestBidsAreDrawnBesideTheirJobs(t *testing.T) {
	r := trial.SomeBids("Lot 14", "J-1")
	p := BidsPage(r, Options{})
	kept := 0
	for _, o := range r.Outcomes {
		for _, l := range o.Lines {
			if l.What == "margin" && l.Actual.OK {
				kept++
			}
		}
	}
	i := slices.IndexFunc(p.Exhibits, func(e Exhibit) bool { return e.Leads })
	if kept == 0 {
		if i >= 0 {
			t.Error("nothing is known of a margin, and a picture leads")
		}
		return
	}
	d := p.Exhibits[i].Chart.Drawing()
	if bids, own := marked(d, "mark bid"), marked(d, "mark own"); bids != kept || own != kept {
		t.Errorf("%d bids beside %d jobs, want %d", bids, own, kept)
	}
}
