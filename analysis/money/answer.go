package money

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"pourback/analysis/figure"
)

// conclude says what the last full month earned, and why.
func (m *Margin) conclude(full []Month) {
	m.Notes = []string{
		"A job belongs, with all its money, to the month of its last placement.",
		fmt.Sprintf("A job log holds no prices paid: the steps of the bridge stand at %s a yd³ and %s an hour, set by the owner. What prices and wages did is in other.",
			m.Assumptions.ConcretePerYd, m.Assumptions.LaborPerHour),
		"Hours are held against those of an average crew of these records on the same job, not against the hours in the bid: bids that count on too few hours show in other.",
		"Callbacks still to come are in no month's margin.",
	}
	if len(full) == 0 {
		m.Answer = "No month with a job that has both a price and a cost is over yet, so there is no margin to speak of."
		return
	}
	last := &full[len(full)-1]
	if !last.MarginPct.Known() {
		m.Answer = fmt.Sprintf("The jobs that ended in %s brought no revenue, so they have no margin.", figure.MonthWords(last.Month))
		return
	}
	m.Answer = last.earnedWords() + last.bridgeWords() + m.Control.words(last.Month)
}

// earnedWords: "October 2025 earned 18 cents of each dollar, 4 less than bid".
func (m *Month) earnedWords() string {
	s := figure.MonthWords(m.Month) + " earned " + figure.CentsWords(m.MarginPct.Value) + " of each dollar"
	if m.MarginPct.Value < 0 {
		s = figure.MonthWords(m.Month) + " lost " + figure.CentsWords(-m.MarginPct.Value) + " on each dollar"
	}
	if !m.BidMarginPct.Known() {
		return s + fmt.Sprintf(" on %s; how that compares with the bids is not known, since %s", figure.CountOf(m.Jobs, "job"), figure.Text(m.BidMarginPct.Why))
	}
	switch gap := math.Round(m.MarginPct.Value) - math.Round(m.BidMarginPct.Value); {
	case gap < 0:
		s += fmt.Sprintf(", %.0f less than bid", -gap)
	case gap > 0:
		s += fmt.Sprintf(", %.0f more than bid", gap)
	default:
		s += ", as bid"
	}
	return s + fmt.Sprintf(" (%s)", figure.CountOf(m.Jobs, "job"))
}

// leastSaid is the share of a month's revenue from which a step is worth a word.
const leastSaid = 0.005

// bridgeWords names up to four of the largest steps, and what to do about the
// largest loss.
func (m *Month) bridgeWords() string {
	if !m.BidMarginPct.Known() {
		return "."
	}
	figures := m.Bridge.steps()
	order := []int{StepVolume, StepUsage, stepLaborEfficiency, stepDelay, stepCallback, StepOther}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(math.Abs(figures[b].Value), math.Abs(figures[a].Value)) })
	worst := -1
	var said []string
	for _, s := range order[:4] {
		v := figures[s].Value
		switch {
		case v == 0 || math.Abs(v) < leastSaid*m.Revenue.Dollars():
		case v > 0:
			said = append(said, figure.DollarWords(v)+" gained by "+stepWords[s].better)
		default:
			said = append(said, figure.DollarWords(-v)+" lost to "+stepWords[s].worse)
			if worst < 0 {
				worst = s
			}
		}
	}
	if len(said) == 0 {
		return "; no single cause moved it by half a cent."
	}
	return ": " + strings.Join(said, ", ") + "." + advice(worst)
}

// stepWords name what a step stands for in an owner's words.
var stepWords = [steps]struct{ better, worse string }{
	StepVolume:          {"slabs thinner than drawn", "slabs thicker than drawn"},
	StepUsage:           {"fewer yards than planned", "more yards than planned"},
	stepLaborEfficiency: {"crews faster than usual", "crews slower than usual"},
	stepDelay:           {"waiting", "waiting"},
	stepCallback:        {"callbacks", "callbacks"},
	StepOther:           {bidUnlike, bidUnlike},
}

const bidUnlike = "prices, wages or hours unlike the bid's (a job log does not tell which)"

// advice is what to do next time about the step that lost most.
func advice(step int) string {
	switch step {
	case StepVolume:
		return " Next time, check the grade with a string line before the truck comes."
	case StepUsage:
		return " Next time, order by the overage table and call in the last load once the rest is down."
	case stepLaborEfficiency:
		return " Next time, see on which jobs the hours went before bidding the like again."
	case stepDelay:
		return " Next time, look at what the crew waited for: see the delays."
	case stepCallback:
		return " See the cracks page for what brought them."
	case StepOther:
		return " Hold the hours and prices in those bids against what was worked and paid."
	}
	return ""
}

// words say whether the month stands out from how months swing.
func (c *Control) words(month string) string {
	if c.Limits == nil {
		return " Whether that is unusual cannot be said yet: " + c.Why + "."
	}
	s := fmt.Sprintf(" Months swing from %.0f to %.0f cents by themselves", c.Limits.Low, c.Limits.High)
	signal := c.signal(month)
	switch {
	case signal == nil:
		return s + ", so this one is nothing out of the ordinary."
	case signal.Verdict == RealChange:
		return s + "; this one is " + signal.Rule + ": a real change, which has a cause."
	}
	return s + "; this one is " + signal.Rule + ": worth a look."
}
