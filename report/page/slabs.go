package page

import (
	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/say"
)

// slabStories tells of slabs from the pour to the data date.
func (a *Author) slabStories() Page {
	w, v := say.Slabs{Voice: a.Voice}, a.f.Visits
	p := Page{Slug: slabsSlug, Title: w.Title(), Method: w.Method(), Cautions: a.beware(say.NoDesign)}
	if a.empty() {
		return a.begin(p, w.WillSay(), w.Takes())
	}
	p.Basis = a.basis(v.WithStory, a.Placements)
	switch {
	case len(v.Stories) == 0:
		p.Answer, p.Notes = w.Answer(v), []string{a.itTakes(w.Takes())}
		return p
	case v.StoryAsked != "":
		s := &v.Stories[0]
		p.Title, p.Basis, p.Answer = w.OneTitle(s), "", w.OneAnswer(s)
		if of := a.pictures.slab(s); of != nil {
			p.Notes = append(p.Notes, w.Pictures(of.total))
		}
	default:
		p.Answer, p.Notes = w.Answer(v), w.Notes(v)
	}
	for i := range v.Stories {
		e := a.slabStory(&v.Stories[i])
		if v.StoryAsked == "" {
			e.Says, e.Card, e.InHand = w.Card(&v.Stories[i]), true, i < mostCards
		}
		p.Exhibits = append(p.Exhibits, e)
	}
	return p
}

// mostCards is how many slabs the page shows at once; the others are found in its
// details.
const mostCards = 10

// storyRow is one line of a slab's story.
type storyRow struct {
	on            say.Cell
	day           say.Cell
	what          string
	width, opened say.Cell
	cost          say.Cell
}

func (a *Author) slabStory(s *visits.SlabStory) Exhibit {
	w := say.Slabs{Voice: a.Voice}
	poured := say.Dated(s.PlacedOn.String(), s.PlacedOn)
	rows := []storyRow{{on: poured, day: say.Whole(0), what: w.Poured(&s.Pour)}}
	if len(s.Signs) > 0 {
		rows = append(rows, storyRow{on: poured, day: say.Whole(0), what: w.Outside(s)})
	}
	for i := range s.Looks {
		rows = append(rows, a.lookRow(&s.Looks[i]))
	}
	asOf, _ := record.ParseDate(a.f.AsOf) // 0 where there is none
	rows = append(rows, storyRow{on: say.Dated(a.f.AsOf, asOf), what: w.Now(s)})
	heads := w.Heads()
	t := TableOf(w.Caption(s), rows,
		ColumnOf[storyRow]{Head: heads.Day, Number: true, Cell: func(r storyRow) say.Cell { return r.on }},
		numbers(heads.Age, func(r storyRow) say.Cell { return r.day }),
		wordsIn(heads.What, func(r storyRow) string { return r.what }),
		numbers(heads.Width, func(r storyRow) say.Cell { return r.width }),
		numbers(heads.Opened, func(r storyRow) say.Cell { return r.opened }),
		numbers(heads.Cost, func(r storyRow) say.Cell { return r.cost }))
	if n := len(rows) - len(t.Rows); n > 0 {
		t.More = w.RowsLeft(n)
	}
	e := Exhibit{Title: w.Name(s), Table: t}
	a.pictured(&e, s)
	return e
}

func (a *Author) lookRow(l *visits.StoryLook) storyRow {
	r := storyRow{on: say.Dated(l.On.String(), l.On), day: say.Whole(l.Day), what: say.Slabs{Voice: a.Voice}.Look(l), width: a.CrackWidth(l.Width), opened: a.CrackWidth(l.Opened)}
	if l.Cost.OK {
		r.cost = a.MoneyCell(l.Cost.V)
	}
	return r
}
