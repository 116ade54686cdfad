package say

import (
	"cmp"
	"math"
	"strconv"
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/figure"
)

// Explained says where each number of a bid came from.
type Explained struct{ Bid }

// figureOf is a bare number.
func figureOf(v float64) figure.Figure { return figure.Figure{Value: v, OK: true} }

// BidExplained names what the tables on a bid's numbers hold.
type BidExplained struct{ Caption, Figure, How, Comes, InputCaption, Input, Number, From string }

// Heads are the captions and heads of the tables of a part of the page.
func (w Explained) Heads(s bid.Section) BidExplained {
	part := with{"section": w.Section(s)}
	return BidExplained{Caption: w.say("{section}: each figure and how it is worked out", part), InputCaption: w.say("{section}: each number that goes in, and where it comes from", part), Figure: w.text("Figure"), How: w.text("How it is worked out"), Comes: w.text("Comes to"), Input: w.text("What goes in"), Number: w.text("Number"), From: w.FromHead()}
}

// Title heads the page.
func (w Explained) Title(b *bid.Bid) string {
	return w.say("Where each number comes from: {name}", with{"name": w.Name(b)})
}

// Answer says what the price comes from.
func (w Explained) Answer(b *bid.Bid) string {
	return w.say("Ask {price}: {times} the job costs {cost} or less, and the margin takes {margin} of the price.",
		with{"price": w.Exactly(cmp.Or(b.Price.Asked, b.Price.Price)), "times": w.TimesIn100(b.Price.Certainty), "cost": w.Exactly(b.Price.Price * (1 - b.Price.Target)), "margin": w.Percent(b.Price.Target)})
}

// Notes say how the numbers are to be read.
func (w Explained) Notes(b *bid.Bid) []string {
	return []string{w.text("Each line can be checked with a pencil. Printed numbers are rounded, so the last digit may differ."),
		w.say("Costs are averages over {n} simulated jobs. What those came to beside the pencil's product is shown as luck of the draws.", with{"n": Count(b.Draws)})}
}

// Section names a part of the page.
func (w Explained) Section(s bid.Section) string {
	switch s {
	case bid.SectionConcrete:
		return w.text("The concrete")
	case bid.SectionHours:
		return w.text("Hours")
	case bid.SectionRisk:
		return w.text("Waiting and callbacks")
	case bid.SectionCost:
		return w.text("Cost")
	case bid.SectionPrice:
		return w.text("Price")
	}
	return ""
}

// GoesIn heads the numbers that go into a part of the page.
func (w Explained) GoesIn(s bid.Section) string {
	return w.say("What goes in: {section}", with{"section": w.Section(s)})
}

// Figure names a figure that is worked out.
func (w Explained) Figure(k *bid.Working) string {
	named := w.worked(k)
	switch {
	case k.Figure == bid.WorkCost:
		return Capital(w.Item(k.Item))
	case k.Figure == bid.WorkTask:
		return w.say("{name}, {what}", with{"name": named, "what": w.Word(k.Of)})
	case k.Of == "":
		return named
	case k.Figure == bid.WorkOrder || k.Figure == bid.WorkAllowance:
		return w.say("Day {day}: {what}", with{"day": Clean(k.Of, ShortName), "what": named})
	}
	return w.say("{name}, {what}", with{"name": named, "what": Clean(k.Of, ShortName)})
}

func (w Explained) worked(k *bid.Working) string {
	switch k.Figure {
	case bid.WorkNeat:
		return w.text("Neat volume")
	case bid.WorkUsed:
		return w.text("Expected use")
	case bid.WorkOrder:
		return w.text("Order")
	case bid.WorkAllowance:
		return w.text("Allowance")
	case bid.WorkHours, bid.WorkTask:
		return w.text("Hours")
	case bid.WorkClogs:
		return w.text("Clogs")
	case bid.WorkClogMin:
		return w.text("Lost to clogs")
	case bid.WorkWaiting:
		return w.text("Waiting")
	case bid.WorkWaitCost:
		return w.text("Cost of waiting")
	case bid.WorkCallbacks:
		return w.text("Callbacks in the warranty")
	case bid.WorkEachCall:
		return w.text("Cost of each")
	case bid.WorkReserve:
		return w.text("Reserve")
	}
	return w.workedPrice(k)
}

func (w Explained) workedPrice(k *bid.Working) string {
	switch k.Figure {
	case bid.WorkTotal:
		return w.text("Cost of the job")
	case bid.WorkLoaded:
		return w.text("Cost with overhead")
	case bid.WorkPrice:
		return w.text("Price for the target margin")
	case bid.WorkAsked:
		return w.text("Ask")
	case bid.WorkLeft:
		return w.text("Left over the cost")
	case bid.WorkMargin:
		return w.text("Margin on average")
	case bid.WorkPerArea:
		return w.say("Price per {unit}", with{"unit": w.areaUnit()})
	case bid.WorkLoss:
		return w.text("Chance of a loss")
	}
	return Clean(string(k.Figure), ShortName)
}

// Words are a working in words: "hours × wage − luck of the draws".
func (w Explained) Words(k *bid.Working) string {
	if k.Terms[0][0].Name == bid.InPiece { // a hole's name says that it is taken away
		names := make([]string, len(k.Terms))
		for i, term := range k.Terms {
			names[i] = w.Input(term[0])
		}
		return strings.Join(names, ", ")
	}
	return w.laidOut(k, func(in bid.Input) string { return w.Input(in) })
}

// Numbers are the same in numbers: "24.50 h × $38.00 − $3.10".
func (w Explained) Numbers(k *bid.Working) string {
	return w.laidOut(k, func(in bid.Input) string {
		in.Value = math.Abs(in.Value)
		return w.Value(in)
	})
}

// How is a working in words and then in numbers.
func (w Explained) How(k *bid.Working) string { return w.Words(k) + " = " + w.Numbers(k) }

// laidOut writes a sum of products.
func (w Explained) laidOut(k *bid.Working, of func(bid.Input) string) string {
	var b strings.Builder
	for i, term := range k.Terms {
		minus := false
		for _, in := range term {
			minus = minus != (in.Value < 0)
		}
		switch {
		case i > 0 && minus:
			b.WriteString(" − ")
		case minus:
			b.WriteString("−")
		case i > 0:
			b.WriteString(" + ")
		}
		for j, in := range term {
			switch {
			case j > 0 && in.Over:
				b.WriteString(" ÷ ")
			case j > 0:
				b.WriteString(" × ")
			}
			b.WriteString(of(in))
		}
	}
	return b.String()
}

// Comes is what a working comes to.
func (w Explained) Comes(k *bid.Working) string { return w.Value(k.Is) }

// Value is a number as the page prints it: all its digits that a pencil needs.
func (w Explained) Value(in bid.Input) string {
	v := in.Value
	if in.Name == bid.InPerYd && w.Units.Si { // m² × mm that make a m³
		return Count(1000)
	}
	if per, isRate := strings.CutPrefix(in.Unit, moneyUnit+"/"); isRate {
		read, ofOne := w.perUnit("/" + per)
		return w.Voice.Amount(v*ofOne, rateDigits(v*ofOne)) + read
	}
	switch in.Unit {
	case moneyUnit:
		return w.Voice.Amount(v, 2)
	case "yd":
		return w.Hundredths(v)
	case "share", "share of the price":
		return w.unit(trimmed(100*v, 2), "%")
	case "person-hours", "h":
		return Grouped(v, 2) + " h"
	case "min":
		return trimmed(v, 2) + " min"
	case "people":
		return w.say("{n} people", with{"n": trimmed(v, 2)})
	case "months":
		return w.say("{n} months", with{"n": trimmed(v, 2)})
	case "person-hours/100 ft²":
		read, ofOne := w.perUnit("/100 ft²")
		return trimmed(v*ofOne, 3) + " h" + read
	case "clogs/100 yd":
		if w.Units.Si {
			return significant(v/w.Units.Volume.Factor) + "/100 m³"
		}
		return w.unit(significant(v), "/100 yd")
	case "":
		return significant(v)
	}
	m := w.Of(in.Unit)
	return w.dressed(m, trimmed(v*m.Factor, 3))
}

// rateDigits are cents, and more where a rate is a few of them.
func rateDigits(v float64) int {
	if math.Abs(v*100-math.Round(v*100)) > 1e-6 {
		return 4
	}
	return 2
}

// significant is a number with five digits that count.
func significant(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 4, 64), 64)
	if err != nil {
		return trimmed(v, 4)
	}
	return trimmed(r, 8)
}
