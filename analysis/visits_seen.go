package analysis

import (
	"fmt"
	"math"
	"slices"

	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/resample"
	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// SeenCracks sets the cracks that visits saw beside those that customers called
// about, and a crack found on a visit as what it is: one that arose between the
// last look without it and that visit.
type SeenCracks struct {
	Answer      string     `json:"answer"`
	Looked      int        `json:"slabs_looked_at"`
	SeenSlabs   int        `json:"slabs_seen_cracked"`
	CalledSlabs int        `json:"slabs_called_about"` // for a crack
	SeenFirst   int        `json:"seen_before_called"` // of those seen cracked: before any call about a crack, or without one
	SoundAgain  int        `json:"sound_after_crack"`  // slabs found sound after a crack, with no repair on record
	Ages        []SeenAt   `json:"ages"`
	Draws       int        `json:"draws"` // of the bootstrap
	Says        string     `json:"says"`  // how much it matters to count cracks by the visit that found them
	Notes       []string   `json:"notes"`
	Curves      []SeenLine `json:"-"`
}

// SeenAt is the share of slabs with a crack by an age, three ways.
type SeenAt struct {
	AgeDays int    `json:"age_days"`
	Called  Figure `json:"called"`   // Kaplan-Meier, a crack dated to the call
	Seen    Figure `json:"seen"`     // Kaplan-Meier, a crack dated to the visit that found it
	Between Figure `json:"between"`  // Turnbull, a crack dated between two looks
	AtLeast Figure `json:"at_least"` // what Turnbull's estimate surely puts before this age
	AtMost  Figure `json:"at_most"`  // what it may put before it
}

// SeenLine is one of the three as a line of cracked shares by age.
type SeenLine struct {
	Name string
	Age  []float64 // days
	Risk []float64
}

const (
	mostTurnbull = 20_000 // slabs to which the estimator is fitted
	mostDrawn    = 3_000  // slabs up to which limits are drawn
	turnbullRuns = 199
)

// lookedAt are the looks at one slab, as an interval that holds its first crack.
type lookedAt struct {
	survival.Interval
	job int
}

func (a *after) seenCracks() SeenCracks {
	s := SeenCracks{Ages: []SeenAt{}, Notes: []string{}}
	called, seen, looks := a.watches(&s)
	if s.Looked == 0 {
		s.Answer = "Nobody has gone to look at a finished slab yet: the records hold only what customers called about."
		s.Says = "A few planned visits would show how many cracks nobody calls about."
		return s
	}
	s.ages(a, called, seen, looks)
	s.conclude(a)
	return s
}

// watch2 is time followed to the first crack by one definition.
type watch2 struct {
	days    []float64
	cracked []bool
}

func (w *watch2) add(from, on, end record.Date) {
	cracked := on != 0
	if cracked {
		end = on
	}
	w.days, w.cracked = append(w.days, float64(max(0, end-from))), append(w.cracked, cracked)
}

// watches follows each slab by both definitions, and gathers the intervals of
// those that somebody went to look at without being called.
func (a *after) watches(s *SeenCracks) (called, seen watch2, looks []lookedAt) {
	for i := range a.h.Placements {
		p, f := &a.h.Placements[i], &a.slab[i]
		on := crackOn(a.h, i, EventCallback)
		called.add(p.PlacedOn, on, a.h.AsOf)
		if on != 0 {
			s.CalledSlabs++
		}
		if f.look == 0 {
			continue // a slab looked at because somebody called says nothing of those that nobody called about
		}
		s.Looked++
		seen.add(p.PlacedOn, f.crackOn, f.last)
		if f.crackOn != 0 {
			s.SeenSlabs++
			if on == 0 || f.crackOn < on {
				s.SeenFirst++
			}
		}
		s.SoundAgain += int(indicator(a.soundAgain(i)))
		looks = append(looks, lookedAt{a.between(i), a.h.JobIndex(i)})
	}
	return called, seen, looks
}

// between is the interval that holds the first crack of slab i, in days. Its
// ends are planned looks alone: a call is timed by the crack, which no look may
// be, so a crack that was called about arose by the planned look after the call.
func (a *after) between(i int) survival.Interval {
	on, f := a.h.Placements[i].PlacedOn, &a.slab[i]
	if f.crackOn == 0 {
		return survival.Interval{Left: float64(f.last - on), Right: math.Inf(1)}
	}
	left := 0.0
	if f.clean > on {
		left = float64(f.clean - on)
	}
	return survival.Interval{Left: left, Right: max(left, float64(a.lookFrom(i, f.crackOn)-on))}
}

// lookFrom is the first planned look at slab i from a day on, or else the next
// in its plan, or that day itself.
func (a *after) lookFrom(i int, day record.Date) record.Date {
	for _, v := range a.h.VisitsOf(i) {
		if v.SeenOn >= day && !v.Callback() {
			return v.SeenOn
		}
	}
	on := a.h.Placements[i].PlacedOn
	for _, p := range a.planOf(i, nil) {
		if planned := on + record.Date(p.days); planned >= day {
			return planned
		}
	}
	return day
}

// soundAgain says whether slab i was found sound after a crack that no record
// says was repaired.
func (a *after) soundAgain(i int) bool {
	f := &a.slab[i]
	if f.crackOn == 0 || slices.ContainsFunc(a.callsOf(i), func(c call) bool { return c.closed != 0 || c.logged }) {
		return false
	}
	return slices.ContainsFunc(a.h.VisitsOf(i), func(v record.Visit) bool { return v.SeenOn > f.crackOn && v.Finding == "sound" })
}

// agesOf are the ages at which shares are read: the usual days of the plan, as
// far as enough slabs were followed and from when half of them had been looked at.
func (a *after) agesOf(km *survival.KM) []float64 {
	var first []float64
	for i := range a.slab {
		if f := &a.slab[i]; f.look != 0 {
			first = append(first, float64(f.look-a.h.Placements[i].PlacedOn))
		}
	}
	half, err := interval.Quantiles(first, 0.5)
	if err != nil {
		return nil
	}
	candidates := append([]int{7, 28, 90, 180, 365, 730}, a.plan.Days...)
	for years := 5.; years <= 50; years += 5 {
		candidates = append(candidates, int(math.Round(years*daysPerYear)))
	}
	var ages []float64
	for _, d := range candidates {
		if age := float64(d); d > 0 && age >= half[0] && km.AtRiskAt(age) >= leastForRate {
			ages = append(ages, age)
		}
	}
	slices.Sort(ages)
	return slices.Compact(ages)
}

func (s *SeenCracks) ages(a *after, called, seen watch2, looks []lookedAt) {
	byCall, err1 := survival.KaplanMeier(called.days, called.cracked)
	bySeen, err2 := survival.KaplanMeier(seen.days, seen.cracked)
	if err1 != nil || err2 != nil {
		s.Notes = append(s.Notes, "The records could not be followed: "+reason(firstError(err1, err2))+".")
		return
	}
	ages := a.agesOf(bySeen)
	fit, limits, note := s.turnbull(looks, ages, a.level, a.seed)
	if note != "" {
		s.Notes = append(s.Notes, note)
	}
	for k, age := range ages {
		at := SeenAt{AgeDays: int(age), Called: riskAt(byCall, age, a.level), Seen: riskAt(bySeen, age, a.level)}
		at.Between, at.AtLeast, at.AtMost = unknown("%s", note), unknown("%s", note), unknown("%s", note)
		if fit != nil {
			at.Between, at.AtLeast, at.AtMost = limits.figure(fit, k, age)
		}
		s.Ages = append(s.Ages, at)
	}
	end := followedTo(bySeen)
	s.Curves = append(s.Curves, lineOf("called about", byCall, end), lineOf("seen, dated to the visit", bySeen, end))
	if fit != nil {
		s.Curves = append(s.Curves, turnbullLine(fit, end))
	}
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// drawnLimits are the bootstrap's limits of the share cracked by each age.
type drawnLimits struct {
	low, high []float64
	level     float64
	why       string // why there are none
}

// turnbull fits the estimator, and draws limits by job where there are not too
// many slabs.
func (s *SeenCracks) turnbull(looks []lookedAt, ages []float64, level float64, seed uint64) (*survival.Turnbull, drawnLimits, string) {
	limits := drawnLimits{level: level}
	note := ""
	if len(looks) > mostTurnbull { // every k-th job, so that slabs of one stay together
		every := (len(looks)-1)/mostTurnbull + 1
		looks = slices.DeleteFunc(slices.Clone(looks), func(l lookedAt) bool { return l.job%every != 0 })
		note = fmt.Sprintf("Turnbull's estimate stands on one job in %d, of %s.", every, countOf(len(looks), "slab"))
	}
	rows, jobs := make([]survival.Interval, len(looks)), make([]int, len(looks))
	for i, l := range looks {
		rows[i], jobs[i] = l.Interval, l.job
	}
	fit, err := survival.TurnbullNPMLE(rows)
	if err != nil {
		return nil, limits, "Turnbull's estimate has no answer: " + reason(err) + "."
	}
	switch {
	case len(rows) > mostDrawn:
		limits.why = fmt.Sprintf("no limits are drawn from more than %d slabs: chance is the least of their doubts", mostDrawn)
	case len(rows) < leastForRate:
		limits.why = fmt.Sprintf("fewer than %d slabs", leastForRate)
	default:
		s.drawLimits(&limits, rows, jobs, ages, seed)
	}
	return fit, limits, note
}

// drawLimits resamples whole jobs and takes percentiles: of what surely lies
// before each age for the low end, and of what may for the high one.
func (s *SeenCracks) drawLimits(l *drawnLimits, rows []survival.Interval, jobs []int, ages []float64, seed uint64) {
	k := len(ages)
	sample, err := resample.Bootstrap(resample.Plan{Rows: len(rows), Clusters: jobs, Outputs: 2 * k, Draws: turnbullRuns, Seed: seed}, func() resample.Statistic {
		drawn := make([]survival.Interval, 0, len(rows))
		return func(out, weights []float64) error {
			drawn = drawn[:0]
			for i, w := range weights {
				for range int(w) {
					drawn = append(drawn, rows[i])
				}
			}
			fit, err := survival.TurnbullNPMLE(drawn)
			if err != nil {
				return err
			}
			for j, age := range ages {
				low, high := fit.SurvivalAt(age)
				out[j], out[k+j] = 1-high, 1-low
			}
			return nil
		}
	})
	if err != nil {
		l.why = reason(err)
		return
	}
	s.Draws = turnbullRuns
	for j := range ages {
		low, err1 := sample.Percentile(j, l.level)
		high, err2 := sample.Percentile(k+j, l.level)
		if err := firstError(err1, err2); err != nil {
			*l = drawnLimits{level: l.level, why: reason(err)}
			return
		}
		l.low, l.high = append(l.low, low.Low), append(l.high, high.High)
	}
}

// figure reads the share cracked by an age off the fit: the middle of what it
// may be, what it surely is, and what it is at most.
func (l drawnLimits) figure(fit *survival.Turnbull, k int, age float64) (between, least, most Figure) {
	low, high := fit.SurvivalAt(age)
	const method = "Turnbull's estimate"
	least, most = total(1-high, fit.N, method), total(1-low, fit.N, method)
	between = total(1-(low+high)/2, fit.N, method+", middle of what it leaves open")
	if l.low == nil {
		between.Why = l.why
		return between, least, most
	}
	between.Low, between.High, between.Level, between.Bounded = min(l.low[k], between.Value), max(l.high[k], between.Value), l.level, true
	between.Method += fmt.Sprintf("; %d draws of jobs, approximate", turnbullRuns)
	return between, least, most
}

// leastDrawn is how many slabs must still be followed for the lines to go on.
const leastDrawn = 10

// followedTo is the age to which enough slabs are followed.
func followedTo(km *survival.KM) float64 {
	end := 0.0
	for i, t := range km.Time {
		if km.AtRisk[i] >= leastDrawn {
			end = t
		}
	}
	return end
}

// lineOf is a Kaplan-Meier curve as shares cracked, to an age.
func lineOf(name string, km *survival.KM, end float64) SeenLine {
	l := SeenLine{Name: name, Age: []float64{0}, Risk: []float64{0}}
	for i, t := range km.Time {
		if t <= end && km.Event[i] > 0 {
			l.Age, l.Risk = append(l.Age, t), append(l.Risk, 1-km.Survival[i])
		}
	}
	return l.until(end)
}

// turnbullLine puts each mass at the end of its interval, to an age.
func turnbullLine(fit *survival.Turnbull, end float64) SeenLine {
	l := SeenLine{Name: "arose between two looks", Age: []float64{0}, Risk: []float64{0}}
	sum := 0.0
	for j, at := range fit.At {
		if sum += fit.Mass[j]; at.Right > end {
			break
		}
		l.Age, l.Risk = append(l.Age, at.Right), append(l.Risk, sum)
	}
	return l.until(end)
}

// until draws the line's last step out to an age.
func (l SeenLine) until(end float64) SeenLine {
	if last := len(l.Age) - 1; l.Age[last] < end {
		l.Age, l.Risk = append(l.Age, end), append(l.Risk, l.Risk[last])
	}
	return l
}
