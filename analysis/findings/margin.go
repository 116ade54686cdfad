package findings

import (
	"fmt"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/money"
)

// bridgeFindings say what the steps of the bridge cost that no other topic
// tells: thickness, and what is left when all steps are taken.
func bridgeFindings(y *lastYear) []candidate {
	var out []candidate
	for _, s := range []struct {
		step        int
		purse, says string
	}{
		{money.StepVolume, "thickness", "Slabs came out thicker than drawn in the last twelve months: %s of concrete; check the grade with a string line before the truck comes."},
		{money.StepUsage, "concrete", "More concrete was delivered than planned in the last twelve months, thickness aside: %s; order by the overage table."},
		{money.StepOther, "bids", "Jobs of the last twelve months cost more than bid for reasons that a job log does not split, which are prices, wages, and hours that the bids left out: %s; hold bids against what was paid and worked."},
	} {
		lost := yearly{year: y}
		for _, j := range y.jobs {
			if j.BidCost.OK && j.Known[s.step] {
				lost.add(-j.Effects[s.step].Dollars())
			}
		}
		if worth := lost.dollars(1); worth.Known() {
			out = append(out, gain("margin", s.purse, worth, fmt.Sprintf(s.says, y.aYear(worth))))
		}
	}
	return out
}

// monthFindings tell of a month of the year whose margin is a real change.
func monthFindings(y *lastYear) []candidate {
	if y.f.Margin == nil {
		return nil
	}
	var out []candidate
	c := &y.f.Margin.Control
	for _, s := range c.Signals {
		m := monthOf(y.f.Margin, s.Month)
		if s.Verdict != money.RealChange || m == nil || s.Value >= c.Center.Value || s.Month <= y.from.Month() {
			continue
		}
		worth := figure.Total((c.Center.Value-s.Value)/100*m.Revenue.Dollars(), m.Jobs, "margin of the month against the center of the control chart × its revenue")
		out = append(out, gain("margin", "month "+s.Month, worth, fmt.Sprintf("%s earned %s cents of each dollar where months swing around %.0f, %s: about %s of margin that month; find its cause while it is fresh.",
			figure.MonthWords(s.Month), strings.Replace(fmt.Sprintf("%.0f", s.Value), "-", "−", 1), c.Center.Value, s.Rule, figure.RoughDollars(worth.Value))))
	}
	return out
}

// month is the one of that name, or nil.
func monthOf(m *money.Margin, name string) *money.Month {
	for i := range m.Months {
		if m.Months[i].Month == name {
			return &m.Months[i]
		}
	}
	return nil
}

// followOnFindings tell what jobs won from earlier ones brought.
func followOnFindings(y *lastYear) []candidate {
	if y.f.Margin == nil || !y.f.Margin.Total.MarginPct.Known() {
		return nil
	}
	kept := y.f.Margin.Total.MarginPct.Value / 100
	won := yearly{year: y}
	for _, j := range y.jobs {
		if j.FollowOn {
			won.add(j.Revenue.Dollars())
		} else {
			won.add(0)
		}
	}
	worth := won.dollars(kept)
	if !worth.Known() {
		return nil
	}
	return []candidate{sum("margin", "follow-on", worth, fmt.Sprintf("%s of the last twelve months were won from earlier ones; at the usual margin they left %s: ask after each finished job who else has one in mind.",
		figure.CountOf(won.events, "job"), y.aYear(worth)))}
}

// unpricedFindings tell of jobs whose margin nobody can see. What they hide is
// taken to be what other jobs stray from their bids.
func unpricedFindings(y *lastYear) []candidate {
	if y.f.Margin == nil {
		return nil
	}
	stray := yearly{year: y}
	for _, j := range y.jobs {
		if j.BidCost.OK {
			stray.add(max(j.BidCost.V-j.Cost, j.Cost-j.BidCost.V).Dollars())
		}
	}
	unpriced := 0
	for _, last := range y.f.Margin.UnpricedOn {
		if last > y.from {
			unpriced++
		}
	}
	if unpriced < figure.LeastEvents || stray.n < figure.LeastForRate {
		return nil
	}
	worth := figure.Total(float64(unpriced)*stray.sum/float64(stray.n)*y.scale, stray.n, "jobs without a price or a cost × mean distance of the others from their bids")
	return []candidate{sum("records", "unpriced", worth, fmt.Sprintf("%d of the last twelve months' %d jobs lack a price or a cost, so nobody sees what they earned; the others strayed %s each from their bids, which makes about %s a year in the dark: fill them in.",
		unpriced, unpriced+len(y.jobs), figure.RoughDollars(stray.sum/float64(stray.n)), figure.RoughDollars(worth.Value)))}
}
