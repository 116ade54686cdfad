package say

// Words of kinds of chart, whatever they are drawn of.

// ByChance names points within the limits of luck, Outside those beyond.
func (v *Voice) ByChance() string { return v.text("no more than luck") }
func (v *Voice) Outside() string  { return v.text("stands out") }

// InnerLimits and OuterLimits name the limits within which luck alone keeps
// rates.
func (v *Voice) InnerLimits() string { return v.text("luck alone: 19 in 20 inside") }
func (v *Voice) OuterLimits() string { return v.text("luck alone: 998 in 1,000 inside") }

// TooFewGroups says why rates are not drawn.
func (v *Voice) TooFewGroups(least int) string {
	return v.say("No chart is drawn: it takes {n} groups or more.", with{"n": Count(least)})
}

// NoRatio says why ratios are not drawn.
func (v *Voice) NoRatio() string { return v.text("No chart is drawn: the records support no ratio.") }
