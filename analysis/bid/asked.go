package bid

import (
	"reflect"
	"slices"
	"strings"
	"unicode"

	"pourback/analysis/setting"
	"pourback/analysis/trade"
)

// Mix is the concrete of a day as asked of the plant: one for placements that ask
// for the same. A number that neither the spec nor common practice gives has no
// value.
type Mix struct {
	Placements  []string    `json:"placements"`
	Yd          float64     `json:"neat_yd"` // of these placements
	Name        string      `json:"mix"`     // the plant's own name for it, "" where the spec has none
	PSI         Number      `json:"psi"`
	AggregateIn Number      `json:"max_aggregate_in"`
	SlumpIn     Number      `json:"slump_in"` // its range, where it is common practice
	AirPct      Number      `json:"air_pct"`  // 0 where no air is asked for
	Pumped      bool        `json:"pumped"`   // a pump mix
	FiberLbYd   Number      `json:"fiber_lb_per_yd"`
	Admixtures  []Admixture `json:"admixtures"`
	Freezes     bool        `json:"freezes"` // outdoors where it freezes
}

// Admixture is one, by the trade's word, with its dose where the spec tells it.
type Admixture struct {
	Word string `json:"word"` // retarder, accelerator, water reducer …
	Dose string `json:"dose"` // as written: 3 oz/cwt
}

// asked is the concrete of a day as asked of the plant, placements that ask for the
// same together.
func (w *bidWork) asked(d *bidDay) []Mix {
	var all []Mix
	for _, i := range d.slabs {
		s := w.slabs[i]
		m := w.mix(s)
		at := slices.IndexFunc(all, func(o Mix) bool { return sameMix(o, m) })
		if at < 0 {
			all, at = append(all, m), len(all)
		}
		all[at].Placements, all[at].Yd = append(all[at].Placements, s.Name), all[at].Yd+s.neatYd
	}
	return all
}

// sameMix says whether two ask for the same.
func sameMix(a, b Mix) bool {
	a.Placements, b.Placements, a.Yd, b.Yd = nil, nil, 0, 0
	return reflect.DeepEqual(a, b)
}

// mix is what a placement asks for: what the spec says, and where it says nothing
// common practice, if there is one.
func (w *bidWork) mix(s *bidSlab) Mix {
	m := Mix{Name: s.Mix, Pumped: s.Method == "pump", Freezes: w.freezes() && outdoors(s.Use), Admixtures: admixturesOf(s.Placement)}
	practice := Basis{From: FromPractice, By: ByCommonMix}
	or := func(spec, usual float64, unit string) Number {
		if spec > 0 {
			return number(spec, unit, inSpec, "as asked")
		}
		return number(usual, unit, practice, "common practice")
	}
	m.PSI = or(s.MixPSI, usualPSI(m.Freezes), "psi")
	m.AggregateIn = or(s.MaxAggregateIn, usualRock(s.Method, s.HoseIn), "in")
	m.SlumpIn = or(s.SlumpIn, (leastSlump+mostSlump)/2.0, "in")
	if f := &m.SlumpIn.Figure; s.SlumpIn == 0 {
		f.Low, f.High, f.Level, f.Bounded = leastSlump, mostSlump, 1, true
	}
	switch {
	case s.AirPct != nil:
		m.AirPct = number(*s.AirPct, "%", inSpec, "as asked")
	case m.Freezes:
		m.AirPct = number(usualAirPct(m.AggregateIn.Figure.Value), "%", practice, "common practice")
	default:
		m.AirPct = number(0, "%", practice, "common practice")
	}
	m.FiberLbYd = number(0, "lb/yd", inSpec, "as asked")
	if strings.Contains(s.Reinforcement, "fiber") || s.FiberLbPerYd > 0 {
		set := resolved(s.FiberLbPerYd, nil, "", w.opt.Bid.FiberLbPerYd, setting.DefaultBidPractice().FiberLbPerYd)
		m.FiberLbYd = number(set.value, "lb/yd", set.basis, "dose")
	}
	return m
}

// Common practice for flatwork outdoors, no published source where not said: 4 to 5
// in of slump; 3,500 psi, and 4,000 where it freezes.
const (
	leastSlump, mostSlump = 4, 5
	psiMild, psiFreezing  = 3500, 4000
)

func usualPSI(freezes bool) float64 {
	if freezes {
		return psiFreezing
	}
	return psiMild
}

// usualRock is the larger of the two common rocks, 3/4 and 3/8 in, that a line
// passes safely ([trade.LargestAggregate]); small lines are taken for granted where
// the hose is not told.
func usualRock(method string, hoseIn float64) float64 {
	const large, pea = 0.75, 0.375
	if method != "pump" {
		return large
	}
	if _, safer, err := trade.LargestAggregate(hoseIn); err == nil && safer >= large {
		return large
	}
	return pea
}

// usualAirPct is the air of concrete that freezes wet, by its rock (ACI 318 Table
// 19.3.3.1, exposure F2, from memory), in percent, give or take 1½.
func usualAirPct(rockIn float64) float64 {
	switch {
	case rockIn >= 0.75:
		return 6
	case rockIn >= 0.5:
		return 7
	}
	return 7.5
}

// outdoors says whether a use lies in the weather.
func outdoors(use string) bool {
	return slices.Contains([]string{"driveway", "walkway", "patio", "apron", "curb", "steps", "other"}, use)
}

// freezes says whether slabs freeze here: as set, or since a pour on record had air
// at or under 32 °F.
func (w *bidWork) freezes() bool {
	const freezing = 32
	if w.opt.Pour.Freezes {
		return true
	}
	for i := range w.h.Placements.Len() {
		if air := w.h.Placements.At(i).AirTempF(); air.OK && air.V <= freezing {
			return true
		}
	}
	return false
}

// admixturesOf are those that a placement asks for, each word apart from its dose.
func admixturesOf(p Placement) []Admixture {
	all := []Admixture{}
	if r := strings.TrimSpace(p.Retarder); r != "" && !strings.EqualFold(r, "no") {
		a := Admixture{Word: Retarder, Dose: r}
		if strings.EqualFold(r, "yes") {
			a.Dose = ""
		}
		all = append(all, a)
	}
	for _, text := range p.Admixtures {
		at := strings.IndexFunc(text, unicode.IsDigit)
		if at < 0 {
			at = len(text)
		}
		all = append(all, Admixture{Word: strings.TrimSpace(text[:at]), Dose: strings.TrimSpace(text[at:])})
	}
	return all
}

// Retarder is the trade's word for what makes concrete set later.
const Retarder = "retarder"

// slower is by how many hours at 70 °F a placement's admixtures make it set later
// at least: an hour for a retarder, one earlier for an accelerator (ASTM C494, types
// B and C, from memory).
func slower(p Placement) (hours float64) {
	for _, a := range admixturesOf(p) {
		switch word := strings.ToLower(a.Word); {
		case strings.Contains(word, "retard"), strings.Contains(word, "delay"), strings.Contains(word, "stabiliz"):
			hours++
		case strings.Contains(word, "accelerat"), strings.Contains(word, "calcium"):
			hours--
		}
	}
	return min(max(hours, -1), 1)
}
