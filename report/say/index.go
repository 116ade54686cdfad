package say

import (
	"pourback/analysis/cracks"
	"pourback/analysis/setting"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// Index says how the company is doing, in a few sentences.
type Index struct{ *Voice }

func (w Index) Title() string   { return w.text("What your finished jobs say") }
func (w Index) Nothing() string { return w.text("No placements are on record yet.") }

func (w Index) AsOfDay(asOf string) string { return w.say("As of {day}.", with{"day": w.AsOf(asOf)}) }

// Basis says what the report rests on.
func (w Index) Basis(placements, jobs int, first, last record.Date, asOf string) string {
	return w.say("{placements} in {jobs}, {poured}, as of {day}.", with{"placements": w.Placements(placements), "jobs": w.Jobs(jobs), "poured": w.poured(first, last), "day": w.AsOf(asOf)})
}

// Trouble and Worth are the titles of sentences that stand for several pages.
func (w Index) Trouble() string { return w.text("What goes wrong") }
func (w Index) Worth() string   { return Findings(w).Title() }

// Cracks says how often slabs crack.
func (w Index) Cracks(c *cracks.Cracks) string {
	risk := c.All.Risk1Yr
	switch rare := risk.Value > 0 && risk.Value < 0.01; {
	case c.Event == setting.EventSeen && rare:
		return w.say("{share} are seen with a crack within a year.", with{"share": w.Long(inThousand.As("{value} in 1,000 slabs"), risk)})
	case c.Event == setting.EventSeen:
		return w.say("{share} are seen with a crack within a year.", with{"share": w.Long(InHundred.As("{value} in 100 slabs"), risk)})
	case rare:
		return w.say("{share} bring a crack callback within a year.", with{"share": w.Long(inThousand.As("{value} in 1,000 slabs"), risk)})
	}
	return w.say("{share} bring a crack callback within a year.", with{"share": w.Long(InHundred.As("{value} in 100 slabs"), risk)})
}

// Clogs says how often the pump line clogs.
func (w Index) Clogs(p *work.Pump) string {
	m := Measure{Factor: w.Units.Clogs.Factor, Digits: Round}
	if w.Units.Si {
		m = m.As("{value} times in 100 m³")
	} else {
		m = m.As("{value} times in 100 yd")
	}
	return w.say("The pump line clogs {rate}.", with{"rate": w.Long(m, p.All.ClogsPer100)})
}

// ToCheck says how many placements deserve a look.
func (w Index) ToCheck(n int) string {
	return w.plural(n, "1 placement in the records deserves a second look.|{n} placements in the records deserve a second look.", nil)
}
