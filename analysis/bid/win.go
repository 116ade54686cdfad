package bid

import (
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/regress"
)

// Fate is what became of a kept bid, as the owner has said.
type Fate string

// What may become of a bid.
const (
	Open Fate = "" // nobody has said
	Won  Fate = "won"
	Lost Fate = "lost"
	Void Fate = "void" // withdrawn, or made by mistake: it counts nowhere
)

// Wins are the bids that were marked won or lost: how many were won, and at which
// prices.
type Wins struct {
	Won, Lost, Open int
	Share           figure.Figure // won of those marked
	ByMarkup        []WinBand     // price over expected cost, less 1
	ByPrice         []WinBand     // price by the ft²

	offers []offer
}

// WinBand is the share won of the bids from one price to another.
type WinBand struct {
	From, To float64 // of the bids in it
	N        int
	Share    figure.Figure
}

// offer is one bid marked won or lost.
type offer struct {
	markup, perSqft float64
	won             bool
}

// leastOfBand is how many bids a band has, leastEither how many have to be won and
// how many lost before a price says anything of the chance (a covariate to five
// events, as everywhere).
const (
	leastOfBand = figure.LeastForRate
	leastEither = 5
	mostBands   = 3
)

// WinsOf counts the marked bids, the latest of each job.
func WinsOf(kept []Kept) *Wins {
	w := &Wins{}
	last, later := lastOfJobs(kept), laterVersions(kept)
	for i := range kept {
		k := &kept[i]
		cost, price := k.Bid.Cost.Total.Mean, k.Bid.Price
		switch {
		case k.Fate == Void || later[k.ID] != 0 || k.job() != "" && last[k.job()] != k:
		case k.Fate == Open:
			w.Open++
		case cost > 0 && price.Price > 0:
			won := k.Fate == Won
			w.offers = append(w.offers, offer{price.Price/cost - 1, price.PerSqft, won})
			if won {
				w.Won++
			} else {
				w.Lost++
			}
		}
	}
	w.Share = shareWon(w.offers)
	w.ByMarkup = winBands(w.offers, func(o offer) float64 { return o.markup })
	w.ByPrice = winBands(w.offers, func(o offer) float64 { return o.perSqft })
	return w
}

func shareWon(offers []offer) figure.Figure {
	n, won := len(offers), 0
	if n < leastOfBand {
		return figure.Unknown(TooFewMarked{N: n, Least: leastOfBand})
	}
	for _, o := range offers {
		if o.won {
			won++
		}
	}
	return figure.Estimated(interval.Wilson(won, n, heldLevel))
}

// winBands are up to three bands of as many bids each; none where one would be too
// small.
func winBands(offers []offer, of func(offer) float64) []WinBand {
	sorted := slices.Clone(offers)
	slices.SortStableFunc(sorted, func(a, b offer) int {
		switch {
		case of(a) < of(b):
			return -1
		case of(a) > of(b):
			return 1
		}
		return 0
	})
	bands := min(mostBands, len(sorted)/leastOfBand)
	if bands < 2 || of(sorted[0]) == of(sorted[len(sorted)-1]) {
		return []WinBand{}
	}
	out := make([]WinBand, bands)
	for k := range bands {
		part := sorted[k*len(sorted)/bands : (k+1)*len(sorted)/bands]
		out[k] = WinBand{of(part[0]), of(part[len(part)-1]), len(part), shareWon(part)}
	}
	return out
}

// Winning is what the marked bids say of a bid's price. Nothing of it moves the bid.
type Winning struct {
	Won    int           `json:"won"`
	Lost   int           `json:"lost"`
	Chance figure.Figure `json:"chance"`      // at the bid's own price, or why it is not known
	Tells  bool          `json:"price_tells"` // that bids win less at a higher price is more than luck
	Prices []WinPrice    `json:"prices"`      // those of the bids before it, with its own among them
	Best   int           `json:"best"`        // place of the highest expected margin among them; -1 where the price does not tell
}

// WinPrice is a price with the margin to expect of it: what it leaves over the
// expected cost, times the chance to win at it.
type WinPrice struct {
	Price    float64       `json:"price"`
	Markup   float64       `json:"markup"`
	Margin   float64       `json:"margin"`
	Chance   figure.Figure `json:"chance"`
	Expected float64       `json:"expected_margin"`
	Own      bool          `json:"own"` // the bid's price
}

// For is what the marked bids say of a bid, by a logistic regression of winning on
// the logarithm of price over expected cost (Firth 1993), its range by profile
// likelihood. It says nothing of prices above or below all that were tried.
func (w *Wins) For(b *Bid, level float64) Winning {
	out := Winning{Won: w.Won, Lost: w.Lost, Prices: []WinPrice{}, Best: -1}
	cost := b.Cost.Total.Mean
	if min(w.Won, w.Lost) < leastEither || !(cost > 0 && b.Price.Price > 0) {
		out.Chance = figure.Unknown(TooFewEither{Won: w.Won, Lost: w.Lost, Least: leastEither})
		return out
	}
	own := b.Price.Price/cost - 1
	markups := w.tried()
	least, most := markups[0], markups[len(markups)-1]
	if own < least || own > most {
		out.Chance = figure.Unknown(NeverTried{From: least, To: most})
	} else {
		markups = append(markups, own)
	}
	slices.Sort(markups)
	for _, m := range slices.Compact(markups) {
		chance, slope, err := w.chance(m, level)
		if err != nil {
			return Winning{Won: w.Won, Lost: w.Lost, Chance: figure.Unknown(figure.ReasonOf(err)), Prices: []WinPrice{}, Best: -1}
		}
		p := WinPrice{Price: cost * (1 + m), Markup: m, Margin: cost * m, Chance: chance, Expected: cost * m * chance.Value, Own: m == own}
		out.Tells = slope < 0
		if out.Prices = append(out.Prices, p); p.Own {
			out.Chance = chance
		}
	}
	for i, p := range out.Prices {
		if out.Tells && (out.Best < 0 || p.Expected > out.Prices[out.Best].Expected) {
			out.Best = i
		}
	}
	return out
}

// tried are five points of the markups that were bid, least and most among them.
func (w *Wins) tried() []float64 {
	markups := make([]float64, len(w.offers))
	for i, o := range w.offers {
		markups[i] = o.markup
	}
	at, err := interval.Quantiles(markups, 0, .25, .5, .75, 1)
	if err != nil {
		return []float64{math.NaN()}
	}
	return at
}

// chance is that of winning at a markup, with the upper end of the slope's interval:
// above 0 a higher price may win as often. The covariate is centred there, so that
// the intercept is the chance's logit.
func (w *Wins) chance(markup, level float64) (f figure.Figure, slope float64, err error) {
	x, won := make([]float64, len(w.offers)), make([]float64, len(w.offers))
	for i, o := range w.offers {
		if x[i] = math.Log((1 + o.markup) / (1 + markup)); o.won {
			won[i] = 1
		}
	}
	fit, err := regress.Firth(regress.Design{regress.Ones(len(x)), x}, won, nil)
	if err != nil {
		return figure.Figure{}, 0, err
	}
	at, err := fit.Profile(0, level)
	if err != nil {
		return figure.Figure{}, 0, err
	}
	falls, err := fit.Profile(1, level)
	p := func(logit float64) float64 { return 1 / (1 + math.Exp(-logit)) }
	return figure.Figure{Value: p(at.Value), Low: p(at.Low), High: p(at.High), Level: level, N: len(x), Method: "Firth logistic on log(price/cost), profile limits", Bounded: true, OK: true}, falls.High, err
}
