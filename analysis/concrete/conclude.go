package concrete

import (
	"cmp"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// silent gives the reason to every figure of the next job.
func (o *Overage) silent(because figure.Reason) {
	why := figure.Unknown(because)
	o.Why = because
	o.All.nothing(why)
	for k := range o.Groups {
		o.Groups[k].nothing(why)
	}
	for _, method := range []string{"chute", "pump"} {
		o.Fixed[method] = why
	}
	o.Checks.Odd.Worst = []OddPlacement{}
}

// conclude says which orders are spoken of first, and what they stand on that
// is not in the records.
func (o *Overage) conclude(w *overageWork) {
	o.First = o.commonest()
	if len(o.First) == 0 {
		o.Why = slices.MaxFunc(o.Groups, func(x, y Group) int { return cmp.Compare(x.N, y.N) }).OrderYd.Why
	}
	o.Alike = w.alike()
	o.Apart = o.crewsApart(w.costs)
}

// commonest are the two commonest ways of placing the commonest use, by their
// numbers, as far as there is an order for them.
func (o *Overage) commonest() []int {
	by := map[string]int{}
	for _, g := range o.Groups {
		by[g.Use] += g.N
	}
	var kinds []int
	for k, g := range o.Groups {
		if !g.OrderAllowance.Known() {
			continue
		}
		switch {
		case len(kinds) == 0 || by[g.Use] > by[o.Groups[kinds[0]].Use]:
			kinds = []int{k}
		case g.Use == o.Groups[kinds[0]].Use:
			kinds = append(kinds, k)
		}
	}
	slices.SortStableFunc(kinds, func(x, y int) int { return cmp.Compare(o.Groups[y].N, o.Groups[x].N) })
	return kinds[:min(len(kinds), 2)]
}

// alike are the ways of placing, often enough on record, whose placements are
// too alike in size to tell yards lost whatever the size from a share of the
// volume: for jobs of another size the assumptions decide.
func (w *overageWork) alike() []string {
	var alike []string
	counts := w.rows.Method.Counts()
	for k, name := range w.model.methods[:len(w.model.methods)-1] {
		at, found := slices.BinarySearch(w.rows.Method.Names, name)
		if found && counts[at] >= figure.LeastForRate && w.priorDecides(k) {
			alike = append(alike, name)
		}
	}
	return alike
}

// CrewsApart says whether crews differ in their use of concrete by what an order
// would show.
type CrewsApart struct {
	Compared  int // crews with placements enough
	TypicalYd float64
	Crews     []CrewApart
}

// CrewApart is a crew that uses more, or less, than the average one on a job of
// the typical volume.
type CrewApart struct {
	Crew string
	Yd   float64 // below 0 where it uses less
}

func (o *Overage) crewsApart(c setting.OrderCosts) CrewsApart {
	apart := CrewsApart{TypicalYd: o.All.TypicalYd}
	for _, crew := range o.Crews {
		if crew.VsAverage.Known() {
			apart.Compared++
		}
		if yd, matters := crew.crewYd(o.All.TypicalYd, c.IncrementYd); matters {
			apart.Crews = append(apart.Crews, CrewApart{crew.Crew, yd})
		}
	}
	return apart
}

// Leaning are the numbers of the kinds whose order would be another one if odd
// placements counted less, or without those that may have been cut short.
func (o *Overage) Leaning() []int {
	var kinds []int
	for k, g := range o.Groups {
		same := func(f figure.Figure) bool { return !f.Known() || f.Value == g.OrderYd.Value }
		if g.OrderYd.Known() && !(same(g.RobustOrderYd) && same(g.UncutOrderYd)) {
			kinds = append(kinds, k)
		}
	}
	return kinds
}

// SmallerThan is the order of a kind for a job of a quarter to half its usual
// size, from the table by size.
func (o *Overage) SmallerThan(g Group) (OverageSize, bool) {
	for _, s := range o.BySize {
		if s.Use == g.Use && s.Method == g.Method && s.NeatYd <= g.TypicalYd/2 && s.NeatYd >= g.TypicalYd/4 && s.OrderYd.Known() {
			return s, true
		}
	}
	return OverageSize{}, false
}

// Expected is the volume that the next job will use, in yd³: the middle, and
// the ends within which it stays 8 times in 10.
type Expected struct{ NeatYd, Low, Middle, High float64 }

// NextBy is what the next jobs placed in one way will use, at volumes up to one
// of the records'; nothing where the records cannot tell.
func (o *Overage) NextBy(method string, upToYd float64) []Expected {
	const steps = 24
	if o.Model == nil || upToYd <= 0 {
		return nil
	}
	all := make([]Expected, 0, steps)
	for i := range steps {
		neat := max(1, upToYd*float64(i+1)/steps)
		next, err := o.Model.Next(Job{Method: method, NeatYd: neat})
		if err != nil {
			return nil
		}
		used := next.Used()
		all = append(all, Expected{neat, used.Quantile(0.1), used.Quantile(0.5), used.Quantile(0.9)})
	}
	return all
}
