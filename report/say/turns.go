package say

import (
	"pourback/analysis/concrete"
	"pourback/analysis/visits"
	"pourback/analysis/work"
)

// What stands beside what would change an answer, page by page.

// TurnsSay says how the table of what would make an order another one is made.
func (w Waste) TurnsSay(o *concrete.Overage) string {
	said := w.text("The order is figured anew with each number at both ends of what it could be.")
	for _, k := range o.First {
		for _, l := range o.Groups[k].TurnedBy {
			if l.Within {
				return said
			}
		}
	}
	return w.sentences(said, w.text("Nothing within these ranges turns it."))
}

func (w Waste) TurnsCaption() string { return w.text("What would make it another order") }
func (w Waste) TurnsHead() string {
	return w.say("Order then, in {unit}", with{"unit": w.volume()})
}

// TurnsAxis is what is drawn of it.
func (w Waste) TurnsAxis() string {
	return w.say("more or less to order than now, {unit}", with{"unit": w.volume()})
}

// TurnsSay says what calling the outfit with fewest clogs saves, and where that
// turns.
func (p Pump) TurnsSay(w *work.Pump) string {
	if len(w.TurnedBy) == 0 {
		return ""
	}
	l := w.TurnedBy[0]
	said := p.say("{better} instead of {worse} saves about {gain} of waiting on {yards} pumped ({range}). Pay no more than that for it.",
		with{"better": p.Named(w.Rivals.Better), "worse": p.Named(w.Rivals.Worse), "gain": p.Dollars(w.Rivals.Saves), "yards": p.hundredYards(), "range": p.UpTo(min(l.AtLow, l.AtHigh), max(l.AtLow, l.AtHigh))})
	return p.sentences(said, Levers(p).Say(w.TurnedBy))
}

// hundredYards is the volume that outfits are compared over: 100 yd³, 76 m³.
func (p Pump) hundredYards() string { return p.pumped(100) }

func (p Pump) TurnsCaption(r work.Rivals) string {
	return p.say("What turns {better} against {worse}", with{"better": p.Named(r.Better), "worse": p.Named(r.Worse)})
}
func (p Pump) TurnsHead() string { return p.text("Saved then") }

// TurnsAxis is what is drawn of it.
func (p Pump) TurnsAxis(r work.Rivals) string {
	return p.say("saved by {better} on {yards}, {currency}", with{"better": Clean(r.Better, LabelName), "yards": p.hundredYards(), "currency": p.Currency})
}

// TurnsSay says what the crew that needs fewest hours saves.
func (c Crews) TurnsSay(l *work.Labor) string {
	if len(l.TurnedBy) == 0 {
		return ""
	}
	said := c.say("{better} instead of {worse} saves about {gain} of labor on the job above.",
		with{"better": c.Named(l.Rivals.Better), "worse": c.Named(l.Rivals.Worse), "gain": c.Dollars(l.Rivals.Saves)})
	return c.sentences(said, Levers(c).Say(l.TurnedBy))
}

func (c Crews) TurnsCaption(r work.Rivals) string {
	return c.say("What turns {better} against {worse}", with{"better": c.Named(r.Better), "worse": c.Named(r.Worse)})
}
func (c Crews) TurnsHead() string { return c.text("Saved then") }

// TurnsAxis is what is drawn of it.
func (c Crews) TurnsAxis(r work.Rivals) string {
	return c.say("saved by {better} on the job, {currency}", with{"better": Clean(r.Better, LabelName), "currency": c.Currency})
}

// TurnsSay says how the table of what would change the visits is made.
func (v Visits) TurnsSay(d *visits.Visits) string {
	said := v.text("How many sites pay for their drive, with each number at both ends of what it could be.")
	for _, l := range d.TurnedBy {
		if l.Within {
			return said
		}
	}
	return v.sentences(said, v.text("Nothing within these ranges turns it."))
}

func (v Visits) TurnsCaption() string { return v.text("What would change which visits pay") }
func (v Visits) TurnsHead() string    { return v.text("Sites worth the drive then") }

// SitesCount is a number of sites.
func (v Visits) SitesCount(n float64) string { return Grouped(n, 0) }

func (w Bid) TurnsCaption() string { return w.text("What would break the margin") }
func (w Bid) TurnsHead() string    { return w.text("Left over the target margin then") }
