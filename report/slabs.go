package report

import (
	"strings"

	"pourback/analysis/visits"
	"pourback/ingest/record"
)

// slabStories tells of slabs from the pour to the data date.
func (a *author) slabStories() Page {
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
		p.Title, p.Basis = "The story of "+clean(s.JobNo+" "+s.Placement, longName), ""
		p.Answer = clean(s.JobNo+" "+s.Placement, longName) + ": " + a.said(s.Stands) + "."
	default:
		s := v.Stories[0]
		most := " has most at stake: "
		if !(s.Worth.Value > 0) {
			most = " comes first, but none has anything left at stake: "
		}
		p.Answer = "Of " + plural(v.WithStory, "slab") + " with a finding or a callback, " + clean(s.JobNo+" "+s.Placement, longName) + most + a.said(s.Stands) + "."
		p.Notes = append(p.Notes, "Any slab: `pourback visits --slab JOB/PLACEMENT`.")
		if n := v.WithStory - len(v.Stories); n > 0 {
			p.Notes = append(p.Notes, count(n)+" more are not told here.")
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
	day           Cell
	what          string
	width, opened Cell
	cost          Cell
}

func (a *author) slabStory(s visits.SlabStory) Exhibit {
	name := clean(s.JobNo+" "+s.Placement, longName)
	rows := []storyRow{{on: s.PlacedOn.String(), day: whole(0), what: a.said("Poured: " + strings.Join(s.Pour, ", "))}}
	if len(s.Pour) == 0 {
		rows[0].what = "Poured; nothing is recorded of the conditions"
	}
	if len(s.Signs) > 0 {
		rows = append(rows, storyRow{on: s.PlacedOn.String(), day: whole(0), what: a.said("Against a guide: " + strings.Join(s.Signs, "; "))})
	}
	for _, l := range s.Looks {
		rows = append(rows, a.lookRow(l))
	}
	stands := a.said(capital(s.Stands))
	if s.Cost.Known() {
		stands += "; callbacks cost " + a.cash().value(s.Cost) + " so far"
	}
	if s.Worth.Known() && s.Worth.Value > 0 {
		stands += "; at stake in the days to come " + a.about().short(s.Worth)
	}
	rows = append(rows, storyRow{on: a.f.AsOf, what: stands})
	caption := name + ": " + a.said(clean(s.What, longName))
	if s.Site != "" {
		caption += ", " + clean(s.Site, longName)
	}
	w := a.width().unit
	t := tableOf(caption, rows,
		column[storyRow]{head: "Day", number: true, cell: func(r storyRow) Cell { return Cell{Text: r.on} }},
		column[storyRow]{head: "Age", number: true, cell: func(r storyRow) Cell { return r.day }},
		column[storyRow]{head: "What", cell: func(r storyRow) Cell { return Cell{Text: clean(r.what, longText)} }},
		column[storyRow]{head: "Width," + w, number: true, cell: func(r storyRow) Cell { return r.width }},
		column[storyRow]{head: "Opened," + w, number: true, cell: func(r storyRow) Cell { return r.opened }},
		column[storyRow]{head: "Cost", number: true, cell: func(r storyRow) Cell { return r.cost }})
	t.More = strings.ReplaceAll(t.More, "`pourback factors --json` has them all", "the record files have them all")
	return Exhibit{Title: name, Table: t}
}

func (a *author) lookRow(l visits.StoryLook) storyRow {
	what := capital(l.Why) + ": " + l.Finding
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
		m := a.units.spacing
		what += ", " + grouped(l.Length.V*m.factor, 1) + m.unit + " long"
	}
	if l.Resolved != 0 {
		what += "; closed " + l.Resolved.String()
	} else if l.Why == "callback" {
		what += "; no closing day on record"
	}
	if l.Note != "" {
		what += "; " + clean(l.Note, shortName)
	}
	r := storyRow{on: l.On.String(), day: whole(l.Day), what: what, width: a.lengthCell(l.Width), opened: a.lengthCell(l.Opened)}
	if l.Cost.OK {
		r.cost = a.moneyCell(l.Cost.V)
	}
	return r
}

func (a *author) lengthCell(n record.Number) Cell {
	if !n.OK {
		return Cell{}
	}
	return Cell{Text: grouped(n.V*a.width().factor, 3)}
}
