package say

import (
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// alike names what rests on the assumptions rather than the records.
func (w Waste) alike(methods []string) string {
	if len(methods) == 0 {
		return ""
	}
	said := make([]string, len(methods))
	for i, m := range methods {
		said[i] = w.Word(m)
	}
	return w.say("Jobs by {methods} are too alike in size to tell what every job loses from what grows with the slab. For other sizes an assumption decides; smaller and larger jobs on record would settle it.",
		with{"methods": w.List(said)})
}

// odd says how many placements lie far off, and what they do to the orders.
func (w Waste) odd(o *concrete.Overage) string {
	odd := o.Checks.Odd
	if odd.Placements == 0 {
		return ""
	}
	s := w.plural(odd.Placements, "1 placement is far from usual for its kind: check it. It still counts.|{n} placements are far from usual for their kind: check them. They still count.", nil)
	step := with{"step": w.Yards(o.Assumptions.Order.IncrementYd)}
	if odd.Orders == 0 {
		return s + " " + w.say("Counting them less moves no order by more than {step}.", step)
	}
	return s + " " + w.plural(odd.Orders, "Counting them less moves the order of 1 kind of job by more than {step}.|Counting them less moves the orders of {n} kinds of job by more than {step}.", step)
}

// cut speaks of placements that may have wanted more than they got.
func (w Waste) cut(o *concrete.Overage) string {
	cut, step := o.Checks.Cut, with{"step": w.Yards(o.Assumptions.Order.IncrementYd)}
	if cut.Placements == 0 {
		return ""
	}
	s := w.plural(cut.Placements, "1 placement had nothing left over and nothing more called in, so it may have run short.|{n} placements had nothing left over and nothing more called in, so they may have run short.", nil)
	if cut.Orders == 0 {
		return s + " " + w.say("Without such pours no order moves by more than {step}.", step)
	}
	return s + " " + w.plural(cut.Orders, "Without such pours the order of 1 kind of job moves by more than {step}.|Without such pours the orders of {n} kinds of job move by more than {step}.", step)
}

// under speaks of placements that used far less than was drawn.
func (w Waste) under(n int) string {
	if n == 0 {
		return ""
	}
	return w.plural(n, "1 placement used less than nine tenths of its drawing: check it.|{n} placements used less than nine tenths of their drawing: check them.", nil)
}

// crewsApart says whether it matters which crew pours.
func (w Waste) crewsApart(a concrete.CrewsApart) string {
	if a.Compared < 2 {
		return ""
	}
	if len(a.Crews) == 0 {
		return w.text("On the same job no crew clearly uses more concrete than another. The orders are good for any crew.")
	}
	said := make([]string, len(a.Crews))
	for i, c := range a.Crews {
		if c.Yd < 0 {
			said[i] = w.say("{crew} {yards} less", with{"crew": w.Named(c.Crew), "yards": w.hundredths(-c.Yd)})
		} else {
			said[i] = w.say("{crew} {yards} more", with{"crew": w.Named(c.Crew), "yards": w.hundredths(c.Yd)})
		}
	}
	return w.say("On a {neat} job, against an average crew: {crews}. The orders are for an average crew.", with{"neat": w.Yards(a.TypicalYd), "crews": w.List(said)})
}

// OwnPrices says what the company's own prices would change.
func (w Waste) OwnPrices(own concrete.OwnCosts) string {
	if len(own.Told) == 0 {
		return ""
	}
	var prices []string
	for _, told := range own.Told {
		values := with{"price": w.aYard(told.Price), "n": Count(told.Lines)}
		if told.Item == "disposal" {
			prices = append(prices, w.say("hauling off {price} ({n} lines)", values))
		} else {
			prices = append(prices, w.say("concrete {price} ({n} lines)", values))
		}
	}
	at := with{"prices": w.List(prices)}
	if own.Orders == 0 {
		return w.say("Your own cost lines say {prices}. At those prices no order would change.", at)
	}
	return w.plural(own.Orders, "Your own cost lines say {prices}. At those prices the order of 1 kind of job would change.|Your own cost lines say {prices}. At those prices the orders of {n} kinds of job would change.", at)
}

// aYard is a price of a yard: "$172.50 a yard".
func (w Waste) aYard(price float64) string {
	if w.Units.Si {
		return w.say("{price} a m³", with{"price": w.Amount(price/w.Units.Volume.Factor, 2)})
	}
	return w.say("{price} a yard", with{"price": w.Amount(price, 2)})
}

// Assumed says the money and the beliefs behind the orders.
func (w Waste) Assumed(a concrete.OverageAssumptions) []string {
	return append(w.settings(a.Order), w.beliefs(a.Priors))
}

func (w Waste) settings(c setting.OrderCosts) []string {
	return []string{
		w.say("Settings behind an order: concrete {concrete}, and hauling off what is left {disposal}.", with{"concrete": w.aYard(c.PricePerYd), "disposal": w.aYard(c.DisposalPerYd)}),
		w.extraLoad(c) + " " + w.lastLoad(c) + w.capped(c),
		w.say("A plant sends {least} or more in steps of {step}, and a truck holds {truck}. A load under {short} pays {fee} for what it lacks.",
			with{"least": w.hundredths(c.LeastBalanceYd), "step": w.hundredths(c.IncrementYd), "truck": w.hundredths(c.TruckYd), "short": w.hundredths(c.ShortLoadYd), "fee": w.aYard(c.ShortLoadPerYd)}),
	}
}

// extraLoad and lastLoad are what the loads cost that come after the order.
func (w Waste) extraLoad(c setting.OrderCosts) string {
	values := with{"extra": w.Amount(c.ExtraLoad, 2)}
	if c.ExtraPerYd == 0 {
		return w.say("An unplanned extra load costs {extra} plus its concrete.", values)
	}
	values["more"] = w.aYard(c.ExtraPerYd)
	return w.say("An unplanned extra load costs {extra}, and its concrete costs {more} more than planned.", values)
}

func (w Waste) lastLoad(c setting.OrderCosts) string {
	values := with{"ahead": w.hundredths(c.CallAheadYd)}
	if c.Call == 0 {
		return w.say("A last load called in with {ahead} on hand costs nothing more.", values)
	}
	values["call"] = w.Amount(c.Call, 2)
	return w.say("A last load called in with {ahead} on hand costs {call} more.", values)
}

// capped says what the orders keep to where the chance of running short is capped.
func (w Waste) capped(c setting.OrderCosts) string {
	if c.MostShort == 0 {
		return ""
	}
	return " " + w.say("Orders run short {times} at most, as you set, even where a smaller one would cost less.", with{"times": w.TimesIn100(c.MostShort)})
}

func (w Waste) beliefs(p setting.OveragePriors) string {
	plusMinus := func(b setting.Belief) string {
		return w.say("{value} ± {spread}", with{"value": w.hundredths(b.Mean), "spread": w.hundredths(b.SD)})
	}
	share := w.say("{value} ± {spread}", with{"value": w.unit(trimmed(100*p.Share.Mean, 2), "%"), "spread": w.unit(trimmed(100*p.Share.SD, 2), "%")})
	return w.say("Assumed before any record: {share} of the volume. Lost on every job whatever its size: {fixed}, or {pump} by pump. The more placements, the less that counts.",
		with{"share": share, "fixed": plusMinus(p.FixedYd), "pump": plusMinus(p.PumpYd)})
}

// wasteReason says why a figure about concrete is not known.
func (v *Voice) wasteReason(r figure.Reason) (string, bool) {
	w, least := Waste{v}, Count(figure.LeastForRate)
	switch r := r.(type) {
	case concrete.NoCap:
		return w.text("you set no limit to running short"), true
	case concrete.FewVolumes:
		return v.plural(r.N, "1 placement has all its volumes on record; it takes {least}|{n} placements have all their volumes on record; it takes {least}", with{"least": least}), true
	case concrete.FewByMethod:
		return v.plural(r.N, "1 placement by {method}; it takes {least}. Until then {yards} is assumed|{n} placements by {method}; it takes {least}. Until then {yards} is assumed",
			with{"method": v.Word(r.Method), "least": least, "yards": w.hundredths(r.AssumedYd)}), true
	case concrete.AlikeInSize:
		return v.say("jobs by {method} are too alike in size, so the assumed {yards} decides", with{"method": v.Word(r.Method), "yards": w.hundredths(r.AssumedYd)}), true
	case concrete.FewOfCrew:
		return v.plural(r.N, "1 placement of this crew; it takes {least}|{n} placements of this crew; it takes {least}", with{"least": least}), true
	case concrete.FewProbed:
		return v.plural(r.N, "1 placement has its area, its thickness drawn and measured, and all its volumes; it takes {least}|{n} placements have their area, their thickness drawn and measured, and all their volumes; it takes {least}", with{"least": least}), true
	case concrete.NoVolumes:
		return v.text("no placement has its volumes drawn, delivered and left over"), true
	case concrete.ManyKinds:
		return v.text("no one average holds for all kinds of placement"), true
	case concrete.TooUnlike:
		return v.text("such placements used amounts too unlike one another to order by; check their records"), true
	}
	return "", false
}
