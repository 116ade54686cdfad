package invented

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %v, want %v ± %v", what, got, want, tolerance)
	}
}

// TestEvaporation holds the formula to values computed from it elsewhere and to
// the printed example of the ACI 305R nomograph (0.24 lb/ft²/h; inputs from memory).
func TestEvaporation(t *testing.T) {
	for _, c := range []struct{ concrete, air, humidity, wind, want, tolerance float64 }{
		{87, 80, 50, 12, 0.2435, 0.001},
		{70, 70, 50, 10, 0.1025, 5e-4},
		{90, 90, 20, 10, 0.3074, 5e-4},
		{95, 100, 10, 10, 0.3898, 1e-3},
		{60, 100, 50, 5, 0, 0},
	} {
		near(t, "evaporation", evaporation(c.concrete, c.air, c.humidity, c.wind), c.want, c.tolerance)
	}
}

// TestOverageByHand: a 4 yd walkway pumped onto native soil takes 0.075 for the
// use, 0.020 for the soil and 0.40 yd in the line, which is 0.10 of 4 yd.
func TestOverageByHand(t *testing.T) {
	truth := usualTruth(until-1000, until)
	near(t, "overage", truth.Overage("walkway", "pump", "native", 4), 0.195, 1e-12)
	near(t, "sd at 2 yd", truth.OverageSD(2), 0.035*math.Sqrt2, 1e-12)
}

// TestHoursByHand: Heron's 800 ft² at 4 in of plain concrete by chute are
// 26·2^0.85·e^-0.08 hours. A new crew's first placement takes 25^0.22 times
// what its twenty-fifth does, and 2^-0.22 of an hour's work is left when its
// placements double (Wright 1936).
func TestHoursByHand(t *testing.T) {
	truth := usualTruth(until-1000, until)
	near(t, "hours", truth.Hours(800, 4, "chute", "none", "Heron", 1), 26*1.80250093*0.92311635, 1e-5)
	hours := func(k int) float64 { return truth.Hours(400, 4, "chute", "none", "Wren", k) }
	near(t, "first", hours(1)/hours(25), math.Pow(25, 0.22), 1e-9)
	near(t, "doubled", hours(8)/hours(4), truth.LearningRate(), 1e-12)
	near(t, "learned", hours(300), hours(25), 1e-12)
}

// TestLogHazardByHand: mesh, 12 ft joints in 4 in, 90 °F in drying wind, sawn at
// 15 h, cured: -0.25 + 0.45·(3-2.5) + 0.30·2 + 0.30 + 0.06·3 - 0.30.
func TestLogHazardByHand(t *testing.T) {
	truth := usualTruth(until-1000, until)
	x := Covariates{Reinforcement: "mesh", SpacingFt: 12, ThicknessIn: 4, AirTempF: 90, ConcreteTempF: 90,
		HumidityPct: 20, WindMPH: 10, SawHours: 15, Cured: true}
	near(t, "log hazard", truth.LogHazard(x), 0.755, 1e-12)
	x.Reinforcement, x.WindMPH, x.Cured = "mesh+fiber", 0, false
	near(t, "log hazard", truth.LogHazard(x), 0.655, 1e-12)
}

// TestCallsInTheLimit: customers who call about every crack at once make the
// callback risk the crack risk, 1 - exp(-Base·(t/365)^Shape) at x·β = 0.
func TestCallsInTheLimit(t *testing.T) {
	truth := usualTruth(until-1000, until)
	mild := Covariates{Reinforcement: "none", SpacingFt: 10, ThicknessIn: 4, AirTempF: 70, ConcreteTempF: 74, HumidityPct: 60}
	near(t, "cracked", truth.CrackRisk(mild, 365), 1-math.Exp(-0.22), 1e-12)
	truth.Crack.Reported, truth.Crack.LagDays, truth.Crack.Bunched = 1, 1e-9, 0
	for _, days := range []float64{1, 30, 365} {
		near(t, "called", truth.CallbackRisk(mild, days), truth.CrackRisk(mild, days), 1e-9)
	}
	truth.Crack.Reported = 0.5
	near(t, "half called", truth.CallbackRisk(mild, 365), 1-math.Exp(-0.11), 1e-9)
	near(t, "on the day", truth.CallbackRisk(mild, 0), 0, 0)
}

// TestCalledByMatchesTheDice draws calls about cracks of one age and compares
// with the integral that the risks rest on, before, inside and after the bunch.
func TestCalledByMatchesTheDice(t *testing.T) {
	c := newCompany(Options{Jobs: 1, Until: until, Years: 1})
	crack := &c.truth.Crack
	crack.Bunched = 0.5 // more than usual, to be seen
	const n = 200_000
	for _, arose := range []float64{0.5, 200, 345, 364, 400} {
		d := c.dice.of(forCracks, int(arose*2))
		on := make([]float64, n)
		for i := range on {
			on[i] = c.called(d, arose)
		}
		for _, day := range []float64{20, 250, 350, 365, 420, 600} {
			by := 0
			for _, at := range on {
				if at > 0 && at <= day {
					by++
				}
			}
			want := crack.Reported * crack.calledBy(day, arose)
			if day < arose {
				want = 0
			}
			near(t, "called by", float64(by)/n, want, 4*math.Sqrt(0.25/n)+1e-12)
		}
	}
}

// TestMeshLessRebar: over one slab it is the difference of its two risks.
func TestMeshLessRebar(t *testing.T) {
	truth := usualTruth(until-1000, until)
	x := Covariates{Reinforcement: "none", SpacingFt: 10, ThicknessIn: 4, AirTempF: 90, ConcreteTempF: 88, HumidityPct: 30, WindMPH: 9}
	mesh, rebar := x, x
	mesh.Reinforcement, rebar.Reinforcement = "mesh", "rebar"
	got := truth.MeshLessRebar([]Slab{{Covariates: x}})
	near(t, "difference", got, truth.Risk1Yr(mesh)-truth.Risk1Yr(rebar), 1e-12)
	near(t, "hazard ratio", math.Log(1-truth.Risk1Yr(mesh))/math.Log(1-truth.Risk1Yr(rebar)), math.Exp(-0.25+0.37), 1e-9)
	if got <= 0 {
		t.Errorf("mesh less rebar is %v", got)
	}
}
