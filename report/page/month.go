package page

import (
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/findings"
	"pourback/analysis/money"
	"pourback/report/say"
)

// The slugs of pages that others speak of.
const (
	monthSlug   = "month"
	wasteSlug   = "waste"
	pumpSlug    = "pump"
	cracksSlug  = "cracks"
	steelSlug   = "reinforcement"
	marginSlug  = "margin"
	recordsSlug = "records"

	crewsSlug     = "crews"
	weatherSlug   = "weather"
	visitsSlug    = "visits"
	earlySlug     = "early"
	slabsSlug     = "slabs"
	warrantySlug  = "warranty"
	bidsSlug      = "bids"
	bidSlug       = "bid"
	callbacksSlug = "callbacks"
	seenSlug      = "seen"
	backtestSlug  = "backtest"
)

// thisMonth is the page of the first of the month: what the month kept, why,
// whether that is unusual, and what is worth most money now.
func (a *Author) thisMonth() Page {
	w, takes := say.Month{Voice: a.Voice}, say.Margin{Voice: a.Voice}.Takes()
	p := Page{Slug: monthSlug, Title: w.Title(), Method: w.Method()}
	if a.empty() {
		return a.begin(p, w.Will(), takes)
	}
	margin := a.f.Margin
	p.Answer = w.Answer(margin, a.month)
	at := margin.At(a.month)
	if at < 0 {
		p.Basis = a.marginBasis()
		p.Exhibits = a.findingExhibits()
		p.Notes = []string{a.itTakes(takes)}
		return p
	}
	m := &margin.Months[at]
	p.Title, p.Basis, p.Reading = say.Capital(a.Month(m.Month)), w.Basis(m), a.Booked(a.f.Level)
	told := margin.InFull(m.Earned, money.InMonth(m.Month))
	if p.Do = a.todo(2, worthDoing...); len(p.Do) == 0 {
		p.Do = []string{say.Todo{Voice: a.Voice}.NoChange()}
	}
	p.Exhibits = slices.Concat(a.bridge("chart-month-bridge", say.Bridge{Voice: a.Voice}.CaptionOf(m.Month), &told),
		a.besideYear(m.Month, &told), []Exhibit{a.monthBeside(at)}, a.findingExhibits(), a.changeExhibit(m.Month), a.costLines(m.Month), a.monthJobs(m.Month))
	p.Notes = a.monthNotes(m)
	return p
}

// monthBeside is the month among those before it, with how far months swing.
func (a *Author) monthBeside(at int) Exhibit {
	const most = 13 // a year and the same month of the year before
	m, w := a.f.Margin, say.Margin{Voice: a.Voice}
	shown := slices.Clone(m.Months[max(0, at+1-most) : at+1])
	slices.Reverse(shown)
	return Exhibit{Title: say.Month{Voice: a.Voice}.Beside(), Says: w.OneMonth(m, m.Months[at].Month),
		Chart: a.controlChart("chart-month-control", &m.Control, shown), Table: a.monthTable(shown)}
}

// changeExhibit says why the last full month earned more or less than the one
// before it.
func (a *Author) changeExhibit(month string) []Exhibit {
	c, w := &a.f.Margin.Change, say.Month{Voice: a.Voice}
	if c.To != month || !c.Profit.Known() {
		return nil
	}
	type row struct {
		says string
		f    figure.Figure
	}
	rows := []row{{w.ChangeProfit(), c.Profit}, {w.ChangeWork(), c.Work}, {w.ChangeRate(), c.Rate}}
	return []Exhibit{{Title: w.Changed(c), Says: w.ChangeSays(c),
		Table: TableOf(w.ChangeCaption(c), rows,
			wordsIn(w.HeadChange(), func(r row) string { return r.says }),
			numbers(say.Bridge{Voice: a.Voice}.HeadMoney(), func(r row) say.Cell { return a.SumCell(r.f) }),
			counts(w.HeadJobs(), func(r row) int { return r.f.N }))}}
}

// findingExhibits list the facts most worth money, where all topics were asked
// for.
func (a *Author) findingExhibits() []Exhibit {
	told, w := a.f.Findings, say.Findings{Voice: a.Voice}
	if len(told) == 0 {
		return nil
	}
	type finding = findings.Finding
	return []Exhibit{{Title: w.Title(), Says: w.Says(a.f.AsOf),
		Table: TableOf(w.Caption(len(told)), told,
			ColumnOf[finding]{Head: w.HeadRank(), Cell: func(f finding) say.Cell { return say.Whole(f.Rank) }},
			wordsIn(w.HeadFact(), w.Sentence),
			numbers(w.HeadWorth(), func(f finding) say.Cell { return a.Cell(a.About(), f.Dollars) }),
			numbers(w.HeadReach(), func(f finding) say.Cell { return a.Cell(a.About(), figure.Figure{Value: f.Within(), OK: true}) }),
			numbers(w.HeadSure(), func(f finding) say.Cell { return w.SureCell(f.Sure) }))}}
}

func (a *Author) monthNotes(m *money.Month) []string {
	var notes []string
	w := say.Month{Voice: a.Voice}
	if hot, known := a.hotIn(m.Month); known > 0 {
		notes = append(notes, w.Dried(hot, known))
	}
	if len(a.f.Findings) == 0 && a.f.Found != nil {
		notes = append(notes, say.Findings{Voice: a.Voice}.Answer(nil, a.f.Found))
	}
	if said := (say.Bridge{Voice: a.Voice}).Diluted(&m.Earned); said != "" {
		notes = append(notes, said)
	}
	if r, after := m.Reserve, m.AfterReserve; r.Known() && after.Known() && r.Value > 0 {
		notes = append(notes, w.Reserve(r, after))
	}
	return append(notes, w.FewJobs())
}
