package sheet

import (
	"math"
	"sort"

	"pourback/ingest/record"
)

// What stands below a heading speaks for or against each column. Every function
// here returns points: as many as it would take of the heading's own words to
// say the same. Nothing written at all is zero.

type plausibility = func(*evidence) float64

// never is for columns that a heading alone can name.
func never(*evidence) float64 { return -6 }

func unseen(e *evidence) float64 { return 0 }

// readable turns the share of cells that can be read into points: nine in ten
// are nothing special, half of them unread is ruin.
func readable(share float64) float64 {
	return math.Max(-12, math.Min(1, 14*(share-0.88)))
}

// density is how usual values are beside the usual value, each on the scale of
// ratios; 0 where the column is as likely as any other.
func density(values []float64, usual, spread float64) float64 {
	if len(values) == 0 {
		return 0
	}
	sum := 0.0
	for _, v := range values {
		d := -4.0
		if v > 0 {
			z := math.Log(v/usual) / spread
			d = math.Max(-4, 1.9-math.Log(spread)-z*z/2)
		}
		sum += math.Min(d, 2)
	}
	return sum / float64(len(values))
}

// unitShare are the cells that bear a unit of the column's kind, and those that
// bear one of another.
func (e *evidence) unitShare(u *record.Unit) (own, other float64) {
	mine, foreign := 0, 0
	for text, n := range e.unitTexts {
		switch {
		case u != nil && u.Knows(text):
			mine += n
		case knownUnit(text):
			foreign += n
		}
	}
	return e.share(mine), e.share(foreign)
}

func numeric(u *record.Unit, usual, spread float64) plausibility {
	return func(e *evidence) float64 {
		read := e.numbers
		if u == record.SquareFoot {
			read += e.sizes
		}
		if u == record.Inch {
			read = max(read, e.numbers+e.edges)
		}
		own, other := e.unitShare(u)
		return readable(e.share(read)) + 1.5*density(e.scaled, usual, spread) + 3*own - 9*other - 8*e.share(e.money) - 6*e.share(e.dates) - 3*e.share(e.people)
	}
}

// temperature is usual on a scale of degrees, not of ratios.
func temperature(u *record.Unit) plausibility {
	return func(e *evidence) float64 {
		in := 0.0
		for _, v := range e.scaled {
			switch {
			case v >= 35 && v <= 108:
				in += 1.5
			case v >= 5 && v <= 122:
			default:
				in -= 5
			}
		}
		if n := len(e.scaled); n > 0 {
			in /= float64(n)
		}
		own, other := e.unitShare(u)
		return readable(e.share(e.numbers+e.pairs)) + 1.5*in + 4*own - 9*other - 8*e.share(e.money) - 6*e.share(e.dates)
	}
}

func leftover(e *evidence) float64 {
	in := 0.0
	for _, v := range e.scaled {
		switch {
		case v == 0, v > 0 && v <= 1.1:
			in += 2
		case v > 0 && v <= 3:
			in += 0.5
		default:
			in -= 4
		}
	}
	if n := len(e.scaled); n > 0 {
		in /= float64(n)
	}
	own, other := e.unitShare(record.CubicYard)
	return readable(e.share(e.numbers+e.nos)) + 1.5*in + 3*own - 9*other - 8*e.share(e.money)
}

func headcount(e *evidence) float64 {
	in := 0.0
	for _, v := range e.scaled {
		switch {
		case v == math.Trunc(v) && v >= 2 && v <= 8:
			in += 2
		case v == math.Trunc(v) && v >= 0 && v <= 15:
		default:
			in -= 4
		}
	}
	if n := len(e.scaled); n > 0 {
		in /= float64(n)
	}
	_, other := e.unitShare(nil)
	return readable(e.share(e.numbers)) + 1.5*in - 6*other - 8*e.share(e.money)
}

func crewHours(e *evidence) float64 {
	values := e.scaled
	own, other := e.unitShare(record.Hour)
	return readable(e.share(e.numbers+e.sizes+e.people)) + 1.5*density(values, 20, 0.75) + 3*own + 6*e.share(e.people) + 2*e.share(e.sizes) - 9*other - 8*e.share(e.money)
}

func money(usual, spread float64) plausibility {
	return func(e *evidence) float64 {
		_, other := e.unitShare(nil)
		if e.counting() {
			return -8
		}
		return readable(e.share(e.numbers+e.changed)) + 1.5*density(e.scaled, usual, spread) + 3*e.share(e.money) - 9*other - 6*e.share(e.dates)
	}
}

// counting says whether numbers go up from row to row as those of papers do.
func (e *evidence) counting() bool {
	return e.ordered > 8 && e.unordered*20 < e.ordered && e.whole == e.numbers && e.money == 0 && float64(e.filled) > 0.8*float64(e.cells+e.blank)
}

// sparseMoney stands in few rows.
func sparseMoney(usual, spread float64) plausibility {
	m := money(usual, spread)
	return func(e *evidence) float64 { return m(e) + sparse(e) }
}

// sparse favors columns that are empty in most rows.
func sparse(e *evidence) float64 {
	full := float64(e.filled-e.nos) / float64(max(e.cells+e.blank, 1))
	return 2 - 4*full
}

// changes are of few rows, and far less than the job: a column that is full of
// amounts is none.
func changes(e *evidence) float64 {
	points := sparseMoney(450, 1)(e)
	some := len(e.sorted) - sort.SearchFloat64s(e.sorted, 1)
	if some*10 > 6*(e.cells+e.blank) && e.filled > fewest {
		points -= 9
	}
	return points
}

// mixCells are the names of mixes; bare strengths are none.
func mixCells(e *evidence) float64 {
	if len(e.sorted) > 0 && e.share(e.numbers) > 0.7 && median(e.sorted) >= 1500 && median(e.sorted) <= 8000 {
		return -8
	}
	return 0
}

func callbackMoney(e *evidence) float64 { return sparseMoney(250, 0.8)(e) }

func pourDate(e *evidence) float64 {
	full := float64(e.filled) / float64(max(e.cells+e.blank, 1))
	return 16*(e.share(e.dates)-0.6) - 4*(1-full)
}

func callbackCells(e *evidence) float64 {
	read := e.share(e.dates + e.inText + e.flags + e.finds)
	return math.Max(-10, 10*(read-0.7)) + sparse(e) + 2*e.share(e.inText) + 2*e.share(e.nos) - 3*e.share(e.money)
}

func closing(e *evidence) float64 {
	return math.Max(-8, 8*(e.share(e.dates+e.flags)-0.7))
}

// vocabulary3 is for columns of words that are known.
func vocabulary3(share func(*profile) float64) plausibility {
	return func(e *evidence) float64 {
		return 13*(share(e.profile)-0.45) - 6*e.share(e.dates) - 6*e.share(e.money)
	}
}

// kindCells is for the kinds of callbacks: words, or a yes under a heading that
// names the kind (Crack?), as long as the day stands elsewhere.
func kindCells(e *evidence) float64 {
	return math.Max(vocabulary3((*profile).findShare)(e), 3*(e.share(e.flags)-0.7))
}

func (p *profile) useShare() float64   { return p.share(p.uses) }
func (p *profile) steelShare() float64 { return p.share(min(p.filled, p.steels+p.noneWords)) }
func (p *profile) findShare() float64  { return p.share(p.finds) }
func (p *profile) taskShare() float64  { return p.share(p.tasks) }
func (p *profile) causeShare() float64 { return p.share(p.causes) }

func methodCells(e *evidence) float64 {
	words := e.share(e.methods)
	flags := e.share(e.flags)
	return 13*(math.Max(words, 0.7*flags)-0.45) - 6*e.share(e.money) - 3*e.share(e.numbers)
}

func itemCells(e *evidence) float64 {
	return 9*(e.share(e.items)-0.3) - 6*e.share(e.dates) - 6*e.share(e.money)
}

func sizeCells(e *evidence) float64 {
	return 12*(e.share(e.sizes+e.solids)-0.5) + 3*e.share(e.solids) - 5*e.share(e.people) - 4*e.share(e.jointed)
}

func jointCells(e *evidence) float64 {
	values := e.scaled
	_, other := e.unitShare(record.Foot)
	read := e.share(min(e.filled, e.numbers+e.sizes+e.jointed))
	in := 1.5 * density(values, 8, 0.4)
	return readable(read) + in*e.share(e.numbers) + 2*e.share(e.sizes) + 5*e.share(e.jointed) - 4*e.share(e.solids) - 9*other - 8*e.share(e.money) - 6*e.share(e.dates)
}

func cutCells(e *evidence) float64 {
	return 8*(e.share(e.joints)-0.5) - 8*e.share(e.jointed+e.numbers+e.sizes)
}

// wordsOfTheTrade are cells that say what another column says.
func (e *evidence) wordsOfTheTrade() float64 {
	return math.Max(e.share(e.uses), math.Max(e.share(e.methods), e.share(e.steels)))
}

func crewName(e *evidence) float64 {
	few := 0.0
	if e.filled > 8 {
		few = 3 - 10*math.Max(0, float64(e.distinct)/float64(e.filled)-0.15)
	}
	return 8*(e.share(e.letters)-0.7) + math.Max(-3, few) - 9*e.wordsOfTheTrade() - 5*e.share(e.flags) - 4*e.share(e.streets) - 6*e.share(e.inText+e.dates)
}

func outfit(e *evidence) float64 {
	many := 0.0
	if e.distinct > 10 && e.distinct*5 > e.filled {
		many = -4 // nobody hires so many pumps
	}
	return many + 3*(e.share(e.letters)-0.6) + 0.5*sparse(e) - 6*e.share(e.numbers) - 6*e.wordsOfTheTrade() - 6*e.share(e.flags) - 6*e.share(e.dates)
}

func names(e *evidence) float64 {
	many := 0.0
	if e.filled > 8 {
		many = math.Min(1.5, 6*float64(e.distinct)/float64(e.filled)-1)
	}
	short := 0.0
	if e.letters > 0 && float64(e.length)/float64(e.letters) > 28 {
		short = -3
	}
	return 5*(e.share(e.letters)-0.8) + many + short - 9*e.wordsOfTheTrade() - 5*e.share(e.streets) - 5*e.share(e.flags) - 6*e.share(e.finds+e.dates)
}

func streets(e *evidence) float64 {
	return 8*(e.share(e.streets)-0.4) + 2*e.share(e.letters) - 8*e.wordsOfTheTrade() - 6*e.share(e.dates) - 6*e.share(e.money)
}

func notes(e *evidence) float64 {
	long := 0.0
	if e.letters > 0 {
		long = math.Min(3, float64(e.length)/float64(e.letters)/8-0.5)
	}
	return 4*(e.share(e.letters)-0.8) + long + 0.5*sparse(e) - 6*e.wordsOfTheTrade() - 3*e.share(e.streets)
}

// uniqueID is a number that no two rows share, or hardly any.
func uniqueID(e *evidence) float64 {
	if e.filled == 0 {
		return -6
	}
	unique := float64(e.distinct) / float64(e.filled)
	rising := float64(e.ordered) / float64(max(e.ordered+e.unordered, 1))
	full := float64(e.filled) / float64(max(e.cells+e.blank, 1))
	return repeatedID(e) + 20*(math.Max(unique, 0.7)-0.9) + 4*(rising-0.6) - 5*(1-full)
}

// repeatedID is a number by which rows name a job.
func repeatedID(e *evidence) float64 {
	fractions := e.share(e.broken)
	return 8*(e.share(e.ids)-0.7) - 9*fractions - 6*e.share(e.money) - 8*e.share(e.dates) - 3*e.share(e.streets)
}

func clocks(e *evidence) float64 { return 10 * (e.share(e.clocks+e.dates) - 0.6) }

// flagCells are answers of yes or no.
func flagCells(e *evidence) float64 { return math.Max(-8, 8*(e.share(e.flags)-0.7)) }
