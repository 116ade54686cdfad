package page

import (
	"pourback/analysis"
	"pourback/analysis/money"
	"pourback/report/chart"
	"pourback/report/say"
)

// Letter is a month on one printed page, for somebody outside: what it kept and
// why, what changes next month, which risks are open, and what all of that
// rests on. It names no customer, site or person.
type Letter struct {
	Voice          *say.Voice
	Words          say.LetterWords
	Company, Title string
	Written        string
	Answer         string
	Months         *chart.Chart // the month among those before it
	Why            *Table       // from the margin in the bids to the one earned; nil where jobs lack a bid
	WhySays        string
	Changes, Risks []string
	RestsOn        []string
}

// mostChanges keeps a letter on its page.
const mostChanges = 3

// MonthLetter says a month in a letter.
func MonthLetter(f *analysis.Factors, opt Options) Letter {
	opt.WithSites = false
	a := NewAuthor(f, opt)
	w, month := say.Letter{Voice: a.Voice}, a.thisMonth()
	l := Letter{Voice: a.Voice, Words: w.Words(), Company: a.heading(), Title: w.Title(month.Title), Written: w.Written(f.AsOf), Answer: month.Answer}
	if month.Basis != "" {
		l.RestsOn = append(l.RestsOn, month.Basis)
	}
	if !a.empty() {
		l.RestsOn = append(l.RestsOn, w.RestsOn(f.Placements, f.Jobs, f.First, f.Last))
	}
	l.RestsOn = append(l.RestsOn, w.Actual(), a.reading())
	if at := f.Margin.At(a.month); at >= 0 {
		m := &f.Margin.Months[at]
		told := f.Margin.InFull(m.Earned, money.InMonth(m.Month))
		l.Why, l.WhySays = a.bridgeTable(say.Bridge{Voice: a.Voice}.CaptionOf(m.Month), &told), say.Bridge{Voice: a.Voice}.Says(&told)
		l.Months = a.monthBeside(at).Chart
	}
	l.Changes, l.Risks = a.changes(w), a.risks(w)
	return l
}

// changes are what the records say to do otherwise.
func (a *Author) changes(w say.Letter) (out []string) {
	if out = a.todo(mostChanges, worthDoing...); len(out) == 0 {
		return []string{say.Todo{Voice: a.Voice}.NoChange()}
	}
	return out
}

// risks are what may still cost money.
func (a *Author) risks(w say.Letter) (out []string) {
	if v := a.f.Visits; v != nil {
		out = append(out, a.OpenNow(&v.Callbacks), say.Warranty{Voice: a.Voice}.Answer(&v.Warranty))
	}
	if n := a.f.RecordsToCheck; n > 0 {
		out = append(out, w.ToCheck(n))
	}
	if n := len(movedBy(a.f.LeftOut, monthSlug)); n > 0 {
		out = append(out, w.LeftOut(n))
	}
	if len(out) == 0 {
		return []string{w.NoRisk()}
	}
	return out
}
