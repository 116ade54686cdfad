package bid

import (
	"cmp"
	"strconv"
	"strings"

	"pourback/ingest/record"
)

// name is the placement's own, or A, B … by its place.
func (p Placement) name(i int) string {
	if i < 26 {
		return cmp.Or(p.Name, string(rune('A'+i)))
	}
	return cmp.Or(p.Name, "P"+strconv.Itoa(i+1))
}

// PlacementName is what a placement of a spec is called.
func PlacementName(s Spec, i int) string { return s.Placements[i].name(i) }

func vocabulary(column string) *record.Vocabulary { return record.Placements.Column(column).Words }

// ourWords are our terms for a column's words as written, joined by +, and the
// first that is none of ours.
func ourWords(column, written string) (words, unknown string) {
	if written == "" {
		return "", ""
	}
	v, parts := vocabulary(column), []string{written}
	if v.Joined {
		parts = strings.Split(written, "+")
	}
	for i, part := range parts {
		word, ok := v.Find(part)
		switch {
		case ok:
			parts[i] = word
		case v.Open:
			parts[i] = strings.TrimSpace(part)
		default:
			return written, part
		}
	}
	return strings.Join(parts, "+"), ""
}

// bidMonth is the month 1 to 12 of a day, a month of a year or a month alone; 0
// where nothing is said.
func bidMonth(on string) (month int, ok bool) {
	if on == "" {
		return 0, true
	}
	if m, err := strconv.Atoi(on); err == nil {
		return m, m >= 1 && m <= 12
	}
	if len(on) == len("2026-07") {
		on += "-01"
	}
	d, err := record.ParseDate(on)
	if err != nil {
		return 0, false
	}
	return int(d.Time().Month()), true
}

// filled is the placement in our words, with what goes without saying put in.
func (p Placement) filled(i int) Placement {
	p.Name, p.Day = p.name(i), max(1, p.Day)
	for _, w := range []struct {
		column string
		to     *string
		usual  string
	}{{"use", &p.Use, "other"}, {"method", &p.Method, "chute"}, {"base", &p.Base, ""}, {"reinforcement", &p.Reinforcement, "none"}, {"joint_cut", &p.JointCut, "saw"}} {
		*w.to, _ = ourWords(w.column, *w.to)
		*w.to = cmp.Or(*w.to, w.usual)
	}
	return p
}

// namedPrice is a price by its key in a spec.
type namedPrice struct {
	name  string
	value float64
}

func (p Prices) named() []namedPrice {
	return []namedPrice{{"concrete_per_yd", p.ConcretePerYd}, {"labor_per_hour", p.LaborPerHour}, {"pump_hire", p.PumpHire}, {"pump_per_yd", p.PumpPerYd},
		{"mesh_per_sqft", p.MeshPerSqft}, {"rebar_per_sqft", p.RebarPerSqft}, {"fiber_per_yd", p.FiberPerYd}, {"cut_per_ft", p.CutPerFt}, {"base_per_sqft", p.BasePerSqft},
		{"pump_per_hour", p.PumpPerHour}, {"pump_min_hours", p.PumpMinHours}, {"excavation_per_sqft", p.ExcavationPerSqft}, {"forms_per_ft", p.FormsPerFt}, {"haul_off", p.HaulOff},
		{"cure_per_sqft", p.CurePerSqft}, {"seal_per_sqft", p.SealPerSqft}, {"cold_per_yd", p.ColdPerYd}, {"blankets_per_sqft", p.BlanketsPerSqft},
		{"equipment", p.Equipment}, {"subcontract", p.Subcontract}, {"permits", p.Permits}, {"travel", p.Travel}, {"clean_up", p.CleanUp}}
}

// amount is a price by its key.
func (p Prices) amount(key string) float64 {
	for _, n := range p.named() {
		if n.name == key {
			return n.value
		}
	}
	return 0
}
