package bid

import (
	"fmt"
	"strings"

	"pourback/analysis/setting"
	"pourback/analysis/trade"
)

// coverIn is the concrete over steel on either face of a slab on ground.
const (
	coverIn     = 1.5
	coverSource = "ACI 318 cover: 1½ in for #5 and smaller exposed to weather, 3 in where cast against earth; from memory"
)

// steel checks that what is asked for fits into the slab.
func (c *bidCheck) steel(p Placement) {
	words, _ := ourWords("reinforcement", p.Reinforcement)
	rebar, mesh := strings.Contains(words, "rebar"), strings.Contains(words, "mesh")
	if strings.Contains(words, "none+") || strings.Contains(words, "+none") {
		c.bad("reinforcement", p.Reinforcement, "none and something", "one of the two", "")
	}
	if c.number("bar_spacing_in", p.BarSpacingIn, 240) && rebar && p.BarSpacingIn > 0 {
		most := min(18, 3*p.ThicknessIn)
		switch {
		case p.BarSpacingIn < 3:
			c.bad("bar_spacing_in", plain(p.BarSpacingIn), "closer than concrete can pass", "12 to 18 in; did you mean feet?", "common practice, no published source")
		case p.BarSpacingIn > most && p.ThicknessIn > 0:
			c.care("bar_spacing_in", plain(p.BarSpacingIn), "wider than three thicknesses or 18 in", "at most "+plain(most)+" in", "ACI 318, from memory")
		}
	}
	bar, err := barOf(p.Bar, setting.DefaultBidPractice().BarNumber)
	if rebar && !mesh && err != nil {
		c.bad("bar", p.Bar, "no bar of flatwork", "#3, #4, #5 or #6", "ASTM A615, from memory")
	}
	if p.Bar != "" && !rebar && !mesh {
		c.care("bar", p.Bar, "a bar or mesh where none is asked for", "reinforcement: rebar or mesh", "")
	}
	if need := 2*coverIn + 2*bar.DiameterIn; rebar && err == nil && p.ThicknessIn >= 2 && p.ThicknessIn < need {
		c.care("reinforcement", p.Reinforcement, fmt.Sprintf("two layers of #%d in %s in have less than %v in of concrete over and under them", bar.Number, plain(p.ThicknessIn), coverIn),
			fmt.Sprintf("%s in and more for #%d both ways, or mesh or fiber", plain(need), bar.Number), coverSource)
	}
	if mesh && p.ThicknessIn >= 2 && p.ThicknessIn < 2*coverIn+0.5 {
		c.care("reinforcement", p.Reinforcement, fmt.Sprintf("mesh in %s in has less than %v in of concrete over and under it", plain(p.ThicknessIn), coverIn), "3½ in and more", coverSource)
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
		c.bad("joint_spacing_ft", value, "panels that long crack on their own", "at most 15 ft, and 24 to 36 times the thickness",
			"UFC 3-250-04 Table 9-1: 10 to 15 ft; NRMCA CIP 6, from memory: never above 15 ft")
	case p.JointSpacingFt < 1:
		c.bad("joint_spacing_ft", value, "panels of less than a foot", "a spacing in ft; did you mean thicknesses?", "")
	case err == nil && p.ThicknessIn >= 2 && p.JointSpacingFt > widest:
		c.care("joint_spacing_ft", value, fmt.Sprintf("more than 36 times the thickness of %s in", plain(p.ThicknessIn)), fmt.Sprintf("at most %.1f ft", widest),
			"CSA A23.1-94 §20.2.1: 24 to 36 thicknesses")
	case p.JointSpacingFt < 3:
		c.care("joint_spacing_ft", value, "many small panels", "24 times the thickness will do", "Portland Cement Association, as quoted elsewhere")
	}
	if p.JointCut == "none" {
		c.care("joint_cut", p.JointCut, "without joints the slab chooses where to crack", "saw, early-entry or tooled", "CSA A23.1-94 §20.2.1")
	}
}

// pump checks hose and aggregate.
func (c *bidCheck) pump(p Placement) {
	ok := c.number("hose_in", p.HoseIn, 12)
	ok = c.number("max_aggregate_in", p.MaxAggregateIn, 6) && ok
	method, _ := ourWords("method", p.Method)
	if !ok || method != "pump" {
		if p.PumpOutfit != "" && method != "pump" {
			c.care("pump_outfit", p.PumpOutfit, "an outfit where nothing is pumped", "method: pump", "")
		}
		return
	}
	if p.HoseIn == 0 || p.MaxAggregateIn == 0 {
		return
	}
	limit, safer, err := trade.LargestAggregate(p.HoseIn)
	if err != nil {
		c.bad("hose_in", plain(p.HoseIn), "no hose of a pump", "2 to 5 in", "")
		return
	}
	const source = "ACI 304: aggregate at most a third of the line's inside diameter, a quarter to be safer"
	switch {
	case p.MaxAggregateIn > limit+1e-9:
		c.bad("max_aggregate_in", plain(p.MaxAggregateIn), fmt.Sprintf("too large for a hose of %s in: it will clog", plain(p.HoseIn)), fmt.Sprintf("at most %.2g in, or a hose of %.2g in", limit, 3*p.MaxAggregateIn), source)
	case p.MaxAggregateIn > safer+1e-9:
		c.care("max_aggregate_in", plain(p.MaxAggregateIn), fmt.Sprintf("more than a quarter of the hose of %s in", plain(p.HoseIn)), fmt.Sprintf("at most %.2g in to be safer", safer), source)
	}
}
