package bid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/pool"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// labor predicts the person-hours of each placement and splits them by task.
// One crew does all of them, so what is not known of it is shared.
func (w *bidWork) labor() error {
	air := w.monthsAir()
	rows := make([]pool.Row, len(w.slabs))
	group := slices.Index(w.hours.Crews, w.spec.Crew)
	mean := 0.0
	for i, s := range w.slabs {
		s.hours = work.HoursJob{Use: s.Use, AreaSqft: s.part.AreaSqft, ThicknessIn: s.ThicknessIn, Pumped: s.Method == "pump", Reinforcement: s.Reinforcement, AirTempF: air, Crew: w.spec.Crew}
		rows[i] = pool.Row{X: w.hours.Row(s.hours, w.hours.Practice(w.spec.Crew)+1), Group: group}
		expected := w.hours.ExpectedHours(s.hours, w.opt.Level)
		s.beside = w.besideFlat(s)
		off := math.Exp(w.opt.Bid.HoursSD * distuv.UnitNormal.Quantile((1+w.opt.Level)/2))
		expected.Value, expected.Low, expected.High = expected.Value+s.beside, expected.Low+s.beside/off, expected.High+s.beside*off
		s.part.Hours = Number{expected, "person-hours", w.hoursBasis()}
		mean += s.part.Hours.Figure.Value
	}
	joint, err := w.hours.Post.Together(rows)
	if err != nil {
		return err
	}
	w.draws.hours = joint.Normal()
	l := &w.b.Labor
	l.Mean = number(mean, "person-hours", w.hoursBasis(), "sum of the placements' expected hours")
	l.Crew = w.spec.Crew
	l.Size = number(w.size.value, "people", w.size.basis, "median or as given")
	l.Wage = number(w.wage.value, "$/h", w.wage.basis, "median or as given")
	l.Tasks = w.tasks()
	if w.spec.Crew != "" && group < 0 {
		w.note(Note{Kind: NoteUnknownCrew, Name: w.spec.Crew})
	}
	return nil
}

// besideFlat are the expected person-hours that steps and a curb take on top of what their
// area of flatwork would: by the foot of riser and of curb, where fewer than five
// placements of that use are on record; else the record of the use has them.
func (w *bidWork) besideFlat(s *bidSlab) float64 {
	set, usual := w.opt.Bid, setting.DefaultBidPractice()
	hours := 0.0
	for _, beside := range []struct {
		use   string
		ft    float64
		name  SettingName
		rate  float64
		usual float64
	}{{"steps", float64(s.Steps.Risers) * s.Steps.WidthFt, SetStepHours, set.StepHours, usual.StepHours}, {"curb", s.Curb.LengthFt, SetCurbHours, set.CurbHours, usual.CurbHours}} {
		if beside.ft > 0 && (s.Use != beside.use || w.timed(beside.use) < figure.LeastForRate) {
			hours += beside.ft * w.setting(beside.name, "person-hours/ft", sourced{beside.rate, asSet(beside.rate, beside.usual)}).value
		}
	}
	return hours
}

// timed counts the placements of a use that have their hours.
func (w *bidWork) timed(use string) int {
	n := 0
	for i := range w.h.Placements.Len() {
		if p := w.h.Placements.At(i); p.Use() == use && work.Timed(p) {
			n++
		}
	}
	return n
}

func (w *bidWork) hoursBasis() Basis {
	return basis(w.b.Records.Hours, OfHours, w.opt.Bid.HoursPer400)
}

// monthsAir is the usual air temperature of the pours of the bid's month.
func (w *bidWork) monthsAir() record.Number {
	var air []float64
	for i := range w.h.Placements.Len() {
		p := w.h.Placements.At(i)
		if p.AirTempF().OK && int(p.PlacedOn().Time().Month()) == w.month {
			air = append(air, p.AirTempF().V)
		}
	}
	if q, err := interval.Quantiles(air, 0.5); err == nil && len(air) >= figure.LeastForRate {
		return record.Some(q[0])
	}
	return record.Number{}
}

// usualTasks are the shares of a job's hours (common practice, no published
// source). Without steel the share of reinforcing falls to the others.
var usualTasks = map[string]float64{"set up": .10, "form": .20, "reinforce": .08, "place": .27, "finish": .22, "joint": .05, "strip": .08}

// tasks shares the expected hours out by task: as placements with and without
// steel have it on record, else as is usual.
func (w *bidWork) tasks() []Task {
	plain, steel := taskShares(w.h, false), taskShares(w.h, true)
	hours, n, total := map[string]float64{}, figure.LeastForRate, 0.0
	from := Basis{}
	for _, s := range w.slabs {
		t := plain
		if s.Reinforcement != "none" {
			t = steel
		}
		if t.n <= n || from.From == "" {
			n, from = t.n, basis(t.n, OfTasks, 0)
		}
		for task, share := range t.share {
			hours[task] += share * s.part.Hours.Figure.Value
		}
	}
	words := record.Labors.Column("task").Words.Words
	for _, task := range words {
		total += hours[task]
	}
	out := []Task{}
	for _, task := range words {
		if hours[task] > 0 {
			out = append(out, Task{task, hours[task] / total, number(hours[task], "person-hours", from, "share of the expected hours")})
		}
	}
	return out
}

// taskShare is how hours divide among tasks over n placements; n is 0 and the
// shares the usual ones where the records are too few.
type taskShare struct {
	share map[string]float64
	n     int
}

func taskShares(h *record.History, steel bool) taskShare {
	t := taskShare{share: map[string]float64{}}
	sum := 0.0
	for i := range h.Placements.Len() {
		if len(h.Labor) == 0 || (h.Placements.At(i).Reinforcement() != "none" && h.Placements.At(i).Reinforcement() != "") != steel {
			continue
		}
		told := false
		for _, l := range h.LaborOf(i) {
			if l.Task != "callback" && l.Hours.V > 0 {
				t.share[l.Task] += l.Hours.V
				sum += l.Hours.V
				told = true
			}
		}
		if told {
			t.n++
		}
	}
	if t.n < figure.LeastForRate {
		t, sum = taskShare{share: map[string]float64{}}, 0
		for _, task := range record.Labors.Column("task").Words.Words {
			if steel || task != "reinforce" {
				t.share[task] = usualTasks[task]
				sum += usualTasks[task]
			}
		}
	}
	for task := range t.share {
		t.share[task] /= sum
	}
	return t
}
