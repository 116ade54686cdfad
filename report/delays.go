package report

import (
	"pourback/analysis"
)

// delayExhibits show where time went, which only a history handed in in full
// can tell: by cause, and for clogs by where they sat.
func (a *author) delayExhibits() []Exhibit {
	d := a.f.Pump.Delays
	if d == nil {
		return nil
	}
	var out []Exhibit
	if len(d.Causes) > 0 {
		out = append(out, Exhibit{Title: "Where time went, all placements", Table: a.delayTable("Delays by cause, the costliest first", "Cause", d.Causes)})
	}
	if len(d.Spots) > 0 {
		out = append(out, Exhibit{Title: "Where clogs sat", Table: a.delayTable("Clogs by spot, the costliest first", "Spot", d.Spots)})
	}
	return out
}

func (a *author) delayTable(caption, head string, rows []analysis.DelayCause) *Table {
	share := measure{factor: 100, unit: "%"}
	return tableOf(caption, rows,
		column[analysis.DelayCause]{head: head, cell: func(c analysis.DelayCause) Cell { return word(c.Name) }},
		column[analysis.DelayCause]{head: "Minutes", number: true, cell: func(c analysis.DelayCause) Cell { return whole(int(c.Minutes)) }},
		column[analysis.DelayCause]{head: "Share", number: true, cell: func(c analysis.DelayCause) Cell { return share.exact(c.Share) }},
		column[analysis.DelayCause]{head: "With those above", number: true, cell: func(c analysis.DelayCause) Cell { return share.exact(c.Running) }},
		column[analysis.DelayCause]{head: "The crew's wait", number: true, cell: func(c analysis.DelayCause) Cell { return a.moneyCell(c.Cost) }},
		column[analysis.DelayCause]{head: "Times", number: true, cell: func(c analysis.DelayCause) Cell { return whole(c.Times) }},
		column[analysis.DelayCause]{head: "Minutes each", number: true, cell: func(c analysis.DelayCause) Cell { return plain.cell(c.Each) }})
}

// lateNote says how many loads took too long, where their times are known.
func (a *author) lateNote() []string {
	d := a.f.Pump.Delays
	if d == nil || d.Late.Known == 0 {
		return nil
	}
	return []string{clean(d.Late.Says, longText)}
}
