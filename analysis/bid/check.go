package bid

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pourback/analysis/trade"
)

// BidProblem is something wrong or unwise in a spec: the field, what is wrong
// with its value, what would be right, and who says so.
type Problem struct {
	Placement string `json:"placement"` // "" where it is about the whole job
	Field     string `json:"field"`
	Value     string `json:"value"`
	Wrong     string `json:"wrong"`
	Right     string `json:"right"`
	Source    string `json:"source"`
	Error     bool   `json:"error"` // no bid can be made; else a caution
}

// String is the problem in a line:
//
//	placement B, thickness_in 1: thinner than any slab; 4 in is usual (ACI 302.1R, from memory)
func (p Problem) String() string {
	where := p.Field
	if p.Placement != "" {
		where = "placement " + p.Placement + ", " + where
	}
	if p.Value != "" {
		where += " " + p.Value
	}
	return where + ": " + p.Matter()
}

// Matter is what is wrong, what would be right, and who says so.
func (p Problem) Matter() string {
	s := p.Wrong
	if p.Right != "" {
		s += "; " + p.Right
	}
	if p.Source != "" {
		s += fmt.Sprintf(" (%s)", p.Source)
	}
	return s
}

// BidProblems are all that is wrong with a spec, in the order of its fields.
type Problems []Problem

// Fatal are those with which no bid can be made.
func (ps Problems) Fatal() Problems {
	var out Problems
	for _, p := range ps {
		if p.Error {
			out = append(out, p)
		}
	}
	return out
}

// Error is one problem a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// CheckBid finds all that is wrong or unwise in a spec, the fatal and the rest.
func Check(spec Spec) Problems {
	c := &bidCheck{}
	c.job(spec)
	names := map[string]bool{}
	for i, p := range spec.Placements {
		c.at = p.name(i)
		if names[c.at] {
			c.bad("name", c.at, "a name given twice", "a name of its own for each placement", "")
		}
		names[c.at] = true
		c.shape(p)
		c.words(p)
		c.thickness(p)
		c.steel(p)
		c.joints(p)
		c.pump(p)
	}
	return c.ps
}

// bidCheck gathers the problems of a spec.
type bidCheck struct {
	ps Problems
	at string // the placement looked at, "" for the job
}

// bad is a problem with which no bid can be made; care one to be careful of.
func (c *bidCheck) bad(field, value, wrong, right, source string) {
	c.ps = append(c.ps, Problem{c.at, field, value, wrong, right, source, true})
}

func (c *bidCheck) care(field, value, wrong, right, source string) {
	c.ps = append(c.ps, Problem{c.at, field, value, wrong, right, source, false})
}

// number refuses a value below 0 or above most, or no number at all.
func (c *bidCheck) number(field string, v, most float64) bool {
	switch {
	case !(v >= 0) || math.IsInf(v, 0):
		c.bad(field, plain(v), "below 0, or no number", "0 or more; leave it out where it is not known", "")
	case v > most:
		c.bad(field, plain(v), "more than any job has", "at most "+plain(most), "")
	default:
		return true
	}
	return false
}

// plain is a number as a person writes it.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

const (
	mostPlacements = 50
	mostDraws      = 1_000_000
	mostDollars    = 1e7
)

// job checks what holds for all placements.
func (c *bidCheck) job(s Spec) {
	if n := len(s.Placements); n == 0 || n > mostPlacements {
		c.bad("placements", strconv.Itoa(n), "a bid is for at least one placement", fmt.Sprintf("1 to %d of them, each with its area and thickness", mostPlacements), "")
	}
	if _, ok := bidMonth(s.On); !ok {
		c.bad("on", s.On, "neither a day nor a month", "2026-07-14, 2026-07 or 7", "")
	}
	c.number("crew_size", s.CrewSize, 200)
	c.number("warranty_months", s.WarrantyMonths, 600)
	c.share("target_margin", s.TargetMargin, "the share of the price to keep, such as 0.25")
	c.share("certainty", s.Certainty, "the chance to keep it, such as 0.80")
	if s.Draws < 0 || s.Draws > mostDraws {
		c.bad("draws", strconv.Itoa(s.Draws), "no number of draws", fmt.Sprintf("up to %d; 10000 where it is left out", mostDraws), "")
	}
	if c.number("haul_min", s.HaulMin, 24*60) {
		c.haul(s.HaulMin)
	}
	for _, p := range s.Prices.named() {
		c.number("prices."+p.name, p.value, mostDollars)
	}
	for _, item := range s.Items {
		c.number("items."+item.Item, item.Amount, 1e9)
	}
}

func (c *bidCheck) share(field string, v float64, right string) {
	switch {
	case v > 1 && v < 100:
		c.bad(field, plain(v), "a share above 1", fmt.Sprintf("did you mean %v?", v/100), "")
	case !(v >= 0 && v < 1):
		c.bad(field, plain(v), "no share between 0 and 1", right, "")
	}
}

// dischargeTakes is the minutes that emptying a truck is reckoned with (common
// practice, no published source).
const dischargeTakes = 30

func (c *bidCheck) haul(minutes float64) {
	const source = "ASTM C94, older editions: discharged within 90 minutes of batching; the parties may agree otherwise"
	switch {
	case minutes >= trade.DischargeMinutes:
		c.care("haul_min", plain(minutes), "the time from batching to discharge is over before the truck is there", "a nearer plant, a retarder or a delayed-set mix, agreed with the plant beforehand", source)
	case minutes+dischargeTakes > trade.DischargeMinutes:
		c.care("haul_min", plain(minutes), fmt.Sprintf("leaves %.0f minutes to empty the truck", trade.DischargeMinutes-minutes), "smaller loads, or a retarder agreed with the plant", source)
	}
}

// shape checks the dimensions of a placement.
func (c *bidCheck) shape(p Placement) {
	ok := true
	for _, v := range []struct {
		field string
		value float64
		most  float64
	}{{"length_ft", p.LengthFt, longestFt}, {"width_ft", p.WidthFt, longestFt}, {"notch_length_ft", p.NotchLengthFt, longestFt},
		{"notch_width_ft", p.NotchWidthFt, longestFt}, {"area_sqft", p.AreaSqft, mostSqft}} {
		ok = c.number(v.field, v.value, v.most) && ok
	}
	if p.Day < 0 || p.Day > 365 {
		c.bad("day", strconv.Itoa(p.Day), "no day of the job", "1 for the first day of pouring, 2 for the second", "")
	}
	if !ok {
		return
	}
	drawn := p.drawn()
	if !drawn && p.AreaSqft == 0 {
		c.bad("area_sqft", "", "no area", "area_sqft, or length_ft and width_ft", "")
		return
	}
	if p.NotchLengthFt > 0 || p.NotchWidthFt > 0 {
		if !drawn || !(p.NotchLengthFt > 0 && p.NotchLengthFt < p.LengthFt && p.NotchWidthFt > 0 && p.NotchWidthFt < p.WidthFt) {
			c.bad("notch_length_ft", plain(p.NotchLengthFt)+" × "+plain(p.NotchWidthFt), "no corner of this slab", "both sides of the corner that is missing, each less than the slab's", "")
			return
		}
	}
	c.sizes(p)
}

// The least and the most that a placement may be, in ft and ft².
const (
	shortestFt = 0.25
	longestFt  = 5000
	leastSqft  = 1
	mostSqft   = 200_000
)

// sizes checks that the shape is one that can be poured.
func (c *bidCheck) sizes(p Placement) {
	area, given := p.area(), p.AreaSqft
	length, width := p.sides()
	if p.drawn() && given > 0 && math.Abs(given/area-1) > 0.05 {
		c.bad("area_sqft", plain(given), fmt.Sprintf("the dimensions give %.0f ft²", area), "one of the two", "")
	}
	short := min(length, width)
	if p.NotchLengthFt > 0 {
		short = min(short, p.NotchLengthFt, p.NotchWidthFt, p.LengthFt-p.NotchLengthFt, p.WidthFt-p.NotchWidthFt)
	}
	const field = "length_ft, width_ft, area_sqft"
	switch {
	case !(short >= shortestFt):
		c.bad(field, plain(short), "a side of less than 3 in", "the dimensions in ft", "")
	case !(max(length, width) <= longestFt):
		c.bad(field, plain(max(length, width)), "a side longer than any placement has", "the dimensions in ft", "")
	case !(area >= leastSqft && area <= mostSqft):
		c.bad(field, plain(area), "no area of a placement", fmt.Sprintf("%d to %d ft²; several placements where there is more", leastSqft, mostSqft), "")
	case p.JointSpacingFt >= 1 && area/p.JointSpacingFt/p.JointSpacingFt > mostPanels:
		c.bad("joint_spacing_ft", plain(p.JointSpacingFt), "panels beyond counting", "a wider spacing, or several placements", "")
	case area < 4:
		c.care(field, plain(area), "smaller than a doorstep", "check the dimensions", "")
	}
}

// mostPanels bounds the panels of one placement.
const mostPanels = 15_000

// words checks what has to be one of a list.
func (c *bidCheck) words(p Placement) {
	if p.Use == "" {
		c.care("use", "", "not given", "driveway, walkway, patio … : overage and hours differ by use; an average one stands for it", "")
	}
	for _, w := range []struct{ field, value string }{{"method", p.Method}, {"reinforcement", p.Reinforcement}, {"joint_cut", p.JointCut}} {
		if _, unknown := ourWords(w.field, w.value); unknown != "" {
			c.bad(w.field, w.value, fmt.Sprintf("%q is not among our words", unknown), "one of "+strings.Join(vocabulary(w.field).Words, ", "), "")
		}
	}
}

// thickness checks it against what slabs are made with.
func (c *bidCheck) thickness(p Placement) {
	const guide = "common practice: 4 in for walks, patios and drives (ACI 332 and ACI 302.1R, from memory)"
	value := plain(p.ThicknessIn)
	switch t := p.ThicknessIn; {
	case t == 0:
		c.bad("thickness_in", "", "no thickness", "such as 4", "")
	case !(t > 0) || t > 24:
		c.bad("thickness_in", value, "no thickness of a slab", "more than 0 and up to 24 in; did you mean feet or millimetres?", "")
	case t < 2:
		c.bad("thickness_in", value, "thinner than any slab on ground: a topping, which breaks unless it is bonded to a slab", "4 in", guide)
	case t < 3.5:
		c.care("thickness_in", value, "thinner than the usual slab on ground", "4 in", guide)
	case t < 4 && carries(p.Use):
		c.care("thickness_in", value, "thin for wheels", "4 in; 5 in or 6 in for trucks", guide)
	case t > 12:
		c.care("thickness_in", value, "so thick that it holds its heat: no longer flatwork", "ask an engineer", "common practice, no published source")
	}
	if p.MixPSI != 0 && c.number("mix_psi", p.MixPSI, 30000) && p.MixPSI < 2500 {
		c.care("mix_psi", plain(p.MixPSI), "weaker than the least for slabs on ground", "2500 psi, 3500 to 4500 where it freezes", "ACI 332, from memory")
	}
}

// carries says whether wheels run on a use.
func carries(use string) bool { return use == "driveway" || use == "garage slab" || use == "apron" }
