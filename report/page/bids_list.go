package page

import (
	"pourback/analysis/bid"
	"pourback/analysis/figure"
	"pourback/report/say"
)

// do is what to mark, and what the marks say.
func (a bidsAuthor) do(r *bid.Record) []string {
	unmarked := a.w.Unmarked(r)
	switch {
	case unmarked == "":
		return a.w.Won(r.Wins)
	case r.Wins == nil || r.Wins.Won+r.Wins.Lost == 0:
		return []string{unmarked}
	}
	return append([]string{unmarked}, a.w.Won(r.Wins)...)
}

// standing are the open bids, the oldest first, and those won, lost or begun.
func (a bidsAuthor) standing(r *bid.Record) (all []Exhibit) {
	w := a.w.Lists()
	if open := r.Standing(bid.StandsOpen); len(open) > 0 {
		all = append(all, Exhibit{Title: w.OpenTitle, InHand: true, Table: TableOf(w.OpenCaption, most(open, func(o bid.Outcome) int { return o.Days }),
			a.bidColumn(w.Bid), ColumnOf[bid.Outcome]{Head: w.OpenFor, Number: true, Cell: func(o bid.Outcome) say.Cell { return say.Valued(a.w.OpenFor(o.Days), float64(o.Days)) }},
			a.askedColumn(w.Asked), a.madeColumn(w.Made), a.jobColumn(w.Job),
			ColumnOf[bid.Outcome]{Head: w.Next, Cell: func(o bid.Outcome) say.Cell { return say.Cell{Text: a.w.Why(o.Why)} }})})
	}
	if done := r.Standing(bid.StandsWon, bid.StandsLost, bid.StandsBegun); len(done) > 0 {
		all = append(all, Exhibit{Title: w.DoneTitle, Table: TableOf(w.DoneCaption, newest(done),
			a.bidColumn(w.Bid), a.standsColumn(w.Stands), a.askedColumn(w.Asked), a.madeColumn(w.Made),
			ColumnOf[bid.Outcome]{Head: w.Said, Ahead: true, Cell: func(o bid.Outcome) say.Cell { return a.when(o) }},
			a.jobColumn(w.Job), ColumnOf[bid.Outcome]{Head: w.Next, Ahead: true, Cell: func(o bid.Outcome) say.Cell {
				if o.Why == "" {
					return say.Blank()
				}
				return say.Cell{Text: a.w.Why(o.Why)}
			}})})
	}
	return all
}

// gone are the bids that count nowhere, at the end.
func (a bidsAuthor) gone(r *bid.Record) []Exhibit {
	gone, w := r.Standing(bid.StandsReplaced, bid.StandsVoid), a.w.Lists()
	if len(gone) == 0 {
		return nil
	}
	return []Exhibit{{Title: w.GoneTitle, Table: TableOf(w.GoneCaption, newest(gone), a.bidColumn(w.Bid), a.standsColumn(w.Stands), a.askedColumn(w.Asked), a.madeColumn(w.Made))}}
}

func (a bidsAuthor) bidColumn(head string) ColumnOf[bid.Outcome] {
	return ColumnOf[bid.Outcome]{Head: head, Cell: func(o bid.Outcome) say.Cell {
		c := a.name(o)
		if o.Version > 1 {
			c.Text = a.w.NamedVersion(c.Text, o.Version)
		}
		return c
	}}
}

func (a bidsAuthor) standsColumn(head string) ColumnOf[bid.Outcome] {
	return ColumnOf[bid.Outcome]{Head: head, Cell: func(o bid.Outcome) say.Cell { return say.Cell{Text: a.w.Stands(&o)} }}
}

func (a bidsAuthor) askedColumn(head string) ColumnOf[bid.Outcome] {
	return ColumnOf[bid.Outcome]{Head: head, Number: true, Cell: func(o bid.Outcome) say.Cell { return a.MoneyFigure(figure.Figure{Value: o.Asked}, 0) }}
}

func (a bidsAuthor) madeColumn(head string) ColumnOf[bid.Outcome] {
	return ColumnOf[bid.Outcome]{Head: head, Cell: func(o bid.Outcome) say.Cell { return say.Dated(a.Day(o.MadeOn), o.MadeOn) }}
}

func (a bidsAuthor) jobColumn(head string) ColumnOf[bid.Outcome] {
	return ColumnOf[bid.Outcome]{Head: head, Ahead: true, Cell: func(o bid.Outcome) say.Cell {
		if o.JobNo == "" {
			return say.Blank()
		}
		return say.Word(o.JobNo)
	}}
}

// when is the day of a bid's mark.
func (a bidsAuthor) when(o bid.Outcome) say.Cell {
	if o.FateOn == 0 {
		return say.Blank()
	}
	return say.Dated(a.Day(o.FateOn), o.FateOn)
}
