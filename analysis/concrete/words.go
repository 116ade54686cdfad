package concrete

import (
	"fmt"
	"slices"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// silent says why there is no answer, what would give one and what to do until
// then.
func (o *Overage) silent(w *overageWork, because string) {
	why := figure.UnknownFor("%s", because)
	p := w.model.priors
	o.Answer = fmt.Sprintf("The records cannot say yet how much to order over the drawing (%s). Write down neat volume, yards delivered and yards left over at each pour: from five on there is an answer. Until then it is assumed, not known, that a pour takes about %.0f %% more than the drawing, and %.2f yd on top by chute or %.2f yd by pump whatever its size.",
		because, 100*p.Share.Mean, p.FixedYd.Mean, p.PumpYd.Mean)
	o.All.nothing(why)
	for k := range o.Groups {
		o.Groups[k].nothing(why)
	}
	for _, method := range []string{"chute", "pump"} {
		o.Fixed[method] = why
	}
	o.Checks.Odd.Worst = []OddPlacement{}
	o.note(w.leftOutNote())
}

// conclude says what to order next time, and how far it can be trusted.
func (o *Overage) conclude(w *overageWork) {
	o.Answer = o.answer()
	o.note(w.leftOutNote())
	o.note(w.priorNote())
	o.note(o.oddNote(w.costs))
	o.note(o.cutNote())
	if o.Checks.Under > 0 {
		o.note(fmt.Sprintf("%s used less than nine tenths of the neat volume: see the records to check.", figure.CountOf(o.Checks.Under, "placement")))
	}
	o.note(o.crewNote(w.costs))
	o.note("What is left over is often guessed by eye: the figures are no better than those guesses.")
	o.note("The past average is no rule for ordering: part of the loss is yards that do not grow with the slab, so a small job needs a larger share than a large one.")
}

func (o *Overage) note(s string) {
	if s != "" {
		o.Notes = append(o.Notes, s)
	}
}

// answer speaks of the kind placed most often, and of small and large jobs.
func (o *Overage) answer() string {
	g := slices.MaxFunc(o.Groups, func(a, b Group) int { return a.N - b.N })
	if !g.OrderYd.Known() {
		return "The records do not give an order: " + figure.Text(g.OrderYd.Why) + "."
	}
	s := fmt.Sprintf("For the next %s by %s of %.1f yd on the drawing order %.2f yd (%.0f %% more): that runs short %s and leaves about %.1f yd over.",
		g.Use, g.Method, g.TypicalYd, g.OrderYd.Value, 100*g.OrderAllowance.Value, TimesIn100(g.ChanceShort.Value), g.LeftoverYd.Value)
	if g.PooledMean.Known() {
		s += fmt.Sprintf(" Such jobs use %.0f %% more than the drawing on average (between %.0f and %.0f), one in ten more than %.0f %%.",
			100*g.PooledMean.Value, 100*g.PooledMean.Low, 100*g.PooledMean.High, 100*g.NextJob.P90.Value)
	}
	small, large := o.allowanceAt(g.Method, tableYd[0]), o.allowanceAt(g.Method, tableYd[len(tableYd)-1])
	if small.Known() && large.Known() && small.Value != large.Value {
		s += fmt.Sprintf(" Size decides: by %s add %.0f %% to %g yd, %.0f %% to %g yd.", g.Method, 100*small.Value, tableYd[0], 100*large.Value, tableYd[len(tableYd)-1])
	}
	if f := o.Fixed["pump"]; f.Known() {
		s += fmt.Sprintf(" A pump job loses about %.2f yd whatever its size (between %.2f and %.2f).", f.Value, f.Low, f.High)
	}
	return s
}

// allowanceAt is the order for whatever a method places, over its neat volume.
func (o *Overage) allowanceAt(method string, yd float64) figure.Figure {
	for _, s := range o.BySize {
		if s.Use == allUses && s.Method == method && s.NeatYd == yd && s.OrderYd.Known() {
			return figure.Total(s.OrderYd.Value/yd-1, s.OrderYd.N, ByLeastCost)
		}
	}
	return figure.Figure{}
}

func TimesIn100(p float64) string {
	switch n := 100 * p; {
	case n < 0.5:
		return "less than once in 100"
	case n < 1.5:
		return "about once in 100"
	case n > 99.5:
		return "almost every time"
	default:
		return fmt.Sprintf("about %.0f times in 100", n)
	}
}

func (w *overageWork) leftOutNote() string {
	l := w.rows.leftOut
	if l.Placements == 0 {
		return ""
	}
	return fmt.Sprintf("%s left out: %d without neat volume, %d without yards delivered, %d without yards left over, %d with more left over than delivered.",
		figure.CountOf(l.Placements, "placement"), l.NoNeat, l.NoDelivered, l.NoLeftover, l.Impossible)
}

// priorNote names what rests on the assumptions rather than the records.
func (w *overageWork) priorNote() string {
	var alike []string
	counts := w.rows.Method.Counts()
	for k, name := range w.model.methods[:len(w.model.methods)-1] {
		at, found := slices.BinarySearch(w.rows.Method.Names, name)
		if found && counts[at] >= figure.LeastForRate && w.priorDecides(k) {
			alike = append(alike, name)
		}
	}
	if len(alike) == 0 {
		return ""
	}
	return fmt.Sprintf("Placements by %s are too alike in size to tell yards lost whatever the size from a share of the volume: for jobs of another size the assumption decides. Jobs smaller and larger than usual would settle it.", strings.Join(alike, " and by "))
}

func (o *Overage) oddNote(c setting.OrderCosts) string {
	odd := o.Checks.Odd
	if odd.Placements == 0 {
		return ""
	}
	s := figure.CountOf(odd.Placements, "placement")
	if odd.Placements == 1 {
		s += " lies"
	} else {
		s += " lie"
	}
	s += " far off what is usual of its kind and is worth a look; nothing was dropped. "
	if odd.Placements > 1 {
		s = strings.Replace(s, "of its kind and is worth", "of their kind and are worth", 1)
	}
	if odd.Orders == 0 {
		return s + fmt.Sprintf("Weighing them down moves no order by more than %.2f yd.", c.IncrementYd)
	}
	return s + fmt.Sprintf("Weighing them down moves the order of %s by more than %.2f yd.", figure.CountOf(odd.Orders, "kind of job"), c.IncrementYd)
}

func (o *Overage) cutNote() string {
	cut := o.Checks.Cut
	if cut.Placements == 0 {
		return ""
	}
	s := fmt.Sprintf("%s had nothing left over and nothing more called in: they may have wanted more than they got, so the true use is if anything higher. ", figure.CountOf(cut.Placements, "placement"))
	if cut.Orders == 0 {
		return s + "Without them no order would move by more than one step."
	}
	return s + fmt.Sprintf("Without them the order of %s would move by more than one step.", figure.CountOf(cut.Orders, "kind of job"))
}

func (o *Overage) crewNote(c setting.OrderCosts) string {
	var apart []string
	compared := 0
	for _, crew := range o.Crews {
		if crew.VsAverage.Known() {
			compared++
		}
		if yd, matters := crew.crewYd(o.All.TypicalYd, c.IncrementYd); matters {
			more := "more"
			if yd < 0 {
				yd, more = -yd, "less"
			}
			apart = append(apart, fmt.Sprintf("%s uses about %.2f yd %s than the average crew on %.1f yd", crew.Crew, yd, more, o.All.TypicalYd))
		}
	}
	switch {
	case compared < 2:
		return ""
	case len(apart) == 0:
		return "On the same job no crew clearly uses more concrete than another by as much as half a step of an order: the figures are for any crew."
	}
	return strings.Join(apart, "; ") + ". The figures are for an average crew."
}
