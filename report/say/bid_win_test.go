package say

import (
	"strings"
	"testing"

	"pourback/analysis/bid"
	"pourback/analysis/figure"
)

// What the marked bids say of a price, and that they say nothing where they are few.
func TestWhatAPriceMayWin(t *testing.T) {
	w := Bid{New("", "", "")}
	chance := figure.Figure{Value: 0.6, Low: 0.4, High: 0.8, Bounded: true, N: 30, OK: true}
	prices := []bid.WinPrice{{Price: 1200, Expected: 150, Chance: chance}, {Price: 1351, Expected: 210, Chance: chance, Own: true}}
	for want, n := range map[string]bid.Winning{
		"": {Chance: figure.Unknown(bid.TooFewEither{Least: 5}), Best: -1},
		"What this price may win is not known: too few to say: 4 won and 3 lost are marked; it takes 5 of each.":                                                                                             {Won: 4, Lost: 3, Chance: figure.Unknown(bid.TooFewEither{Won: 4, Lost: 3, Least: 5}), Best: -1},
		"From 16 won and 14 lost. Of the prices you have bid, about $1,350 leaves most on average: $210.\nThis moves nothing in the bid: its price is the one for your target margin.":                       {Won: 16, Lost: 14, Chance: chance, Prices: prices, Tells: true, Best: 1},
		"From 16 won and 14 lost. Too few to say that a lower price wins more: it could easily be luck.":                                                                                                     {Won: 16, Lost: 14, Chance: chance, Prices: prices, Best: -1},
		"What this price may win is not known: you have bid from 20% to 45% over cost, and this is outside.\nFrom 16 won and 14 lost. Too few to say that a lower price wins more: it could easily be luck.": {Won: 16, Lost: 14, Chance: figure.Unknown(bid.NeverTried{From: 0.2, To: 0.45}), Prices: prices, Best: -1},
	} {
		if got := strings.Join(w.WinningNotes(&n), "\n"); got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
	if got := w.OwnPrice("$1,350"); got != "$1,350, this bid" {
		t.Error(got)
	}
}

// How many marked bids were won, and how to mark them.
func TestBidsWon(t *testing.T) {
	w := Bids{New("", "", "")}
	share := figure.Figure{Value: 0.52, Low: 0.35, High: 0.68, Bounded: true, N: 23, OK: true}
	few := figure.Unknown(bid.TooFewMarked{N: 3, Least: 5})
	for want, n := range map[string]*bid.Wins{
		"Mark bids with `pourback bids --won ID` or `--lost ID`, and this page shows which prices win.":                                                       nil,
		"You won 2 of 3 marked bids. Too few to say at which prices. 1 other bid is not marked and counts in none of this.":                                   {Won: 2, Lost: 1, Open: 1, Share: few},
		"You won 12 of 23 marked bids: 52 in 100 (between 35 and 68).":                                                                                        {Won: 12, Lost: 11, Share: share, ByMarkup: make([]bid.WinBand, 3)},
		"You won 12 of 23 marked bids: 52 in 100 (between 35 and 68). Too few to say at which prices. 4 other bids are not marked and count in none of this.": {Won: 12, Lost: 11, Open: 4, Share: share},
	} {
		if got := strings.Join(w.Won(n), "\n"); got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
	if got := w.Markups(bid.WinBand{From: 0.2, To: 0.28}) + ", " + w.AreaPrices(bid.WinBand{From: 9.5, To: 11.25}); got != "20% to 28%, $9.50 to $11.25 per ft²" {
		t.Error(got)
	}
	if got := w.Reason(bid.TooFewMarked{N: 1, Least: 5}) + "; " + w.Why(bid.Voided); got != "too few to say: 1 bid is marked won or lost; it takes 5; marked void: it counts nowhere" {
		t.Error(got)
	}
}
