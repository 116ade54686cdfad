package say

import (
	"strings"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/ingest/record"
)

func TestEarlySignsAreSaid(t *testing.T) {
	w := Early{New("", "", "")}
	e := &visits.EarlySigns{From: june(1)}
	holds(t, w.Answer(e), "Nothing was poured since June 2025 began.")
	e.Pours = 1
	holds(t, w.Answer(e), "Nothing on record of the 1 pour since June 2025 began could show a problem. Record curing")
	short(t, w.Answer(e))
	e.Pours, e.Told = 2, 1
	holds(t, w.Answer(e), "None of the 2 pours since June 2025 began shows anything outside a guide. 1 of them has nothing on record to tell by.")
	short(t, w.Answer(e))
	e.Listed = []visits.EarlyPour{{JobNo: "J1", Placement: "A", PlacedOn: june(9), Signs: []visits.Sign{{Code: visits.WideJoints, Value: 16, Limit: visits.Limit{Value: 12, Source: visits.Guide.JointTimesFrom}}},
		Before: []visits.SignBefore{{Code: visits.WideJoints, Told: true, Placements: 40, Callbacks: 20}, {Code: visits.Thin}}}}
	if got, want := w.Answer(e), "1 of 2 pours since June 2025 began is outside a guide. None has a risk worth a trip of its own."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	e.First = &e.Listed[0]
	if got, want := w.Answer(e), "1 of 2 pours since June 2025 began is outside a guide. Look first at J1 A, poured June 9, 2025."; got != want || len(strings.Fields(got)) > 25 {
		t.Errorf("%q, want %q in 25 words", got, want)
	}
	holds(t, w.Notes(e)[0], "J1 A: joints 16 ft apart (guide: 12 ft, PCA). So far none of these signs")
	e.Worse = []visits.SignCode{visits.WideJoints, visits.Thin}
	holds(t, w.Notes(e)[0], "In your records more callbacks than luck explains went with: joints too wide and thin.")
	if got, want := w.Recorded(&e.Listed[0]), "Joints 16 ft apart (guide: 12 ft, PCA). Before: joints too wide: 20 of 40 called back; thin: too few to say."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// short holds a headline to 25 words.
func short(t *testing.T, headline string) {
	t.Helper()
	if n := len(strings.Fields(headline)); n > 25 {
		t.Errorf("%d words: %q", n, headline)
	}
}

func TestRecordsOfSignsAreSaid(t *testing.T) {
	w := Early{New("", "", "")}
	s := visits.EarlySign{With: visits.SignRecord{Placements: 40, Callbacks: 20, Rate: knownRange(38, 25, 56)}, Without: visits.SignRecord{Placements: 1040, Callbacks: 2, Rate: knownRange(4, 1, 11)}}
	const with = "20 of 40 pours were called back, 38 in 100 a year (between 25 and 56)."
	const others = " Of the others, 2 of 1,040, 4 in 100 a year (between 1 and 11)."
	for stands, want := range map[visits.SignStand]string{
		visits.SignUnrecorded: "Not recorded.",
		visits.SignFew:        "Too few to say: 40 such pours before.",
		visits.SignAlone:      with + " Too few to compare.",
		visits.SignWorse:      with + others + " More than luck explains, whatever the cause.",
		visits.SignByChance:   with + others + " Could easily be luck.",
	} {
		s.Stands = stands
		if got := w.Stands(&s); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestCallbacksAreSaid(t *testing.T) {
	w := Callbacks{New("", "", "")}
	d := &visits.Callbacks{}
	holds(t, w.Answer(d), "No customer has called about a slab yet.")
	d.Calls, d.Slabs, d.Cost, d.DaysToClose = 7, 5, figure.Total(923.45, 2, "sum"), figure.Total(24, 6, "median")
	d.Open = []visits.OpenCallback{{JobNo: "J3", Placement: "A", Kind: "crack", AgeDays: 181}}
	if got, want := w.Answer(d), "1 callback is open, for 181 days (J3 A, crack). Customers have called 7 times about 5 slabs so far. That cost $923. Half were closed within 24 days."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	month := &visits.CallPoint{Month: "2024-07", Calls: 9, Expected: 0.95}
	for want, c := range map[string]visits.CallControl{
		"In July 2024 customers called 9 times, more than luck explains: 0.9 is usual.":                           {Signal: month},
		"In July 2024 customers called 0 times, less than luck explains: 8.0 is usual.":                           {Signal: &visits.CallPoint{Month: "2024-07", Expected: 8}},
		"No month stands out: none brought more or fewer calls than luck explains.":                               {},
		"No chart of the months: 1 full month with slabs under warranty, and it takes 12 to know a normal month.": {Why: visits.FewMonths{N: 1, Need: 12}},
	} {
		if got := w.Control(&c); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	rows := []visits.CallbackRow{{Name: "crack", Calls: 31}}
	for want, g := range map[string]visits.CallbackGroup{
		"By kind: most often crack, 31 of 50 calls.":                    {By: visits.ByCallKind, Stands: visits.GroupMost, Rows: rows},
		"By pump outfit: no placement has this on record: pump outfit.": {By: visits.ByOutfit, Stands: visits.GroupUnrecorded, Column: "pump_outfit"},
		"By use: too few calls to compare.":                             {By: visits.ByUse, Stands: visits.GroupUntold, Alike: figure.Unknown(visits.FewCalls{})},
		"By crew: the differences could easily be luck.":                {By: visits.ByCrew, Stands: visits.GroupByChance},
		"By plant and mix: the rows differ by more than luck explains. That does not prove that the plant and mix is the cause.": {By: visits.ByMix, Stands: visits.GroupDiffers},
	} {
		if got := w.GroupNote(&g, 50); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestHowASlabStandsIsSaid(t *testing.T) {
	w := Slabs{New("", "", "")}
	of := func(code visits.StandCode, calls int) visits.Standing {
		return visits.Standing{Code: code, Kind: "crack", On: june(3).Date, Calls: calls, DaysLeft: 5}
	}
	for want, s := range map[string]visits.Standing{
		"a callback (crack) has been open since June 3, 2025; 5 days of warranty left":               of(visits.StandOpen, 1),
		"called about (crack); a job log does not say when that was closed; 5 days of warranty left": of(visits.StandLogged, 1),
		"a callback (crack) of June 3, 2025 has no closing day on record; 5 days of warranty left":   of(visits.StandUnclosed, 1),
		"called about 3 times (last: crack), and nothing is open; 5 days of warranty left":           of(visits.StandClosed, 3),
		"a crack was seen on June 3, 2025, and nobody has called; 5 days of warranty left":           of(visits.StandCracked, 0),
		"nothing is open; its warranty ended on June 3, 2025":                                        {Code: visits.StandQuiet, WarrantyEnds: june(3).Date},
	} {
		if got := w.stands(&s); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestSlabsAndPoursAreSaid(t *testing.T) {
	us, si := Slabs{New("", "", "")}, Slabs{New("", "si", "")}
	story := &visits.SlabStory{JobNo: "J1", Placement: "A", Use: "driveway", AreaSqft: record.Some(320.0), ThicknessIn: record.Some(4.5), Reinforcement: "none", Site: "Lot 3"}
	if got, want := us.Caption(story), "J1 A: driveway, 320 sq ft, 4½ in thick, no reinforcement"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	pour := &visits.PourRecord{AirF: record.Some(92.0), Drying: record.Some(0.24), SlumpLowIn: record.Some(4.0), SlumpHighIn: record.Some(5.5), WaterGal: record.Some(4.0), DelayMin: record.Some(int64(0)), JointFt: record.Some(8.0), JointCut: "saw+tooled", SawHours: record.Some(10.5), Crew: "Wren"}
	if got, want := us.Poured(pour), "Poured: air 92 °F, evaporation 0.24 lb/ft²/h, slump 4 in to 5½ in, 4 gal of water added, no delays, a joint every 8 ft, joints: saw and tooled, sawn after 10.5 h, by Wren"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	holds(t, si.Poured(pour), "air 33 °C, evaporation 1.2 kg/m²/h, slump 102 mm to 140 mm, 15.1 L of water added", "every 2.4 m")
	holds(t, us.Poured(&visits.PourRecord{}), "Poured; nothing is recorded of the conditions")
	look := &visits.StoryLook{Why: "callback", Finding: "crack", Kind: "drying", AtJoint: record.No, Length: record.Some(6.0)}
	if got, want := us.Look(look), "Callback: crack, drying, not in a joint, 6 ft long; no closing day on record"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestCracksFoundAndReportedAreSaid(t *testing.T) {
	w := Seen{New("", "", "")}
	at := visits.SeenAt{AgeDays: 365, Called: knownRange(0.05, 0.04, 0.07), Seen: knownRange(0.14, 0.11, 0.17), Between: knownRange(0.16, 0.12, 0.2)}
	d := &visits.SeenCracks{Looked: 60, SeenSlabs: 9, SeenFirst: 6, CalledSlabs: 3}
	holds(t, w.Answer(&visits.SeenCracks{}), "Nobody has gone to look at a finished slab yet")
	holds(t, w.Answer(d), "Visits found a crack on 9 of 60 slabs looked at; customers reported 3. It is too early to say more.")
	d.Year = &at
	holds(t, w.Answer(d), "By 1 year, visits had found a crack on 14 of 100 slabs (between 11 and 17), and customers had reported one on 5 in 100 (between 4 and 7). 9 slabs were found cracked, 6 of them before anybody called.")
	holds(t, w.Dating(&visits.Dating{Code: visits.DatingMatters, At: &at}), "matters most by 1 year. Slabs with a crack: 14 in 100", "16 in 100")
	holds(t, w.Dating(&visits.Dating{Code: visits.DatingHardly, At: &at}), "hardly matters")
	c := &visits.CracksSeen{Opened: 1, Growing: []visits.Growth{{JobNo: "J1", Placement: "A", WasIn: 0.01, IsIn: 0.013, From: june(1), To: june(30)}}}
	holds(t, w.Growth(c), "Of 1 unrepaired crack measured more than once, 1 opened. The fastest is on J1 A: from 0.010 in to 0.013 in, between June 1, 2025 and June 30, 2025.")
	holds(t, Seen{New("", "si", "")}.Growth(c), "from 0.254 mm to 0.330 mm")
	for days, want := range map[int]string{28: "day 28", 365: "1 year", 730: "2 years", 400: "day 400"} {
		if got := w.age(days); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestWarrantyIsSaid(t *testing.T) {
	w := Warranty{New("", "", "")}
	holds(t, w.Answer(&visits.Warranty{}), "No slab is under warranty: nothing is to come.")
	d := &visits.Warranty{Placements: 161, Called: 6, Cost: figure.Unknown(figure.FewPlacements{N: 3}), Callbacks: knownRange(4.3, 0.6, 8), OpenCost: figure.Total(1612, 2, "")}
	holds(t, w.Answer(d), "It is too early to say what the 167 slabs under warranty may still cost: 3 placements; it takes 5.")
	d.Cost, d.Open = knownRange(3531, 530, 6500), 2
	d.Booked = visits.Booked{Margin: figure.Total(147_200, 90, ""), Share: figure.Total(2.4, 90, "")}
	if got, want := w.Answer(d), "Slabs under warranty may still cost about $3,500 (between $530 and $6,500). Of the 167 slabs under warranty, those not called about yet should bring about 4 callbacks. "+
		"Count about $1,600 more for 2 open callbacks. The cost still to come is 2% of the $150,000 of margin booked on their jobs."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	d.Cost = knownRange(100, 0, 5200)
	holds(t, w.Answer(d), "about $100 (could be anywhere from nothing to $5,200).")
}
