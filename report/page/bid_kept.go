package page

import (
	"slices"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/report/say"
)

// KeptBid is a kept bid with all versions of it and what was said of them.
type KeptBid struct {
	Bid      *bid.Bid
	Is       bid.Outcome
	Versions []bid.Outcome // itself among them
	Log      []bid.Said
}

// KeptBidPage is a kept bid again as it was made, with its versions and what was said of
// it.
func KeptBidPage(k *KeptBid, opt Options) Page {
	opt.WithSites = true
	p := BidPage(k.Bid, opt)
	a := bidsAuthor{Author: NewAuthor(&analysis.Factors{}, opt), w: say.Bids{Voice: p.Voice}}
	p.Basis = a.w.KeptAs(&k.Is) + " " + p.Basis
	var story []Exhibit
	w := a.w.Story()
	if len(k.Versions) > 1 {
		story = append(story, Exhibit{Title: w.VersionsTitle, Table: TableOf(w.VersionsCaption, most(k.Versions, func(o bid.Outcome) int { return o.Version }),
			ColumnOf[bid.Outcome]{Head: w.Version, Number: true, Cell: func(o bid.Outcome) say.Cell { return say.Whole(o.Version) }},
			a.bidColumn(w.Bid), a.madeColumn(w.Made), a.askedColumn(w.Asked), a.standsColumn(w.Stands))})
	}
	if len(k.Log) > 0 {
		story = append(story, Exhibit{Title: w.LogTitle, Table: TableOf(w.LogCaption, k.Log,
			ColumnOf[bid.Said]{Head: w.On, Cell: func(s bid.Said) say.Cell { return say.Dated(a.Day(s.On), s.On) }},
			ColumnOf[bid.Said]{Head: w.Said, Cell: func(s bid.Said) say.Cell { return say.Cell{Text: a.w.SaidOf(s)} }})})
	}
	p.Exhibits = slices.Concat(p.Exhibits, story)
	return p
}

// ComparedPage is two bids side by side.
func ComparedPage(c *bid.Comparison, opt Options) Page {
	a := newBidAuthor(c.One.Bid, opt)
	w := say.Compared{Voice: a.Voice}
	h := w.Heads(c)
	rows := a.compared(w, c, c.Rows)
	rows.Below = []string{h.Below}
	p := Page{Slug: bidSlug, Title: h.Title, Answer: w.Answer(c), Exhibits: append([]Exhibit{{Title: h.RowsTitle, InHand: true, Table: rows}}, a.changed(w, c)...)}
	return finished(a.Voice, p)
}

// RevisedPage is what a bid changed against the version before it: what differs alone.
func RevisedPage(c *bid.Comparison, opt Options) Page {
	a := newBidAuthor(c.Other.Bid, opt)
	w := say.Compared{Voice: a.Voice}
	p := Page{Slug: bidSlug, Title: w.ChangesTitle(c), Answer: w.Revised(c)}
	differ := slices.DeleteFunc(slices.Clone(c.Rows), func(r bid.Compared) bool { return !r.Differs })
	if len(differ) > 0 {
		p.Exhibits = append(p.Exhibits, Exhibit{Title: w.Heads(c).RowsTitle, InHand: true, Table: a.compared(w, c, differ)})
	}
	p.Exhibits = append(p.Exhibits, a.changed(w, c)...)
	return finished(a.Voice, p)
}

func (a *bidAuthor) compared(w say.Compared, c *bid.Comparison, rows []bid.Compared) *Table {
	h := w.Heads(c)
	amount := func(head string, more bool, of func(bid.Compared) float64) ColumnOf[bid.Compared] {
		return ColumnOf[bid.Compared]{Head: head, Number: true, Cell: func(r bid.Compared) say.Cell {
			if more && !r.Differs {
				return say.Blank()
			}
			return say.Valued(w.Amount(r.Unit, of(r), more), of(r))
		}}
	}
	return TableOf(h.Caption, rows,
		ColumnOf[bid.Compared]{Head: h.What, Cell: func(r bid.Compared) say.Cell {
			if r.Differs {
				return say.Cell{Text: w.Mark(w.What(r))}
			}
			return say.Cell{Text: w.What(r)}
		}},
		amount(w.Column(c.One), false, func(r bid.Compared) float64 { return r.One }), amount(w.Column(c.Other), false, func(r bid.Compared) float64 { return r.Other }),
		amount(h.More, true, func(r bid.Compared) float64 { return r.Other - r.One }))
}

// changed are what was entered otherwise, and the prices and assumptions that differ.
func (a *bidAuthor) changed(w say.Compared, c *bid.Comparison) (all []Exhibit) {
	h := w.Heads(c)
	if len(c.Spec) > 0 {
		value := func(head string, of func(bid.SpecChange) string) ColumnOf[bid.SpecChange] {
			return ColumnOf[bid.SpecChange]{Head: head, Cell: func(s bid.SpecChange) say.Cell { return say.Cell{Text: w.Entered(s.Key, of(s))} }}
		}
		all = append(all, Exhibit{Title: h.SpecTitle, Table: TableOf(h.SpecCaption, c.Spec,
			ColumnOf[bid.SpecChange]{Head: h.Entered, Cell: func(s bid.SpecChange) say.Cell { return say.Cell{Text: w.Key(s)} }},
			value(w.Column(c.One), func(s bid.SpecChange) string { return s.One }), value(w.Column(c.Other), func(s bid.SpecChange) string { return s.Other }))})
	}
	if len(c.Settings) > 0 {
		value := func(head string, of func(bid.SettingChange) bid.Setting) ColumnOf[bid.SettingChange] {
			return ColumnOf[bid.SettingChange]{Head: head, Number: true, Cell: func(s bid.SettingChange) say.Cell { return say.Cell{Text: a.w.SettingValue(of(s))} }}
		}
		all = append(all, Exhibit{Title: h.SettingsTitle, Table: TableOf(h.SettingsCaption, c.Settings,
			ColumnOf[bid.SettingChange]{Head: h.Goes, Cell: func(s bid.SettingChange) say.Cell { return say.Cell{Text: a.w.SettingName(s.One)} }},
			value(w.Column(c.One), func(s bid.SettingChange) bid.Setting { return s.One }), value(w.Column(c.Other), func(s bid.SettingChange) bid.Setting { return s.Other }),
			from(a.w, func(s bid.SettingChange) bid.Basis { return s.Other.Basis }))})
	}
	return all
}

// ExplainedPage shows where each number of a bid came from: in each part what is worked
// out, and below it the numbers that go into that, each once.
func ExplainedPage(b *bid.Bid, opt Options) Page {
	a := newBidAuthor(b, opt)
	w := say.Explained{Bid: a.w}
	p := Page{Slug: bidSlug, Title: w.Title(b), Answer: w.Answer(b), Basis: a.w.Basis(b), Notes: append(w.Notes(b), a.w.Notes(b)...)}
	all := bid.Explain(b)
	for _, section := range bid.Sections {
		rows := slices.DeleteFunc(slices.Clone(all), func(k bid.Working) bool { return k.Section != section })
		if len(rows) > 0 {
			p.Exhibits = append(p.Exhibits, a.workings(w, section, rows), a.inputs(w, section, rows))
		}
	}
	return finished(a.Voice, p)
}

// workings are the figures of a part with how each is worked out.
func (a *bidAuthor) workings(w say.Explained, section bid.Section, rows []bid.Working) Exhibit {
	h := w.Heads(section)
	text := func(head string, number bool, of func(*bid.Working) string) ColumnOf[bid.Working] {
		return ColumnOf[bid.Working]{Head: head, Number: number, Cell: func(k bid.Working) say.Cell { return say.Cell{Text: of(&k)} }}
	}
	return Exhibit{Title: w.Section(section), InHand: true,
		Table: TableOf(h.Caption, rows, text(h.Figure, false, w.Figure), text(h.Comes, true, w.Comes), text(h.How, false, w.How))}
}

// inputs are the numbers that go into the figures of a part, with what each stands on.
func (a *bidAuthor) inputs(w say.Explained, section bid.Section, rows []bid.Working) Exhibit {
	type line struct{ name, value, from string }
	h, lines := w.Heads(section), []line{}
	for _, in := range bid.Inputs(rows) {
		if l := (line{w.Input(in), w.Value(in), a.w.From(in.Basis).Text}); !slices.Contains(lines, l) {
			lines = append(lines, l)
		}
	}
	text := func(head string, number bool, of func(line) string) ColumnOf[line] {
		return ColumnOf[line]{Head: head, Number: number, Cell: func(l line) say.Cell { return say.Cell{Text: of(l)} }}
	}
	return Exhibit{Title: w.GoesIn(section), InHand: true, Table: TableOf(h.InputCaption, lines,
		text(h.Input, false, func(l line) string { return l.name }), text(h.Number, true, func(l line) string { return l.value }), text(h.From, false, func(l line) string { return l.from }))}
}
