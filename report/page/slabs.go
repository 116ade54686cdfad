package page

import (
	"strings"

	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/say"
)

// slabStories tells of slabs from the pour to the data date.
func (a *Author) slabStories() Page {
	p := Page{Slug: "slabs", Title: "Slabs with a story", Method: []string{
		"Slabs on which a visit found something, or which a customer called about: first those most at stake in the days to come, then those that have cost most.",
		"Opened is the change since the measurement before. Visits note the widest crack, which need not be the same one each time.",
	}, Cautions: []Caution{noDesign}}
	const takes = "visits to finished slabs, or callbacks with their dates"
	if a.empty() {
		return a.begin(p, "the whole story of each slab that was looked at or called about", takes)
	}
	v := a.f.Visits
	p.Basis = a.basis(v.WithStory, "placement")
	switch {
	case len(v.Stories) == 0:
		p.Answer = "No slab has a finding or a callback on record."
		p.Notes = []string{"It takes " + takes + "."}
		return p
	case v.StoryAsked != "":
		s := v.Stories[0]
		p.Title, p.Basis = "The story of "+say.Clean(s.JobNo+" "+s.Placement, say.LongName), ""
		p.Answer = say.Clean(s.JobNo+" "+s.Placement, say.LongName) + ": " + a.Said(s.Stands) + "."
	default:
		s := v.Stories[0]
		most := " has most at stake: "
		if !(s.Worth.Value > 0) {
			most = " comes first, but none has anything left at stake: "
		}
		p.Answer = "Of " + say.Plural(v.WithStory, "slab") + " with a finding or a callback, " + say.Clean(s.JobNo+" "+s.Placement, say.LongName) + most + a.Said(s.Stands) + "."
		p.Notes = append(p.Notes, "Any slab: `pourback visits --slab JOB/PLACEMENT`.")
		if n := v.WithStory - len(v.Stories); n > 0 {
			p.Notes = append(p.Notes, say.Count(n)+" more are not told here.")
		}
	}
	for _, s := range v.Stories {
		p.Exhibits = append(p.Exhibits, a.slabStory(s))
	}
	return p
}

// storyRow is one line of a slab's story.
type storyRow struct {
	on            string
	day           say.Cell
	what          string
	width, opened say.Cell
	cost          say.Cell
}

func (a *Author) slabStory(s visits.SlabStory) Exhibit {
	name := say.Clean(s.JobNo+" "+s.Placement, say.LongName)
	rows := []storyRow{{on: s.PlacedOn.String(), day: say.Whole(0), what: a.Said("Poured: " + strings.Join(s.Pour, ", "))}}
	if len(s.Pour) == 0 {
		rows[0].what = "Poured; nothing is recorded of the conditions"
	}
	if len(s.Signs) > 0 {
		rows = append(rows, storyRow{on: s.PlacedOn.String(), day: say.Whole(0), what: a.Said("Against a guide: " + strings.Join(s.Signs, "; "))})
	}
	for _, l := range s.Looks {
		rows = append(rows, a.lookRow(l))
	}
	stands := a.Said(say.Capital(s.Stands))
	if s.Cost.Known() {
		stands += "; callbacks cost " + a.Value(a.Cash(), s.Cost) + " so far"
	}
	if s.Worth.Known() && s.Worth.Value > 0 {
		stands += "; at stake in the days to come " + a.Short(a.About(), s.Worth)
	}
	rows = append(rows, storyRow{on: a.f.AsOf, what: stands})
	caption := name + ": " + a.Said(say.Clean(s.What, say.LongName))
	if s.Site != "" {
		caption += ", " + say.Clean(s.Site, say.LongName)
	}
	w := a.width().Unit
	t := TableOf(caption, rows,
		ColumnOf[storyRow]{Head: "Day", Number: true, Cell: func(r storyRow) say.Cell { return say.Cell{Text: r.on} }},
		ColumnOf[storyRow]{Head: "Age", Number: true, Cell: func(r storyRow) say.Cell { return r.day }},
		ColumnOf[storyRow]{Head: "What", Cell: func(r storyRow) say.Cell { return say.Cell{Text: say.Clean(r.what, say.LongText)} }},
		ColumnOf[storyRow]{Head: "Width," + w, Number: true, Cell: func(r storyRow) say.Cell { return r.width }},
		ColumnOf[storyRow]{Head: "Opened," + w, Number: true, Cell: func(r storyRow) say.Cell { return r.opened }},
		ColumnOf[storyRow]{Head: "Cost", Number: true, Cell: func(r storyRow) say.Cell { return r.cost }})
	t.More = strings.ReplaceAll(t.More, "`pourback factors --json` has them all", "the record files have them all")
	return Exhibit{Title: name, Table: t}
}

func (a *Author) lookRow(l visits.StoryLook) storyRow {
	what := say.Capital(l.Why) + ": " + l.Finding
	if l.Kind != "" {
		what += ", " + l.Kind
	}
	switch l.AtJoint {
	case record.Yes:
		what += ", in a joint"
	case record.No:
		what += ", not in a joint"
	}
	if l.Length.OK {
		m := a.Units.Spacing
		what += ", " + say.Grouped(l.Length.V*m.Factor, 1) + m.Unit + " long"
	}
	if l.Resolved != 0 {
		what += "; closed " + l.Resolved.String()
	} else if l.Why == "callback" {
		what += "; no closing day on record"
	}
	if l.Note != "" {
		what += "; " + say.Clean(l.Note, say.ShortName)
	}
	r := storyRow{on: l.On.String(), day: say.Whole(l.Day), what: what, width: a.lengthCell(l.Width), opened: a.lengthCell(l.Opened)}
	if l.Cost.OK {
		r.cost = a.MoneyCell(l.Cost.V)
	}
	return r
}

func (a *Author) lengthCell(n record.Number) say.Cell {
	if !n.OK {
		return say.Cell{}
	}
	return say.Cell{Text: say.Grouped(n.V*a.width().Factor, 3)}
}
