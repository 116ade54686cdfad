package bid

import (
	"cmp"
	"math"
	"strconv"

	"pourback/analysis/trade"
)

// Check finds all that is wrong or unwise in a spec, the fatal and the rest.
func Check(spec Spec) Problems {
	c := &bidCheck{}
	c.job(spec)
	names := map[string]bool{}
	for i, p := range spec.Placements {
		c.at = p.name(i)
		if names[c.at] {
			c.bad("name", c.at, NameTwice)
		}
		names[c.at] = true
		c.shape(p)
		c.words(p)
		c.thickness(p)
		c.steel(p)
		c.joints(p)
		c.pump(p)
		c.mix(p)
	}
	return c.ps
}

// bidCheck gathers the problems of a spec.
type bidCheck struct {
	ps Problems
	at string // the placement looked at, "" for the job
}

// bad is a problem with which no bid can be made; care one to be careful of.
func (c *bidCheck) bad(field, value string, what What, amounts ...Amounts) {
	c.note(field, value, what, true, amounts)
}

func (c *bidCheck) care(field, value string, what What, amounts ...Amounts) {
	c.note(field, value, what, false, amounts)
}

func (c *bidCheck) note(field, value string, what What, fatal bool, amounts []Amounts) {
	p := Problem{Placement: c.at, Field: field, Value: value, What: what, Error: fatal}
	if len(amounts) > 0 {
		p.Amounts = amounts[0]
	}
	c.ps = append(c.ps, p)
}

// number refuses a value below 0 or above most, or no number at all.
func (c *bidCheck) number(field string, v, most float64) bool {
	switch {
	case !(v >= 0) || math.IsInf(v, 0):
		c.bad(field, plain(v), NoNumber)
	case v > most:
		c.bad(field, plain(v), TooMuch, Amounts{Most: most})
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
		c.bad("placements", strconv.Itoa(n), WrongCount, Amounts{Most: mostPlacements})
	}
	if _, ok := bidMonth(s.On); !ok {
		c.bad("on", s.On, NoDay)
	}
	c.number("crew_size", s.CrewSize, 200)
	c.number("warranty_months", s.WarrantyMonths, 600)
	c.share("target_margin", s.TargetMargin, NoTarget)
	c.share("certainty", s.Certainty, NoCertainty)
	if s.Draws < 0 || s.Draws > mostDraws {
		c.bad("draws", strconv.Itoa(s.Draws), WrongDraws, Amounts{Most: mostDraws, Usual: usualDraws})
	}
	if c.number("haul_min", s.HaulMin, 24*60) {
		c.haul(s.HaulMin, cmp.Or(s.DischargeLimitMin, trade.DischargeMinutes))
	}
	c.day(s)
	for _, p := range s.Prices.named() {
		c.number("prices."+p.name, p.value, mostDollars)
	}
	c.number("overhead", s.Overhead, 3)
	c.number("contingency", s.Contingency, 1)
	for _, word := range s.NoneNeeded {
		if lineNamed(word) == "" {
			c.bad("none_needed", word, UnknownWord, Amounts{Word: word, Words: owedNames()})
		}
	}
	for _, item := range s.Items {
		c.number("items."+item.Item, item.Amount, 1e9)
	}
}

func (c *bidCheck) share(field string, v float64, what What) {
	switch {
	case v > 1 && v < 100:
		c.bad(field, plain(v), Percentage, Amounts{Usual: v / 100})
	case !(v >= 0 && v < 1):
		c.bad(field, plain(v), what)
	}
}

// dischargeTakes is the minutes that emptying a truck is reckoned with (common
// practice, no published source).
const dischargeTakes = 30

func (c *bidCheck) haul(minutes, limit float64) {
	switch {
	case minutes >= limit:
		c.care("haul_min", plain(minutes), TooFar)
	case minutes+dischargeTakes > limit:
		c.care("haul_min", plain(minutes), LongHaul, Amounts{Is: limit - minutes})
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
		c.bad("day", strconv.Itoa(p.Day), NoDayOfJob)
	}
	if !ok {
		return
	}
	drawn := p.drawn()
	if !drawn && p.AreaSqft == 0 && p.Steps == (Steps{}) {
		c.bad("area_sqft", "", NoArea)
		return
	}
	if p.NotchLengthFt > 0 || p.NotchWidthFt > 0 {
		if !drawn || !(p.NotchLengthFt > 0 && p.NotchLengthFt < p.LengthFt && p.NotchWidthFt > 0 && p.NotchWidthFt < p.WidthFt) {
			c.bad("notch_length_ft", plain(p.NotchLengthFt)+" × "+plain(p.NotchWidthFt), NoNotch)
			return
		}
	}
	if c.geometry(p) && !p.StepsOnly() {
		c.sizes(p)
	}
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
	area, given := p.outline().AreaFt2(), p.AreaSqft
	for _, h := range p.holes() {
		area -= h.AreaFt2()
	}
	length, width := p.sides()
	if p.drawn() && given > 0 && math.Abs(given/area-1) > 0.05 {
		c.bad("area_sqft", plain(given), TwoAreas, Amounts{Is: area})
	}
	short := min(length, width)
	if p.NotchLengthFt > 0 {
		short = min(short, p.NotchLengthFt, p.NotchWidthFt, p.LengthFt-p.NotchLengthFt, p.WidthFt-p.NotchWidthFt)
	}
	const field = "length_ft, width_ft, area_sqft"
	switch {
	case !(short >= shortestFt):
		c.bad(field, plain(short), ShortSide)
	case !(max(length, width) <= longestFt):
		c.bad(field, plain(max(length, width)), LongSide)
	case !(area >= leastSqft && area <= mostSqft):
		c.bad(field, plain(area), WrongArea, Amounts{Least: leastSqft, Most: mostSqft})
	case p.JointSpacingFt >= 1 && area/p.JointSpacingFt/p.JointSpacingFt > mostPanels:
		c.bad("joint_spacing_ft", plain(p.JointSpacingFt), TooManyPanels)
	case area < 4:
		c.care(field, plain(area), TinyArea)
	}
}

// mostPanels bounds the panels of one placement.
const mostPanels = 15_000

// words checks what has to be one of a list.
func (c *bidCheck) words(p Placement) {
	if p.Use == "" {
		c.care("use", "", NoUse)
	}
	for _, w := range []struct{ field, value string }{{"method", p.Method}, {"reinforcement", p.Reinforcement}, {"joint_cut", p.JointCut}} {
		if _, unknown := ourWords(w.field, w.value); unknown != "" {
			c.bad(w.field, w.value, UnknownWord, Amounts{Word: unknown, Words: vocabulary(w.field).Words})
		}
	}
}

// thickness checks it against what slabs are made with.
func (c *bidCheck) thickness(p Placement) {
	value := plain(p.ThicknessIn)
	switch t := p.leastIn(); {
	case t == 0 && (len(p.Depths) > 0 || p.StepsOnly() && p.Steps.Solid):
	case t == 0:
		c.bad("thickness_in", "", NoThickness)
	case !(t > 0) || t > 24:
		c.bad("thickness_in", value, WrongThickness, Amounts{Most: 24})
	case t < 2:
		c.bad("thickness_in", value, Topping, Amounts{Usual: 4})
	case t < 3.5:
		c.care("thickness_in", value, Thin, Amounts{Usual: 4})
	case t < 4 && carries(p.Use):
		c.care("thickness_in", value, ThinForWheels, Amounts{Usual: 4, Least: 5, Most: 6})
	case t > 12:
		c.care("thickness_in", value, Massive)
	}
	if p.MixPSI != 0 && c.number("mix_psi", p.MixPSI, 30000) && p.MixPSI < 2500 {
		c.care("mix_psi", plain(p.MixPSI), WeakMix, Amounts{Usual: 2500, Least: 3500, Most: 4500})
	}
}

// carries says whether wheels run on a use.
func carries(use string) bool { return use == "driveway" || use == "garage slab" || use == "apron" }
