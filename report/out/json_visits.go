package out

import (
	"pourback/analysis/visits"
	"pourback/report/say"
)

// The answers about visits with their sentences: each struct of the analysis
// with its words beside it, under the keys of factors.schema.json.
type (
	spokenVisits struct {
		Answer string `json:"answer"`
		*visits.Visits
		Trips     []spokenTrip    `json:"trips"`
		PassBy    []spokenPassBy  `json:"pass_by"`
		Due       []spokenDue     `json:"due"`
		Overdue   []spokenDue     `json:"overdue"`
		Done      []spokenDone    `json:"done"`
		Risk      spokenRisk      `json:"risk"`
		Findings  spokenFindings  `json:"findings"`
		Callbacks spokenCallbacks `json:"callbacks"`
		Seen      spokenSeen      `json:"seen"`
		Early     spokenEarly     `json:"early_signs"`
		Warranty  spokenWarranty  `json:"warranty"`
		Notes     []string        `json:"notes"`
	}
	spokenTrip struct {
		*visits.Trip
		Why string `json:"why"`
	}
	spokenPassBy struct {
		*visits.PassBy
		Jobs []spokenTrip `json:"jobs"`
	}
	spokenDue struct {
		*visits.DueVisit
		Visit string `json:"visit"`
		Why   string `json:"why"`
	}
	spokenDone struct {
		*visits.DoneVisit
		Visit string `json:"visit"`
	}
	spokenRisk struct {
		*visits.RiskModel
		Terms []string `json:"terms"`
		Says  string   `json:"says"`
	}
	spokenFindings struct {
		*visits.CracksSeen
		GrowthSays string `json:"growth_says"`
	}
	spokenSeen struct {
		Answer string `json:"answer"`
		*visits.SeenCracks
		Says  string   `json:"says"`
		Notes []string `json:"notes"`
	}
	spokenWarranty struct {
		Answer string `json:"answer"`
		*visits.Warranty
		Notes []string `json:"notes"`
	}
)

// visitsSaid puts the answers about visits into words; nil where they were not
// asked for.
func visitsSaid(d *visits.Visits, v *say.Voice) *spokenVisits {
	if d == nil {
		return nil
	}
	w, seen, warranty := say.Visits{Voice: v}, say.Seen{Voice: v}, say.Warranty{Voice: v}
	terms := make([]string, len(d.Risk.Terms))
	for i, t := range d.Risk.Terms {
		terms[i] = say.Cracks{Voice: v}.Term(t)
	}
	due := func(d *visits.DueVisit) spokenDue { return spokenDue{d, w.Point(d.Visit), w.Why(d.Why)} }
	trip := func(t *visits.Trip) spokenTrip { return spokenTrip{t, w.Stop(&t.Stop)} }
	return &spokenVisits{
		Answer: w.Answer(d), Visits: d, Notes: w.Notes(d),
		Trips:     each(d.Trips, trip),
		PassBy:    each(d.PassBy, func(p *visits.PassBy) spokenPassBy { return spokenPassBy{p, each(p.Jobs, trip)} }),
		Due:       each(d.Due, due),
		Overdue:   each(d.Overdue, due),
		Done:      each(d.Done, func(d *visits.DoneVisit) spokenDone { return spokenDone{d, w.Point(d.Visit)} }),
		Risk:      spokenRisk{&d.Risk, terms, w.Risk(&d.Risk)},
		Findings:  spokenFindings{&d.Findings, seen.Growth(&d.Findings)},
		Callbacks: callbacksSaid(&d.Callbacks, v),
		Seen:      spokenSeen{seen.Answer(&d.Seen), &d.Seen, seen.Dating(&d.Seen.Dating), seen.Counting(&d.Seen)},
		Early:     earlySaid(&d.Early, v),
		Warranty:  spokenWarranty{warranty.Answer(&d.Warranty), &d.Warranty, warranty.Notes()},
	}
}

// each is a list of what a function makes of each entry.
func each[T, S any](all []T, of func(*T) S) []S {
	out := make([]S, len(all))
	for i := range all {
		out[i] = of(&all[i])
	}
	return out
}

type (
	spokenCallbacks struct {
		Answer string `json:"answer"`
		*visits.Callbacks
		Groups  []spokenGroup     `json:"groups"`
		Control spokenCallControl `json:"control"`
	}
	spokenGroup struct {
		*visits.CallbackGroup
		Says string `json:"says"`
	}
	spokenCallControl struct {
		*visits.CallControl
		Says string `json:"says"`
		Why  string `json:"why,omitempty"`
	}
)

func callbacksSaid(c *visits.Callbacks, v *say.Voice) spokenCallbacks {
	w := say.Callbacks{Voice: v}
	return spokenCallbacks{w.Answer(c), c,
		each(c.Groups, func(g *visits.CallbackGroup) spokenGroup { return spokenGroup{g, w.Stands(g, c.Calls)} }),
		spokenCallControl{&c.Control, w.Control(&c.Control), v.Reason(c.Control.Why)}}
}

type (
	spokenEarly struct {
		Answer string `json:"answer"`
		*visits.EarlySigns
		Signs  []spokenSign `json:"signs"`
		Listed []spokenPour `json:"listed"`
		Notes  []string     `json:"notes"`
	}
	spokenSign struct {
		*visits.EarlySign
		Limit string `json:"limit"`
		Says  string `json:"says"`
	}
	spokenPour struct {
		*visits.EarlyPour
		Signs []string `json:"signs"`
		Did   string   `json:"did"`
	}
)

func earlySaid(e *visits.EarlySigns, v *say.Voice) spokenEarly {
	w := say.Early{Voice: v}
	return spokenEarly{w.Answer(e), e,
		each(e.Signs, func(s *visits.EarlySign) spokenSign { return spokenSign{s, w.Guide(s.Sign), w.Stands(s)} }),
		each(e.Listed, func(p *visits.EarlyPour) spokenPour { return spokenPour{p, w.Signs(p), w.Did(p)} }),
		w.Notes(e)}
}
