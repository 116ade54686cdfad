package findings

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/money"
	"pourback/ingest/record"
)

// bridgeFindings say what the steps of the bridge cost that no other topic
// tells: thickness, and what is left when all steps are taken.
func bridgeFindings(y *lastYear) []candidate {
	var out []candidate
	for _, s := range []struct {
		step  money.Step
		purse string
	}{{money.StepVolume, "thickness"}, {money.StepUsage, "concrete"}, {money.StepOther, "bids"}} {
		lost := yearly{year: y}
		for _, j := range y.jobs {
			if j.BidCost.OK && j.Known[s.step] {
				lost.add(-moved(j, s.step).Dollars())
			}
		}
		if worth := lost.dollars(1); worth.Known() {
			out = append(out, y.asBooked(gain("margin", s.purse, worth, StepLost{s.step})))
		}
	}
	return out
}

// moved is what a step did to a job. What added work cost stands among what no
// step explains, and its pay is held against it there: work that was paid for is
// no loss.
func moved(j *money.Job, s money.Step) record.Cents {
	if s == money.StepOther {
		return j.Effects[s] + j.Effects[money.StepChangeOrders]
	}
	return j.Effects[s]
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
		out = append(out, gain("margin", "month "+s.Month, worth, LowMonth{s.Month, s.Value, c.Center.Value, worth.Value}))
	}
	return out
}

// monthOf is the one of that name, or nil.
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
	return []candidate{y.asBooked(sum("margin", "follow-on", worth, FollowOn{won.events}))}
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
			stray.add(math.Abs(j.AgainstBid().Dollars()))
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
	worth := stray.mean(float64(unpriced)*y.scale, "jobs without a price or a cost × mean distance of the others from their bids")
	return []candidate{sum("records", "unpriced", worth, Unpriced{unpriced, unpriced + len(y.jobs), stray.sum / float64(stray.n)})}
}
