package say

import (
	"strings"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
)

// The expected texts are our own style: no published source.

func june(day int) figure.Day { return figure.Day{Date: record.DateOf(2025, 6, day)} }

// knownRange is a known figure with its range.
func knownRange(v, low, high float64) figure.Figure {
	f := trial.Bounded(v, low, high)
	f.OK = true
	return f
}

// holds checks that a text has each of the wanted parts.
func holds(t *testing.T, got string, wanted ...string) {
	t.Helper()
	for _, w := range wanted {
		if !strings.Contains(got, w) {
			t.Errorf("%q lacks %q", got, w)
		}
	}
}

func TestVisitsSayWhereToGo(t *testing.T) {
	w := Visits{New("", "", "")}
	d := &visits.Visits{Slabs: 9, ThisWeek: true, DueBy: june(30)}
	holds(t, w.Answer(&visits.Visits{}), "No slab has been recorded yet.")
	is := func(want string) {
		t.Helper()
		if got := w.Answer(d); got != want || len(strings.Fields(got)) > 32 {
			t.Errorf("%q, want %q in few words", got, want)
		}
	}
	is("No visits to make this week: none is due or overdue.")
	d.Trips = []visits.Trip{{JobNo: "J1", Placements: []string{"A", "B"}, Site: "Lot 3, Red Gate Road"}}
	d.Due = make([]visits.DueVisit, 2)
	is("Visit this one this week: Lot 3, Red Gate Road (J1 A and B).")
	if notes := strings.Join(w.Notes(d), " "); !strings.Contains(notes, "2 planned visits are due. ") && !strings.HasSuffix(notes, "2 planned visits are due.") || strings.Contains(notes, "overdue.") {
		t.Errorf("%q", notes)
	}
	d.PassBy = make([]visits.PassBy, 4)
	is("Visit this one this week: Lot 3, Red Gate Road (J1 A and B). 4 more sites can wait until you pass by.")
	only := *d
	only.Trips = nil
	holds(t, w.Answer(&only), "No visit pays for its own drive this week. Look at 4 sites when you pass by.")
	d.PassBy = nil
	d.ThisWeek, d.Trips = false, append(d.Trips, visits.Trip{JobNo: "J2", Placements: []string{"A"}}, visits.Trip{JobNo: "J3", Placements: []string{"A"}}, visits.Trip{JobNo: "J4", Placements: []string{"A"}})
	holds(t, w.Answer(d), "Visit these 3 first by June 30, 2025: Lot 3, Red Gate Road (J1 A and B); J2 A; J3 A.")
	d.Callbacks = visits.Callbacks{Calls: 2, Undated: 1}
	d.Callbacks.Open = []visits.OpenCallback{{AgeDays: 1}}
	holds(t, w.Answer(d), "1 callback is open, for 1 day.")
	d.Warranty = visits.Warranty{Placements: 3, Cost: knownRange(3531, 20, 9000)}
	d.Early = visits.EarlySigns{Pours: 1, Told: 1, Listed: make([]visits.EarlyPour, 1)}
	is("Visit these 3 first by June 30, 2025: Lot 3, Red Gate Road (J1 A and B); J2 A; J3 A. 1 callback is open, for 1 day.")
	d.AtStake, d.DriveCost, d.NobodyWent, d.PlannedFrom = 90, 46, true, june(3)
	holds(t, strings.Join(w.Notes(d), " "), "A drive there and back costs $46 by your settings.", "so the plan begins on June 3, 2025, and nothing before counts as missed")
	d.DriveCost = 0
	holds(t, strings.Join(w.Notes(d), " "), "No drive is weighed")
	p := visits.PassBy{Jobs: []visits.Trip{{JobNo: "J1", Placements: []string{"A", "B"}}, {JobNo: "J2", Placements: []string{"A"}}}}
	if got := w.SlabsOf(&p); got != "J1 A and B; J2 A" {
		t.Errorf("%q", got)
	}
}

func TestWhyAVisitIsDue(t *testing.T) {
	us, si := Visits{New("", "", "")}, Visits{New("", "si", "")}
	heat := &visits.Cause{Kind: visits.CauseHeat, Above: true}
	for _, c := range []struct {
		why    []visits.Why
		us, si string
	}{
		{[]visits.Why{{Code: visits.WhyHotAir, Value: 96}, {Code: visits.WhyRisk, Value: 2.14, Mostly: heat}, {Code: visits.WhyInWarranty, Days: 1}},
			"Poured in 96 °F air; 2.1 times the usual risk (what stands out: the heat); 1 day of warranty left",
			"Poured in 36 °C air; 2.1 times the usual risk (what stands out: the heat); 1 day of warranty left"},
		{[]visits.Why{{Code: visits.WhyDriedFast, Value: 0.24}, {Code: visits.WhyRisk, Value: 0.7}}, "Dried at 0.24 lb/ft²/h; 0.7 times the usual risk", "Dried at 1.2 kg/m²/h; 0.7 times the usual risk"},
		{[]visits.Why{{Code: visits.WhyCrackSeen, On: june(3).Date}}, "A crack was seen on June 3, 2025, and nobody has called", ""},
		{[]visits.Why{{Code: visits.WhyCalled, Kind: "scaling"}, {Code: visits.WhyOutWarranty}}, "Called about before (scaling); out of warranty, so a visit only shows how such slabs hold up", ""},
		{[]visits.Why{{Code: visits.WhyUsualRisk}, {Code: visits.WhyInWarranty, Days: 190}}, "The usual risk at its age; 190 days of warranty left", ""},
	} {
		if got := us.Why(c.why); got != c.us {
			t.Errorf("%q, want %q", got, c.us)
		}
		if got := si.Why(c.why); c.si != "" && got != c.si {
			t.Errorf("%q, want %q", got, c.si)
		}
	}
	for want, s := range map[string]visits.Stop{
		"Open crack callback, 9 days old":            {Call: &visits.OpenCallback{Kind: "crack", AgeDays: 9}},
		"Day 28, overdue: the usual risk at its age": {Visit: visits.PlanPoint{Days: 28}, Overdue: true, Why: []visits.Why{{Code: visits.WhyUsualRisk}}},
		"End of warranty: 2.0 times the usual risk":  {Visit: visits.PlanPoint{Days: 365, End: true}, Why: []visits.Why{{Code: visits.WhyRisk, Value: 2}}},
	} {
		if got := us.Stop(&s); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestCausesThatRaiseARisk(t *testing.T) {
	v := New("", "", "")
	for want, c := range map[string]visits.Cause{
		"the cold": {Kind: visits.CauseHeat}, "close joints": {Kind: visits.CauseJoints}, "wide joints": {Kind: visits.CauseJoints, Above: true}, "no curing": {Kind: visits.CauseCuring},
		"a late saw cut": {Kind: visits.CauseSaw, Above: true}, "fast drying": {Kind: visits.CauseDrying, Above: true}, "rebar": {Kind: visits.CauseSteel, Steel: "rebar"},
		"mesh and fiber": {Kind: visits.CauseSteel, Steel: "mesh+fiber"}, "no reinforcement": {Kind: visits.CauseSteel, Steel: "none"}, "unknown reinforcement": {Kind: visits.CauseSteel, Steel: "unknown"},
	} {
		if got := v.raisedBy(c); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestWhatChancesStandOn(t *testing.T) {
	w := Visits{New("", "", "")}
	for want, m := range map[string]visits.RiskModel{
		"mostly the 3 in 100 slabs a year of the settings":                  {Stands: visits.RiskUsual, Usual: 0.03},
		"1 crack callback is on record: too few to tell":                    {Stands: visits.RiskFew, Events: 1},
		"come from 12 crack callbacks. Too little":                          {Stands: visits.RiskUntold, Events: 12},
		"Slabs are told apart by air temperature, curing and reinforcement": {Stands: visits.RiskByRecord, Events: 31, Apart: []visits.Cause{{Kind: visits.CauseHeat}, {Kind: visits.CauseCuring}, {Kind: visits.CauseSteel, Steel: "mesh"}, {Kind: visits.CauseSteel, Steel: "none"}}},
	} {
		holds(t, w.Risk(&m), want)
	}
}

// Each sign says what was recorded, beside its limit with the source, in the
// units that are read.
func TestSignsBesideTheirLimits(t *testing.T) {
	us, si := New("", "", ""), New("", "si", "")
	g := visits.Guide
	for _, c := range []struct {
		sign   visits.Sign
		us, si string
	}{
		{visits.Sign{Code: visits.DriedUncured, Value: 0.2435, Limit: g.Drying}, "dried at 0.24 lb/ft²/h with no curing (guide: under 0.2 lb/ft²/h, ACI 305R)", "dried at 1.2 kg/m²/h with no curing (guide: under 1.0 kg/m²/h, ACI 305R)"},
		{visits.Sign{Code: visits.SawnLate, Value: 20.5, Limit: g.Saw.Other, Air: record.Some(50.0)}, "sawn after 20.5 h in 50 °F air (guide: by 18 h, CSA A23.1-94)", "sawn after 20.5 h in 10 °C air (guide: by 18 h, CSA A23.1-94)"},
		{visits.Sign{Code: visits.SawnLate, Value: 5, Limit: g.Saw.EarlyEntry}, "sawn after 5 h (guide: by 4 h, trade press)", "sawn after 5 h (guide: by 4 h, trade press)"},
		{visits.Sign{Code: visits.WideJoints, Value: 13.5, Limit: visits.Limit{Value: 12.5, Source: g.JointTimesFrom}}, "joints 13½ ft apart (guide: 12½ ft, PCA)", "joints 4.1 m apart (guide: 3.8 m, PCA)"},
		{visits.Sign{Code: visits.WaterAdded, Value: 1.2, Limit: g.Water}, "1.2 gal/yd of water added (guide: under 1 gal/yd, NRMCA, from memory)", "5.9 L/m³ of water added (guide: under 5 L/m³, NRMCA, from memory)"},
		{visits.Sign{Code: visits.PastTime, Value: 118, Limit: g.Time}, "a load placed 118 min after batching (limit: 90 min, ASTM C94, older editions)", ""},
		{visits.Sign{Code: visits.Thin, Value: 3.5, Limit: visits.Limit{Value: 4, Source: g.TooLow.Source}}, "3½ in thick on average, bid at 4 in (allowed: under 3/8 in less, ACI 117, from memory)", "89 mm thick on average, bid at 102 mm (allowed: under 10 mm less, ACI 117, from memory)"},
	} {
		if got := us.signSaid(c.sign); got != c.us {
			t.Errorf("%q, want %q", got, c.us)
		}
		if got := si.signSaid(c.sign); c.si != "" && got != c.si {
			t.Errorf("%q, want %q", got, c.si)
		}
	}
	holds(t, us.Guide(visits.SawnLate), "after 12 h in air of 80 °F or hotter", "after 24 h in the cold", "18 h otherwise (CSA A23.1-94)", "4 h with an early-entry saw")
	holds(t, si.Guide(visits.WaterAdded), "5 L/m³ or more", "25 mm of slump", "1 MPa to 1.4 MPa")
	holds(t, us.Guide(visits.WideJoints), "24, 30 or 36 times the thickness", "15 ft (NRMCA CIP 6, from memory)")
}

func TestVisitReasons(t *testing.T) {
	v := New("", "", "")
	for want, r := range map[string]figure.Reason{
		"no visit was planned before June 3, 2025": visits.NoneDueYet{AsOf: june(3).Date},
		"too few to say: 1 pour":                   visits.FewPours{N: 1},
		"too few to say: 3 callbacks":              visits.FewToClose{N: 3},
		"6 full months with slabs under warranty, and it takes 12 to know a normal month":          visits.FewMonths{N: 6, Need: 12},
		"no slab has been watched for the whole warranty of 365 days, the longest for 200 days":    visits.NotFollowed{Days: 365, Longest: 200},
		"the estimate between two looks has no answer: no record has what this needs":              cracks.NoEstimate{Why: figure.NoData{}},
		"no range is figured for more than 3,000 slabs: luck is the least of what is unsure there": cracks.ManySlabs{Most: 3000},
	} {
		if got := v.Reason(r); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
