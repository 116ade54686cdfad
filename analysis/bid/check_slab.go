package bid

import (
	"fmt"
	"strings"

	"pourback/analysis/setting"
	"pourback/analysis/trade"
)

// coverIn is the concrete over steel on either face of a slab on ground (ACI
// 318, from memory).
const coverIn = 1.5

// steel checks that what is asked for fits into the slab.
func (c *bidCheck) steel(p Placement) {
	words, _ := ourWords("reinforcement", p.Reinforcement)
	rebar, mesh := strings.Contains(words, "rebar"), strings.Contains(words, "mesh")
	if strings.Contains(words, "none+") || strings.Contains(words, "+none") {
		c.bad("reinforcement", p.Reinforcement, NoneAndSome)
	}
	if c.number("bar_spacing_in", p.BarSpacingIn, 240) && rebar && p.BarSpacingIn > 0 {
		const most = 24 // flatwork on the ground is laid at 12 to 24 in (common practice, no published source)
		switch {
		case p.BarSpacingIn < 3:
			c.bad("bar_spacing_in", plain(p.BarSpacingIn), TightBars, Amounts{Least: 12, Most: 18})
		case p.BarSpacingIn > most:
			c.care("bar_spacing_in", plain(p.BarSpacingIn), WideBars, Amounts{Most: most})
		}
	}
	bar, err := barOf(p.Bar, setting.DefaultBidPractice().BarNumber)
	if rebar && !mesh && err != nil {
		c.bad("bar", p.Bar, NoBar)
	}
	if p.Bar != "" && !rebar && !mesh {
		c.care("bar", p.Bar, IdleBar)
	}
	if need := 2*coverIn + 2*bar.DiameterIn; rebar && err == nil && p.ThicknessIn >= 2 && p.ThicknessIn < need {
		c.care("reinforcement", p.Reinforcement, LittleCover, Amounts{Is: p.ThicknessIn, Least: need, Usual: coverIn, Bar: bar.Number})
	}
	if mesh && p.ThicknessIn >= 2 && p.ThicknessIn < 2*coverIn+0.5 {
		c.care("reinforcement", p.Reinforcement, LittleMeshCover, Amounts{Is: p.ThicknessIn, Least: 2*coverIn + 0.5, Usual: coverIn})
	}
}

// barOf reads #4, 4 or No. 4; the usual one stands for an empty word.
func barOf(word string, usual int) (trade.Bar, error) {
	digits := strings.Trim(strings.ToLower(word), "#no. ")
	number := usual
	if digits != "" {
		if _, err := fmt.Sscanf(digits, "%d", &number); err != nil || len(digits) > 2 {
			return trade.Bar{}, fmt.Errorf("%q is no bar: want #3 to #6", word)
		}
	}
	return trade.BarSize(number)
}

// joints checks the spacing that is asked for.
func (c *bidCheck) joints(p Placement) {
	if p.JointSpacingFt == 0 || !c.number("joint_spacing_ft", p.JointSpacingFt, 5000) {
		return
	}
	value := plain(p.JointSpacingFt)
	_, widest, err := trade.SpacingBand(p.ThicknessIn)
	switch {
	case p.JointSpacingFt > trade.SpacingCapFt:
		c.bad("joint_spacing_ft", value, WideJoints, Amounts{Most: trade.SpacingCapFt})
	case p.JointSpacingFt < 1:
		c.bad("joint_spacing_ft", value, TinyPanels)
	case err == nil && p.ThicknessIn >= 2 && p.JointSpacingFt > widest:
		c.care("joint_spacing_ft", value, Over36, Amounts{Is: p.ThicknessIn, Most: widest})
	case p.drawn() && p.JointSpacingFt > longest(p):
		c.care("joint_spacing_ft", value, OverSlab, Amounts{Is: longest(p)})
	case p.JointSpacingFt < 3:
		c.care("joint_spacing_ft", value, SmallPanels)
	}
	if p.JointCut == "none" {
		c.care("joint_cut", p.JointCut, NoJoints)
	}
}

// longest is the longer side of what bounds a placement.
func longest(p Placement) float64 {
	length, width := p.sides()
	return max(length, width)
}

// pump checks hose and aggregate.
func (c *bidCheck) pump(p Placement) {
	ok := c.number("hose_in", p.HoseIn, 12)
	ok = c.number("max_aggregate_in", p.MaxAggregateIn, 6) && ok
	method, _ := ourWords("method", p.Method)
	if !ok || method != "pump" {
		if p.PumpOutfit != "" && method != "pump" {
			c.care("pump_outfit", p.PumpOutfit, IdlePump)
		}
		return
	}
	if p.HoseIn == 0 || p.MaxAggregateIn == 0 {
		return
	}
	limit, safer, err := trade.LargestAggregate(p.HoseIn)
	if err != nil {
		c.bad("hose_in", plain(p.HoseIn), NoHose, Amounts{Least: 2, Most: 5})
		return
	}
	switch {
	case p.MaxAggregateIn > limit+1e-9:
		c.bad("max_aggregate_in", plain(p.MaxAggregateIn), WillClog, Amounts{Is: p.HoseIn, Most: limit, Usual: 3 * p.MaxAggregateIn})
	case p.MaxAggregateIn > safer+1e-9:
		c.care("max_aggregate_in", plain(p.MaxAggregateIn), MayClog, Amounts{Is: p.HoseIn, Most: safer})
	}
}
