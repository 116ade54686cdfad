package say

import (
	"math"

	"pourback/analysis/bid"
)

// BidWinning names what the table on the price that wins holds.
type BidWinning struct{ Title, Caption, Price, Markup, Margin, Chance, Expected string }

// Winning says what the table on the price that wins is of.
func (w Bid) Winning() BidWinning {
	return BidWinning{Title: w.text("The price that wins"), Caption: w.text("What each price leaves, times the chance to win at it"), Price: w.text("Price"), Markup: w.text("Over cost"),
		Margin: w.text("Margin if won"), Chance: w.text("Chance to win"), Expected: w.text("Margin to expect")}
}

// WinningNotes say how far the marked bids tell, "" where none is marked.
func (w Bid) WinningNotes(n *bid.Winning) (said []string) {
	if n.Won+n.Lost == 0 {
		return nil
	}
	if !n.Chance.Known() {
		said = append(said, w.say("What this price may win is not known: {why}.", with{"why": w.Reason(n.Chance.Why)}))
	}
	if len(n.Prices) == 0 {
		return said
	}
	marked := w.say("From {won} won and {lost} lost.", with{"won": Count(n.Won), "lost": Count(n.Lost)})
	if n.Best < 0 {
		return append(said, marked+" "+w.text("Too few to say that a lower price wins more: it could easily be luck."))
	}
	best := n.Prices[n.Best]
	said = append(said, marked+" "+w.say("Of the prices you have bid, about {price} leaves most on average: {margin}.",
		with{"price": w.Asked(math.Round(best.Price/25) * 25), "margin": w.Exactly(best.Expected)}))
	return append(said, w.text("This moves nothing in the bid: its price is the one for your target margin."))
}

// OwnPrice marks the bid's own price among others.
func (w Bid) OwnPrice(price string) string { return w.say("{price}, this bid", with{"price": price}) }

// winReason says why a chance to win is not known.
func (v *Voice) winReason(r any) (string, bool) {
	switch r := r.(type) {
	case bid.TooFewMarked:
		return v.say("too few to say: {bids}; it takes {least}", with{"bids": v.plural(r.N, "1 bid is marked won or lost|{n} bids are marked won or lost", nil), "least": Count(r.Least)}), true
	case bid.TooFewEither:
		return v.say("too few to say: {won} won and {lost} lost are marked; it takes {least} of each", with{"won": Count(r.Won), "lost": Count(r.Lost), "least": Count(r.Least)}), true
	case bid.NeverTried:
		return v.say("you have bid from {from} to {to} over cost, and this is outside", with{"from": v.Percent(r.From), "to": v.Percent(r.To)}), true
	}
	return "", false
}

// BidsWon names what the tables on won bids hold.
type BidsWon struct{ Title, Markup, Price, From, Bids, Won string }

// WonHeads are the title, captions and heads of the tables on won bids.
func (w Bids) WonHeads() BidsWon {
	return BidsWon{Title: w.text("Which prices won"), Markup: w.text("Won by price over cost"), Price: w.text("Won by price for the area"), From: w.text("Bids from … to"), Bids: w.text("Bids"), Won: w.text("Won")}
}

// Won says how many of the marked bids were won, and how to mark them.
func (w Bids) Won(n *bid.Wins) []string {
	if n == nil || n.Won+n.Lost == 0 {
		if w.OnSite {
			return []string{w.text("Mark bids won or lost on their own pages, and this page shows which prices win.")}
		}
		return []string{w.text("Mark bids with `pourback bids --won ID` or `--lost ID`, and this page shows which prices win.")}
	}
	marked := with{"won": Count(n.Won), "all": Count(n.Won + n.Lost)}
	said := w.say("You won {won} of {all} marked bids.", marked)
	if n.Share.Known() {
		said = w.say("You won {won} of {all} marked bids: {share}.", with{"won": marked["won"], "all": marked["all"], "share": w.Long(InHundred, n.Share)})
	}
	if len(n.ByMarkup) == 0 {
		said += " " + w.text("Too few to say at which prices.")
	}
	if n.Open > 0 {
		said += " " + w.plural(n.Open, "1 other bid is not marked and counts in none of this.|{n} other bids are not marked and count in none of this.", nil)
	}
	return []string{said}
}

// Markups and AreaPrices are the ends of a band of bids.
func (w Bids) Markups(b bid.WinBand) string { return w.to(w.Percent(b.From), w.Percent(b.To)) }

func (w Bids) AreaPrices(b bid.WinBand) string {
	return w.say("{from} to {to} per {unit}", with{"from": w.Amount(b.From/w.Units.Area.Factor, 2), "to": w.Amount(b.To/w.Units.Area.Factor, 2), "unit": Bid(w).areaUnit()})
}
