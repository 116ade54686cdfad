package site

import (
	"pourback/analysis/bid"
	"pourback/report/out"
	"pourback/report/say"
)

// bidResult is what a bid comes to, as the form's page shows it.
type bidResult struct {
	Bar      string // in a line
	Tiles    []bidTile
	Missing  string // lines of cost that are not in it
	Drawings []out.SiteDrawing
	Lines    []bidLine
	Tried    []triedView // other ways to do it; none while somebody types
}

type bidTile struct{ Title, Big, Says string }

type bidLine struct{ Name, Amount string }

// triedView is another way to do the job.
type triedView struct{ Way, Ask, More, What string }

// result puts a bid into words.
func (v *bidView) result() *bidResult {
	w, b, a := v.ask.Say, v.made, v.ask
	in := say.Bid(w)
	c := b.Cost
	r := &bidResult{Bar: w.BidBar(b), Drawings: out.BidDrawings(b, a.bidOptions())}
	r.Tiles = []bidTile{
		{w.AskTile(), w.Asked(b.Price.Asked), w.KeepsShare(b)},
		{w.OrderTile(), w.OrderSaid(b), w.OverDrawing(b)},
		{w.HoursTile(), w.Hours(b.Labor.Mean.Figure.Value), w.PourOn(b)},
		{w.CostTile(), w.Amount(c.Total.Mean, 0), in.Range(c.Total.P10, c.Total.P90)},
	}
	for _, item := range c.Items {
		r.Lines = append(r.Lines, bidLine{in.Item(item), w.Amount(item.Cost.Mean, 0)})
	}
	r.Missing = w.NotPriced(&c)
	if v.WithOptions {
		r.Tried = v.tried()
	}
	return r
}

// tried are other ways to do the job, after the way that is asked for.
func (v *bidView) tried() []triedView {
	w := v.ask.Say
	tried := []triedView{{Way: w.OptionsAsIs(), Ask: w.Asked(v.made.Price.Asked)}}
	for _, t := range v.ask.Company.bids.tried(v.ask.Context(), v.known, v.made) {
		ask := t.By.Row(bid.CompareAsked)
		tried = append(tried, triedView{w.Option(t.Option), w.Asked(t.Bid.Price.Asked), say.Compared(w).Amount(ask.Unit, ask.Other-ask.One, true), w.Otherwise(t.By)})
	}
	return tried
}
