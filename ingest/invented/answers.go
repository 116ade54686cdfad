package invented

import (
	"math"
	"strings"

	"pourback/ingest/record"
)

// Covariates are what a placement's cracking depends on.
type Covariates struct {
	Reinforcement string  // none, mesh, rebar, fiber; two joined by +
	SpacingFt     float64 // joint spacing
	ThicknessIn   float64
	AirTempF      float64
	ConcreteTempF float64
	HumidityPct   float64
	WindMPH       float64
	SawHours      float64 // 0 where nothing was sawn
	Cured         bool
}

// CovariatesOf reads a placement's covariates from its record. It is false
// where one of them is missing; what really was is in [Truth.Slabs].
func CovariatesOf(p *record.Placement) (c Covariates, ok bool) {
	c = Covariates{Reinforcement: p.Reinforcement, SpacingFt: p.JointSpacingFt.V, ThicknessIn: p.ThicknessIn.V,
		AirTempF: p.AirTempF.V, ConcreteTempF: p.ConcreteTempF.V, HumidityPct: p.HumidityPct.V, WindMPH: p.WindMPH.V,
		SawHours: p.SawHours.V, Cured: p.Curing != "none"}
	ok = p.Reinforcement != "" && p.Curing != "" && p.JointSpacingFt.OK && p.ThicknessIn.OK && p.AirTempF.OK &&
		p.ConcreteTempF.OK && p.HumidityPct.OK && p.WindMPH.OK && (p.SawHours.OK || !strings.Contains(p.JointCut, "saw"))
	return c, ok
}

// Overage is the expected used/neat − 1 of a sound placement of so many neat yd³.
func (t *Truth) Overage(use, method, base string, neatYd float64) float64 {
	return t.Loss.ByUse[use] + t.Loss.ByBase[base] + t.Loss.FixedYd[method]/neatYd
}

// OverageSD is the standard deviation of used/neat around [Truth.Overage].
func (t *Truth) OverageSD(neatYd float64) float64 {
	return t.Loss.Noise * math.Sqrt(1+t.Loss.NoiseSmall/neatYd)
}

// Hours is the median person-hours, waiting apart, of a crew's k-th placement
// in the records; k counts only for a crew that is new in them.
func (t *Truth) Hours(areaSqft, thicknessIn float64, method, reinforcement, crew string, k int) float64 {
	l := &t.Labor
	log := l.AreaPower*math.Log(areaSqft/400) + l.ThickPower*math.Log(thicknessIn/4) +
		l.ByMethod[method] + sumOver(l.ByReinforcement, reinforcement)
	for _, c := range l.Crews {
		if c.Name != crew {
			continue
		}
		log += c.Effect
		if c.Started != 0 {
			log += l.Learning * math.Log(math.Min(float64(k), l.LearnedAt)/l.LearnedAt)
		}
	}
	return l.Hours400 * math.Exp(log)
}

// LearningRate is what hours fall to when a new crew's placements double.
func (t *Truth) LearningRate() float64 { return math.Exp2(t.Labor.Learning) }

// ClogRate is the outfit's clogs per 100 yd³ delivered; 0 for none of the outfits.
func (t *Truth) ClogRate(outfit string) float64 {
	for _, o := range t.Pump.Outfits {
		if o.Name == outfit {
			return o.ClogsPer100Yd
		}
	}
	return 0
}

// MinutesPerClog is the mean over the spots where clogs sit.
func (t *Truth) MinutesPerClog() float64 {
	mean, total := 0.0, 0.0
	for _, s := range t.Pump.Spots {
		mean += s.Share * s.MeanMin
		total += s.Share
	}
	return mean / total
}

// LogHazard is x·β: the log of the hazard ratio of a slab with these covariates
// against a plain, uncured one poured in mild air with joints by the guide.
func (t *Truth) LogHazard(x Covariates) float64 {
	c := &t.Crack
	log := sumOver(c.ByReinforcement, x.Reinforcement) +
		c.PerSpacing*(x.SpacingFt/x.ThicknessIn-c.SpacingAt) +
		c.Per10F*(x.AirTempF-c.HeatAt)/10 +
		c.PerSawHour*max(0, x.SawHours-c.SawBy)
	if evaporation(x.ConcreteTempF, x.AirTempF, x.HumidityPct, x.WindMPH) >= c.DryingLimit {
		log += c.Drying
	}
	if x.Cured {
		log += c.Cured
	}
	return log
}

// CrackRisk is the chance that a slab has cracked by so many days after its
// pour, whether or not anybody has seen it.
func (t *Truth) CrackRisk(x Covariates, days float64) float64 {
	return -math.Expm1(-t.Crack.cracksBy(days) * math.Exp(t.LogHazard(x)))
}

// CallbackRisk is the chance of a crack callback by so many days after the
// pour, were no other kind of callback to come first.
func (t *Truth) CallbackRisk(x Covariates, days float64) float64 {
	return -math.Expm1(-t.Crack.callsBy(days) * math.Exp(t.LogHazard(x)))
}

// Risk1Yr is [Truth.CallbackRisk] at 365 days, the one-year risk of the reports.
func (t *Truth) Risk1Yr(x Covariates) float64 { return t.CallbackRisk(x, 365) }

// MeanRisk1Yr is the mean one-year callback risk over a set of slabs, had all
// of them had this reinforcement; "" leaves each its own.
func (t *Truth) MeanRisk1Yr(slabs []Slab, reinforcement string) float64 {
	calls, sum := t.Crack.callsBy(365), 0.0
	for i := range slabs {
		x := slabs[i].Covariates
		if reinforcement != "" {
			x.Reinforcement = reinforcement
		}
		sum -= math.Expm1(-calls * math.Exp(t.LogHazard(x)))
	}
	return sum / max(1, float64(len(slabs)))
}

// MeshLessRebar is the standardised difference of one-year callback risk, mesh
// less rebar, over a set of slabs: what an adjusted comparison should find.
func (t *Truth) MeshLessRebar(slabs []Slab) float64 {
	return t.MeanRisk1Yr(slabs, "mesh") - t.MeanRisk1Yr(slabs, "rebar")
}

// cracksBy is the cumulative intensity of cracks at x·β = 0.
func (c *Crack) cracksBy(days float64) float64 {
	return c.Base * math.Pow(max(0, days)/365, c.Shape)
}

// callsBy is the cumulative intensity of callbacks at x·β = 0: every crack
// counts with the chance that the customer has called about it by then. It is
// integrated over equal steps of crack intensity, which tames the crowd of
// cracks in the first days.
func (c *Crack) callsBy(days float64) float64 {
	const steps = 1000
	all := c.cracksBy(days)
	if all == 0 {
		return 0
	}
	sum := 0.0
	for i := range steps {
		arose := days * math.Pow((float64(i)+0.5)/steps, 1/c.Shape)
		sum += c.calledBy(days, arose)
	}
	return all * c.Reported * sum / steps
}

// calledBy is the chance that a crack the customer will report, if he gets to
// it in time, has been called in by the day.
func (c *Crack) calledBy(day, arose float64) float64 {
	late := c.lagged(day, arose)
	opens := c.WarrantyDays - c.BunchDays
	missed := within((arose-opens)/c.BunchDays, 0, 1) // the day meant for the call was already past
	bunched := max(0, min(day, c.WarrantyDays)-max(arose, opens))/c.BunchDays + missed*late
	return (1-c.Bunched)*late + c.Bunched*bunched
}

// lagged is the same for a call after an exponential lag.
func (c *Crack) lagged(day, arose float64) float64 {
	made := func(until float64) float64 { return -math.Expm1(-max(0, until-arose) / c.LagDays) }
	in := made(min(day, c.WarrantyDays))
	return in + c.AfterWarranty*(made(day)-in)
}

// sumOver adds the effects of words joined by +.
func sumOver(effects map[string]float64, words string) float64 {
	sum := 0.0
	for word := range strings.SplitSeq(words, "+") {
		sum += effects[word]
	}
	return sum
}
