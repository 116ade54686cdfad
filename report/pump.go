package report

import (
	"slices"

	"pourback/analysis"
)

// pump says how often the pump line plugs.
func (a *author) pump() Page {
	p := Page{Slug: "pump", Title: "Pump", Method: []string{
		"A rate is all clogs over all yards delivered, from the pumped placements that record both.",
		"Its range is exact for counts that come at random (Garwood 1936): it holds even where there was no clog.",
		"Minutes lost are added up; minutes a clog are those minutes over the clogs, with the range of a ratio (Cochran 1977, §6.4).",
	}, Cautions: []Caution{pluggedHose}}
	const takes = "the method, the pump outfit, the yards delivered and the number of clogs (0 where there was none) of each pumped placement"
	if a.empty() {
		return a.begin(p, "how often the pump line plugs, and whose", takes)
	}
	all := a.f.Pump.All
	p.Basis = a.basis(all.Placements, "pumped placement")
	if all.Placements == 0 {
		p.Answer = "The records cannot say how often the pump line plugs: no pumped placement has both its yards and its clogs."
		p.Notes = []string{"It takes " + takes + "."}
		return p
	}
	p.Answer = a.told(a.f.Pump.Answer, a.pumpAnswer())
	p.Exhibits = append([]Exhibit{a.pumpExhibit()}, a.delayExhibits()...)
	p.Notes = append(append(a.pumpNotes(), a.lateNote()...), cleaned(a.f.Pump.Notes)...)
	return p
}

func (a *author) pumpAnswer() string {
	all := a.f.Pump.All
	yards := a.units.volume.exact(all.PumpedYd).Text + a.units.volume.unit
	if all.Clogs == 0 {
		return "The pump line has not plugged in " + yards + " over " + plural(all.Placements, "placement") + ": " + a.units.clogs.long(all.ClogsPer100) + "."
	}
	s := "The pump line plugged " + plural(all.Clogs, "time") + " in " + yards + ": " + a.units.clogs.long(all.ClogsPer100)
	if each := a.f.Pump.PerClog; each.Known() {
		s += ", at " + plain.of("minutes").long(each) + " each"
	}
	return s + "."
}

func (a *author) pumpNotes() []string {
	var notes []string
	if lost := a.f.Pump.MinutesLost; lost.Known() {
		notes = append(notes, "Clogs cost "+plain.value(lost)+" minutes in all, on the "+plural(lost.N, "pumped placement")+" that record them.")
	}
	if slices.ContainsFunc(a.f.Pump.Outfits, func(o analysis.PumpOutfit) bool { return o.Pooled.Known() }) {
		notes = append(notes, "“Expect” is each outfit's rate drawn toward that of all: a few clogs in few yards may be luck.")
	}
	known := slices.DeleteFunc(slices.Clone(a.f.Pump.Outfits), func(o analysis.PumpOutfit) bool { return !o.ClogsPer100.Known() })
	for i, one := range known {
		for _, other := range known[i+1:] {
			if apart(one.ClogsPer100, other.ClogsPer100) || apart(other.ClogsPer100, one.ClogsPer100) {
				return append(notes, "Outfits differ by mix, hose and job too: a high rate is a reason to look, not a verdict.")
			}
		}
	}
	return notes
}

func (a *author) pumpExhibit() Exhibit {
	type outfit struct {
		analysis.PumpOutfit
		total bool
	}
	m := measure{factor: a.units.clogs.factor}
	outfits := most(a.f.Pump.Outfits, func(o analysis.PumpOutfit) int { return o.Placements })
	var rows []outfit
	if len(outfits) > 1 {
		rows = append(rows, outfit{a.f.Pump.All, true})
	}
	for _, o := range outfits {
		rows = append(rows, outfit{o, false})
	}
	table := tableOf("Clogs by pump outfit", rows,
		column[outfit]{head: "Outfit", cell: func(o outfit) Cell {
			if o.total {
				return word("all")
			}
			return word(o.Outfit)
		}},
		column[outfit]{head: "Clogs" + a.units.clogs.unit, number: true, cell: func(o outfit) Cell { return m.cell(o.ClogsPer100) }},
		column[outfit]{head: "Expect", number: true, ahead: true, cell: func(o outfit) Cell {
			if o.total {
				return Cell{unknown: true} // the total is not pooled with itself
			}
			return m.cell(o.Pooled)
		}},
		column[outfit]{head: "Clogs", number: true, cell: func(o outfit) Cell { return whole(o.Clogs) }},
		column[outfit]{head: "Pumped," + a.units.volume.unit, number: true, cell: func(o outfit) Cell { return a.units.volume.exact(o.PumpedYd) }},
		column[outfit]{head: "Placements", number: true, cell: func(o outfit) Cell { return whole(o.Placements) }})
	drawn := outfits[:min(len(outfits), mostKinds)]
	return Exhibit{"By pump outfit", &Chart{ID: "chart-pump", Height: sidewaysHeight(len(drawn)),
		Says: "A point for each pump outfit: its clogs per 100 of volume pumped, with the exact range. The table holds the same figures.",
		draw: func() *board {
			labels, points := make([]string, len(drawn)), make([]shownFigure, len(drawn))
			for i, o := range drawn {
				labels[i] = clean(o.Outfit, labelName)
				points[i] = shownFigure{o.ClogsPer100, clean(o.Outfit, shortName) + ": " + plural(o.Clogs, "clog") + ", " + a.units.clogs.long(o.ClogsPer100) + ", from " + plural(o.Placements, "placement")}
			}
			b := sideways(labels, "clogs"+a.units.clogs.unit)
			b.marks("rate", "circle", m, points)
			b.errorBars("rate", m, points)
			return b
		}}, table}
}
