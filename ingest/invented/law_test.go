package invented

import (
	"math"
	"strings"
	"sync"
	"testing"

	"pourback/ingest/record"
)

// The checks in this file ask of a large history what an analysis would ask,
// straight from the records where they tell, and compare with the truth. They
// allow four standard errors: chance alone breaks that once in 16,000 times.
const allowed = 4

type history struct {
	*record.History
	truth Truth
}

var large = sync.OnceValue(func() history { return invent(Options{Jobs: 20_000, Seed: 3, Until: until}) })

func invent(opt Options) history {
	set, truth, err := Generate(opt)
	if err != nil {
		panic(err)
	}
	return history{record.NewHistory(opt.Until, set), truth}
}

// sums gathers departures from what is expected, by group.
type sums map[string]*struct{ n, off, variance float64 }

func (s sums) add(group string, off, variance float64) {
	g := s[group]
	if g == nil {
		g = &struct{ n, off, variance float64 }{}
		s[group] = g
	}
	g.n, g.off, g.variance = g.n+1, g.off+off, g.variance+variance
}

// z is a group's departure in standard errors.
func (s sums) z(group string) float64 { return s[group].off / math.Sqrt(s[group].variance) }

func (s sums) check(t *testing.T, what string) {
	t.Helper()
	for group, g := range s {
		if z := s.z(group); !(math.Abs(z) < allowed) {
			t.Errorf("%s, %s (%v of them): %.1f standard errors from the truth", what, group, g.n, z)
		}
	}
}

// TestOverageLaw: used/neat by use, method, base and size, and its spread.
func TestOverageLaw(t *testing.T) {
	h := large()
	mean, spread := sums{}, sums{}
	for i := range h.Placements.Len() {
		p, s := h.Placements.Row(i), &h.truth.Slabs[i]
		if s.Botched {
			continue
		}
		off := s.UsedYd/s.NeatYd - 1 - h.truth.Overage(p.Use, p.Method, p.Base, s.NeatYd)
		v := math.Pow(h.truth.OverageSD(s.NeatYd), 2)
		for _, group := range []string{p.Use + " by " + p.Method, "on " + p.Base, sizeOf(s.NeatYd)} {
			mean.add(group, off, v)
		}
		spread.add(sizeOf(s.NeatYd), off*off/v-1, 2) // the variance of a χ² of one degree
	}
	mean.check(t, "overage")
	spread.check(t, "variance of overage")
}

func sizeOf(yd float64) string {
	switch {
	case yd < 4:
		return "small"
	case yd < 10:
		return "middling"
	}
	return "large"
}

// TestPlacementsAreIndependent: what one placement of a job takes says nothing
// about the next one.
func TestPlacementsAreIndependent(t *testing.T) {
	h := large()
	together, before := sums{}, 0.0
	for i := range h.Placements.Len() {
		p, s := h.Placements.Row(i), &h.truth.Slabs[i]
		off := (s.UsedYd/s.NeatYd - 1 - h.truth.Overage(p.Use, p.Method, p.Base, s.NeatYd)) / h.truth.OverageSD(s.NeatYd)
		if s.Botched {
			off = 0
		}
		if i > 0 && p.JobNo == h.Placements.Row(i-1).JobNo {
			together.add("overage", before*off, 1)
		}
		before = off
	}
	together.check(t, "neighbours")
}

// TestOneVisitADay: a visit that was planned for the day of a callback is the
// callback.
func TestOneVisitADay(t *testing.T) {
	h := large()
	for i := range h.Placements.Len() {
		visits := h.VisitsOf(i)
		for n := 1; n < len(visits); n++ {
			if visits[n].SeenOn == visits[n-1].SeenOn {
				t.Fatalf("%s %s: two visits on %s", visits[n].JobNo, visits[n].Placement, visits[n].SeenOn)
			}
		}
	}
}

// TestRecordsTellWhatWasUsed: delivered less leftover is what was used, to the
// tenth of a yard, except that a little too little is raked thin; and pours do
// run short, with an extra load, or leave something over.
func TestRecordsTellWhatWasUsed(t *testing.T) {
	h := large()
	short, leftover := 0, 0
	for i := range h.Placements.Len() {
		p := h.Placements.Row(i)
		if p.DeliveredYd.V > p.PlannedYd.V {
			short++
		}
		if p.LeftoverYd.V > 0 {
			leftover++
		}
		used := p.Used()
		if !used.OK {
			continue
		}
		thin := h.truth.Slabs[i].UsedYd - used.V
		if thin < -0.05-1e-9 || thin > stretchYd+0.05 || thin > 0.05+1e-9 && p.LeftoverYd.V > 0 {
			t.Fatalf("%s %s: used %v, recorded %v", p.JobNo, p.Placement, h.truth.Slabs[i].UsedYd, used.V)
		}
	}
	n := float64(h.Placements.Len())
	if s, l := float64(short)/n, float64(leftover)/n; s < 0.1 || s > 0.4 || l < 0.8 {
		t.Errorf("%.2f ran short, %.2f had something over", s, l)
	}
}

// TestHoursLaw: recorded hours less the waiting, by crew, method and
// reinforcement, with the crew's placements counted from the records.
func TestHoursLaw(t *testing.T) {
	h := large()
	off := sums{}
	for i, r := range h.hoursOff() {
		p := h.Placements.Row(i)
		v := math.Pow(h.truth.Labor.Noise, 2)
		for _, group := range []string{p.Crew, "by " + p.Method, p.Reinforcement, sizeOf(p.Neat().V)} {
			off.add(group, r, v)
		}
	}
	off.check(t, "log hours")
}

// hoursOff is log(hours / median) of every placement.
func (h history) hoursOff() []float64 {
	off := make([]float64, h.Placements.Len())
	for i := range h.Placements.Len() {
		p, s := h.Placements.Row(i), &h.truth.Slabs[i]
		median := h.truth.Hours(p.AreaSqft.V, p.ThicknessIn.V, p.Method, p.Reinforcement, p.Crew, s.CrewPlacement)
		off[i] = math.Log((p.LaborHours.V - s.WaitHours) / median)
	}
	return off
}

// TestLearning fits the slope of Wren's log hours on the log of the placement's
// number, over the first 25 of many companies.
func TestLearning(t *testing.T) {
	var n, x, y, xx, xy float64
	for seed := range uint64(40) {
		h := invent(Options{Seed: seed, Until: until})
		for i, off := range h.hoursOff() {
			k := h.truth.Slabs[i].CrewPlacement
			if h.Placements.Row(i).Crew != "Wren" || k > 25 {
				continue
			}
			lx := math.Log(float64(k) / 25)
			ly := off + h.truth.Labor.Learning*lx // the learning put back
			n, x, y, xx, xy = n+1, x+lx, y+ly, xx+lx*lx, xy+lx*ly
		}
	}
	spread := xx - x*x/n
	near(t, "learning", (xy-x*y/n)/spread, -0.22, allowed*0.18/math.Sqrt(spread))
}

// TestCrewsAreCountedInOrder: a crew's placements are numbered as the records
// tell them, by day and then by job and placement, and Wren starts in the
// second year.
func TestCrewsAreCountedInOrder(t *testing.T) {
	h := invent(Options{Seed: 11, Until: until})
	type last struct {
		on record.Date
		at int
	}
	byNumber := map[string]map[int]last{}
	for i := range h.Placements.Len() {
		p := h.Placements.Row(i)
		if byNumber[p.Crew] == nil {
			byNumber[p.Crew] = map[int]last{}
		}
		byNumber[p.Crew][h.truth.Slabs[i].CrewPlacement] = last{p.PlacedOn, i}
	}
	for crew, numbered := range byNumber {
		for k := 2; k <= len(numbered); k++ {
			a, b := numbered[k-1], numbered[k]
			if a.on == 0 || b.on == 0 || a.on > b.on || a.on == b.on && a.at > b.at {
				t.Fatalf("%s: placements %d and %d on %s and %s", crew, k-1, k, a.on, b.on)
			}
		}
	}
	first := until - record.Date(1278)
	if began := byNumber["Wren"][1].on; began < first+365 || began > first+500 {
		t.Errorf("Wren began on %s, the records on %s", began, first)
	}
}

// TestClogLaw: clogs by outfit, and by hose and aggregate as a whole, are
// Poisson in the yards delivered, with tails computed term by term.
func TestClogLaw(t *testing.T) {
	h := large()
	clogs, expected := map[string]int{}, map[string]float64{}
	for i := range h.Placements.Len() {
		p := h.Placements.Row(i)
		if !p.Pumped() {
			continue
		}
		for _, group := range []string{p.PumpOutfit, record.FieldText(&p.HoseIn) + " in hose", sizeOf(p.Neat().V)} {
			clogs[group] += int(p.Clogs.V)
			expected[group] += h.truth.ClogRate(p.PumpOutfit) * p.DeliveredYd.V / 100
		}
	}
	for group, mean := range expected {
		atMost, atLeast := poissonTails(clogs[group], mean)
		if atMost < 3e-5 || atLeast < 3e-5 {
			t.Errorf("%s: %d clogs, expected %.1f", group, clogs[group], mean)
		}
	}
}

// poissonTails are P(X ≤ k) and P(X ≥ k).
func poissonTails(k int, mean float64) (atMost, atLeast float64) {
	for i := 0; i <= k; i++ {
		logGamma, _ := math.Lgamma(float64(i) + 1)
		atMost += math.Exp(float64(i)*math.Log(mean) - mean - logGamma)
	}
	logGamma, _ := math.Lgamma(float64(k) + 1)
	return atMost, 1 - atMost + math.Exp(float64(k)*math.Log(mean)-mean-logGamma)
}

// TestDelayLaw: minutes by spot of clogs and how often other causes strike.
func TestDelayLaw(t *testing.T) {
	h := large()
	spots, causes := sums{}, map[string]float64{}
	for i := range h.Delays {
		d := &h.Delays[i]
		if d.Note == "" {
			causes[d.Cause]++
		}
		for _, s := range h.truth.Pump.Spots {
			if d.Spot == s.Name {
				sd := h.truth.Pump.SpotSD
				spots.add(s.Name, float64(d.Minutes.V)-s.MeanMin, s.MeanMin*s.MeanMin*math.Expm1(sd*sd))
			}
		}
	}
	spots.check(t, "minutes per clog")
	n := float64(h.Placements.Len())
	for _, c := range h.truth.Delays {
		near(t, c.Name, causes[c.Name]/n, c.Chance, allowed*math.Sqrt(c.Chance/n))
	}
}

// TestMoney: margins mostly between 15 and 30 %, some losses; one price rise.
func TestMoney(t *testing.T) {
	h := large()
	usual, lost := 0.0, 0.0
	for j := range h.Jobs.Len() {
		margin := 1 - h.Jobs.Row(j).ActualCost.V.Dollars()/h.Jobs.Row(j).ContractPrice.V.Dollars()
		if margin >= 0.15 && margin <= 0.30 {
			usual++
		}
		if margin < 0 {
			lost++
		}
	}
	n := float64(h.Jobs.Len())
	if usual/n < 0.5 || lost/n < 0.01 || lost/n > 0.10 {
		t.Errorf("%.2f of jobs made 15 to 30 %%, %.3f lost money", usual/n, lost/n)
	}
	rates := map[bool]map[record.Cents]bool{false: {}, true: {}}
	for j := range h.Jobs.Len() {
		from, _ := h.PlacementsOf(j)
		p := h.Placements.Row(from)
		if p.Mix != "North 3500" {
			continue
		}
		for _, c := range h.CostsOf(j) {
			if c.Item == "concrete" {
				rates[p.PlacedOn >= h.truth.Money.RiseOn][c.ActualRate.V] = true
			}
		}
	}
	if len(rates[false]) != 1 || len(rates[true]) != 1 || !rates[false][164_00] || !rates[true][176_25] {
		t.Errorf("prices before and after the rise: %v", rates)
	}
}

// TestSteelFollowsTheSeason: mesh in the hot months, rebar in the cool ones,
// unless the choice is a coin's.
func TestSteelFollowsTheSeason(t *testing.T) {
	share := func(h history, hot bool) float64 {
		var mesh, steel float64
		for i := range h.Placements.Len() {
			p := h.Placements.Row(i)
			if t := normalF(p.PlacedOn); hot && t < 78 || !hot && t > 50 || p.Bar == "" {
				continue
			}
			steel++
			if strings.HasPrefix(p.Reinforcement, "mesh") {
				mesh++
			}
		}
		return mesh / steel
	}
	if hot, cool := share(large(), true), share(large(), false); hot < 0.75 || cool > 0.30 {
		t.Errorf("mesh in %.2f of hot and %.2f of cool slabs with steel", hot, cool)
	}
	fair := invent(Options{Jobs: 5000, Seed: 3, Until: until, Adjust: func(t *Truth) { t.Choice.MeshPerF = 0 }})
	if hot, cool := share(fair, true), share(fair, false); math.Abs(hot-cool) > 0.08 {
		t.Errorf("a fair coin: mesh in %.2f of hot and %.2f of cool slabs with steel", hot, cool)
	}
}
