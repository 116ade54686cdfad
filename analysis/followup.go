package analysis

import "pourback/ingest/record"

const daysPerYear = 365.25

// followUp is how long a placement has been watched, in days, and whether the
// watch ended with a crack.
type followUp struct {
	days    float64
	cracked bool
}

// years is the time watched in years.
func (f followUp) years() float64 { return f.days / daysPerYear }

// time is the days for a survival method, which wants an event to take some.
func (f followUp) time() float64 { return max(f.days, 0.5) }

// watch follows placement i to its first crack by the definition of event, or
// else to the data date (EventCallback) or the last visit (EventSeen).
func watch(h *record.History, i int, event string) followUp {
	p := &h.Placements[i]
	on := crackOn(h, i, event)
	if on != 0 {
		return followUp{float64(on - p.PlacedOn), true}
	}
	end := h.AsOf
	if event == EventSeen {
		end = max(p.PlacedOn, p.CallbackOn)
		if visits := h.VisitsOf(i); len(visits) > 0 {
			end = max(end, visits[len(visits)-1].SeenOn)
		}
	}
	return followUp{float64(end - p.PlacedOn), false}
}

// crackOn is the day of placement i's crack event, or 0.
func crackOn(h *record.History, i int, event string) record.Date {
	p := &h.Placements[i]
	visits := h.VisitsOf(i)
	for j := range visits {
		v := &visits[j]
		if v.Finding == "crack" && v.SeenOn >= p.PlacedOn && (event == EventSeen || v.Callback()) {
			return v.SeenOn
		}
	}
	if p.CallbackKind == "crack" {
		return p.CallbackOn
	}
	return 0
}
