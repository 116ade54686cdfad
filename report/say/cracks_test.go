package say

import (
	"strconv"
	"strings"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/trade"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
)

func ranged(v, low, high float64) figure.Figure {
	return figure.Figure{Value: v, Low: low, High: high, Level: 0.9, N: 9, Bounded: true, OK: true}
}

func TestHowManySlabsCrack(t *testing.T) {
	all := func(event string, outcome cracks.Outcome, n, events int, years float64, risk figure.Figure) *cracks.Cracks {
		return &cracks.Cracks{Event: event, All: cracks.Cell{Placements: n, Callbacks: events, PlacementYears: years, Risk1Yr: risk}, Conclusion: cracks.Conclusion{Outcome: outcome}}
	}
	unspaced := all(setting.EventSeen, cracks.NoneEarly, 160, 95, 2400, ranged(0, 0, 0.1))
	unspaced.Conclusion.Spacing, unspaced.SpacingUnknown = cracks.NeverTold, 160
	hardly := all(setting.EventCallback, cracks.RiskKnown, 599, 29, 1017, ranged(0.05, 0.04, 0.07))
	hardly.Conclusion.Spacing, hardly.SpacingUnknown = cracks.HardlyTold, 400
	young := figure.Unknown(cracks.WatchedTooShort{Days: 365, Longest: 31})
	for _, c := range []struct {
		c    *cracks.Cracks
		want string
	}{
		{all(setting.EventCallback, cracks.RiskKnown, 599, 29, 1017, ranged(0.05, 0.04, 0.07)), "5 in 100 slabs (between 4 and 7) bring a crack callback within a year. So far 29 of 599 have."},
		{hardly, "5 in 100 slabs (between 4 and 7) bring a crack callback within a year. So far 29 of 599 have. Joint spacing is unknown for 400, so the records can hardly tell steel from spacing."},
		{all(setting.EventCallback, cracks.NoneYet, 599, 0, 1017, ranged(0, 0, 0.005)), "No crack callback yet from 599 slabs, watched for 1.7 years on average. As many as 5 in 1,000 could still crack within a year."},
		{all(setting.EventSeen, cracks.NoneYet, 10, 0, 30, ranged(0, 0, 0.26)), "No crack was seen yet on 10 slabs, watched for 3.0 years on average. As many as 26 in 100 could still crack within a year."},
		{all(setting.EventCallback, cracks.NoneTooNew, 1, 0, 0.0833, young), "No crack callback yet from 1 slab, watched for 1 month on average. That is too short to say how many crack within a year."},
		{all(setting.EventCallback, cracks.TooNew, 12, 2, 6, young), "2 of 12 slabs cracked, watched for 6 months on average. That is too short to say how many crack within a year."},
		{all(setting.EventCallback, cracks.NoneEarly, 1, 1, 4, ranged(0, 0, 1)), "1 of 1 slab cracked, watched for 4.0 years on average. None was called about within a year of the pour."},
		{unspaced, "95 of 160 slabs cracked, watched for 15.0 years on average. None of those looked at late in their first year had: that leaves room for 10 in 100. Joint spacing is unknown for all 160, so the records cannot tell steel from spacing."},
		{all(setting.EventSeen, cracks.NotLooked, 100, 40, 300, figure.Unknown(cracks.FewLooked{N: 0, Of: 90, Days: 365})), "A crack is known on 40 of 100 slabs. Nobody looked at one late in its first year, so how many crack in it is not known."},
		{all(setting.EventSeen, cracks.NotLooked, 100, 40, 300, figure.Unknown(cracks.FewLooked{N: 3, Of: 90, Days: 365})), "A crack is known on 40 of 100 slabs. Only 3 of 90 slabs looked at were seen late in their first year: too few to say how many crack in it."},
		{all(setting.EventSeen, cracks.NotLooked, 100, 0, 300, figure.Unknown(cracks.NobodyLooked{})), "No crack was seen yet on 100 slabs. Nobody went to look at a slab, so nothing is known of how many crack."},
		{all(setting.EventSeen, cracks.NotLooked, 100, 60, 300, figure.Unknown(cracks.LeftOpen{Most: 0.6, Days: 365})), "A crack is known on 60 of 100 slabs. Too few were looked at late in their first year: anywhere from 0 to 60 in 100 may crack in it."},
		{all(setting.EventCallback, cracks.NoSlabs, 0, 0, 0, young), "No slab is on record yet."},
	} {
		if got := (Cracks{New("", "", "")}).Answer(c.c); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

// A term carries its step and unit: 10 °F are 5.6 °C apart, and 0.2 lb/ft²/h are
// the 1.0 kg/m²/h of the metric guides (ACI 305R).
func TestTermsInBothUnits(t *testing.T) {
	us, si := New("", "", ""), New("", "si", "")
	for _, c := range []struct {
		term   cracks.Covariate
		us, si string
	}{
		{cracks.Covariate{What: cracks.AirTemperature, Step: 10, Unit: figure.Fahrenheit}, "air temperature, each 10 °F hotter", "air temperature, each 5.6 °C hotter"},
		{cracks.Covariate{What: cracks.JointSpacing, Step: 6, Unit: figure.Thicknesses}, "joint spacing, each 6 thicknesses wider", "joint spacing, each 6 thicknesses wider"},
		{cracks.Covariate{What: cracks.FastDrying, Step: trade.PrecautionLbFt2, Unit: figure.Evaporation}, "evaporation over 0.2 lb/ft²/h", "evaporation over 1.0 kg/m²/h"},
		{cracks.Covariate{What: cracks.SawDelay, Step: 4, Unit: figure.Hours}, "saw delay, each 4 hours later", "saw delay, each 4 hours later"},
		{cracks.Covariate{What: cracks.Cured}, "cured in any way", "cured in any way"},
		{cracks.Covariate{What: cracks.Made, Of: "rebar", Against: "mesh+fiber"}, "rebar against mesh+fiber", "rebar against mesh+fiber"},
	} {
		if us.Term(c.term) != c.us || si.Term(c.term) != c.si {
			t.Errorf("%q and %q, want %q and %q", us.Term(c.term), si.Term(c.term), c.us, c.si)
		}
	}
}

// 40 and 60 °F are 4 and 16 °C.
func TestLevelsInBothUnits(t *testing.T) {
	us, si := Cracks{New("", "", "")}, Cracks{New("", "si", "")}
	band := func(low, high float64) cracks.Level {
		var l cracks.Level
		if low > 0 {
			l.Low = figure.Known(low)
		}
		if high > 0 {
			l.High = figure.Known(high)
		}
		return l
	}
	for _, c := range []struct {
		unit         figure.Unit
		level        cracks.Level
		us, si, name string
	}{
		{figure.Fahrenheit, band(0, 40), "up to 40 °F", "up to 4 °C", "up to 40"},
		{figure.Fahrenheit, band(40, 60), "over 40 to 60 °F", "over 4 to 16 °C", "over 40 to 60"},
		{figure.Fahrenheit, band(90, 0), "over 90 °F", "over 32 °C", "over 90"},
		{figure.Fahrenheit, band(0, 0), "all", "all", "all"},
		{figure.Evaporation, band(0.1, 0.2), "over 0.1 to 0.2 lb/ft²/h", "over 0.5 to 1.0 kg/m²/h", "over 0.1 to 0.2"},
		{figure.Thicknesses, band(24, 30), "over 24 to 30", "over 24 to 30", "over 24 to 30"},
		{figure.NoUnit, cracks.Level{Words: []string{"tooled+saw"}}, "tooled+saw", "tooled+saw", "tooled+saw"},
		{figure.NoUnit, cracks.Level{Words: []string{"water", "blanket"}}, "others (water, blanket)", "others (water, blanket)", "others (water, blanket)"},
	} {
		table := &cracks.Table{Unit: c.unit}
		if got, metric, name := us.Level(table, c.level), si.Level(table, c.level), us.LevelName(c.level); got != c.us || metric != c.si || name != c.name {
			t.Errorf("%q, %q and %q, want %q, %q and %q", got, metric, name, c.us, c.si, c.name)
		}
	}
}

func TestWhatGoesWithCracks(t *testing.T) {
	w := Cracks{New("", "", "")}
	heat := cracks.Covariate{What: cracks.AirTemperature, Step: 10, Unit: figure.Fahrenheit}
	cured := cracks.Covariate{What: cracks.Cured}
	say := func(d cracks.Drivers, t *cracks.CoxTerm) string {
		return w.Todo(&cracks.Cracks{Event: setting.EventCallback, Conclusion: cracks.Conclusion{Drivers: d, Clearest: t}})[0]
	}
	for want, got := range map[string]string{
		"Clearest so far: air temperature, each 10 °F hotter, with 1.4 times (between 1.1 and 1.8) as many cracks. It was picked for standing out, so the true figure is likely nearer to 1. Pour in the cool of the day.": say(cracks.OneThingClear, &cracks.CoxTerm{Term: heat, HazardRatio: ranged(1.4, 1.1, 1.8)}),
		"Clearest so far: cured in any way, with 0.4 times (between 0.2 and 0.7) as many cracks. It was picked for standing out, so the true figure is likely nearer to 1. Cure every slab.":                               say(cracks.OneThingClear, &cracks.CoxTerm{Term: cured, HazardRatio: ranged(0.4, 0.2, 0.7)}),
		"That is too few cracks to say what makes them. Keep writing down joint spacing, heat, sawing and curing.":                                                                                                         say(cracks.TooFewToTell, nil),
		"Nothing on record tells yet which slabs will crack. It takes more callbacks to tell.":                                                                                                                             say(cracks.NothingClear, nil),
		"Left out of “All of it at once”: cured in any way. 31 in 100 slabs do not have it on record.":                                                                                                                     w.leftOut(cracks.LeftOut{Term: cured, Lacking: 0.31}),
		"Unexplained: what these records show of drying rate goes against what is known of concrete. Take it for luck or for something not recorded, and change nothing for it.":                                           w.Unexplained([]cracks.CoxTerm{{Term: heat}, {Term: cracks.Covariate{What: cracks.FastDrying}, Unexplained: true}}),
		"Unexplained: what these records show of curing and drying rate goes against what is known of concrete. Take them for luck or for something not recorded, and change nothing for them.":                            w.Unexplained([]cracks.CoxTerm{{Term: cured, Unexplained: true}, {Term: cracks.Covariate{What: cracks.FastDrying}, Unexplained: true}}),
		"These ratios change as slabs get older: read them as an average over the time watched. It shows most in cured in any way.":                                                                                        w.RatiosSay(cracks.PropHazards{Ratios: cracks.Changing, Most: cured}),
	} {
		if got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
}

// Why two kinds of reinforcement cannot be compared, in both units.
func TestWhyKindsCannotBeCompared(t *testing.T) {
	us, si := New("", "", ""), New("", "si", "")
	for _, c := range []struct {
		why    cracks.Incomparable
		us, si string
	}{
		{cracks.Incomparable{Of: "mesh", Against: "rebar", N: [2]int{0, 110}, By: []cracks.Obstacle{{In: cracks.InSpacing, Unknown: 110}}},
			"0 slabs with mesh and 110 with rebar, and a comparison needs both; joint spacing is unknown for 110 of 110 slabs: the records cannot tell the steel from the spacing", ""},
		{cracks.Incomparable{Of: "mesh", Against: "rebar", N: [2]int{30, 30}, By: []cracks.Obstacle{{In: cracks.InSpacing, Mean: [2]float64{42, 21}}, {In: cracks.InAir, Mean: [2]float64{95, 41}}}},
			"mesh and rebar were hardly ever poured at the same joint spacing (on average 42 thicknesses with mesh, 21 with rebar); mesh and rebar were hardly ever poured in the same heat (on average 95 °F with mesh, 41 °F with rebar): the records cannot tell the steel from the spacing or the heat",
			"mesh and rebar were hardly ever poured at the same joint spacing (on average 42 thicknesses with mesh, 21 with rebar); mesh and rebar were hardly ever poured in the same heat (on average 35 °C with mesh, 5 °C with rebar): the records cannot tell the steel from the spacing or the heat"},
		{cracks.Incomparable{Of: "fiber", Against: "none", N: [2]int{30, 30}, By: []cracks.Obstacle{{In: cracks.InSeason}}},
			"fiber and none were hardly ever poured at the same time of the year: the records cannot tell the steel from the heat of the season", ""},
		{cracks.Incomparable{Of: "mesh", Against: "rebar", N: [2]int{60, 0}}, "60 slabs with mesh and 0 with rebar, and a comparison needs both", ""},
	} {
		if got := us.Reason(c.why); got != c.us {
			t.Errorf("%q\nwant %q", got, c.us)
		}
		if got := si.Reason(c.why); c.si != "" && got != c.si {
			t.Errorf("%q\nwant %q", got, c.si)
		}
	}
}

func TestHowOften(t *testing.T) {
	v := New("", "", "")
	for p, want := range map[float64][2]string{0: {"less than once in 100", "under 1"}, 0.004: {"less than once in 100", "under 1"}, 0.01: {"once in 100", "1"}, 0.5: {"50 times in 100", "50"},
		0.994: {"99 times in 100", "99"}, 0.9951: {"more than 99 times in 100", "over 99"}, 1: {"more than 99 times in 100", "over 99"}} {
		if v.TimesIn100(p) != want[0] || v.OutOf100(p) != want[1] {
			t.Errorf("%v: %q and %q, want %q", p, v.TimesIn100(p), v.OutOf100(p), want)
		}
	}
	c := Cracks{v}
	if c.Age(0) != "just poured" || c.Age(1) != "1 day" || c.Age(90) != "90 days" {
		t.Errorf("%q %q %q", c.Age(0), c.Age(1), c.Age(90))
	}
}

// Whether rows differ, and what luck has to do with it.
func TestWhetherRowsDiffer(t *testing.T) {
	w := Cracks{New("", "", "")}
	table := func(p float64, differ bool) *cracks.Table {
		return &cracks.Table{Unit: figure.Fahrenheit, LogRank: cracks.LogRank{Figure: exactly(p)}, Differ: differ, Most: 1, Least: 0,
			Rows: []cracks.Row{{Level: cracks.Level{High: figure.Known(60)}}, {Level: cracks.Level{Low: figure.Known(60)}}}}
	}
	ends := func(most, least int) *cracks.Table {
		t := table(0.01, true)
		t.Most, t.Least = most, least
		return t
	}
	trend := table(0.78, false)
	trend.Trend = cracks.TrendAlone
	rows := ends(1, -1)
	rows.Trend = cracks.RowsAlone
	alone := &cracks.Table{LogRank: cracks.LogRank{Figure: figure.Unknown(cracks.OneRow{})}}
	for want, t1 := range map[string]*cracks.Table{
		"Could easily be luck: luck alone makes differences this large 78 times in 100.":                                                                                                                                    table(0.78, false),
		"Not clear: luck alone makes differences this large 4 times in 100, and more often in one of several tables.":                                                                                                       table(0.04, false),
		"The rows differ by more than luck: most cracks a year at over 60 °F, fewest at up to 60 °F. Luck alone makes that once in 100. It does not prove the cause.":                                                       table(0.01, true),
		"The rows differ by more than luck: fewest cracks a year at up to 60 °F. Luck alone makes that once in 100. It does not prove the cause.":                                                                           ends(-1, 0),
		"The rows differ by more than luck, but too few cracks stand behind any one of them to name it. Luck alone makes that once in 100. It does not prove the cause.":                                                    ends(-1, -1),
		"The rows differ by more than luck: most cracks a year at over 60 °F. Luck alone makes that once in 100. It does not prove the cause. “All of it at once” shows no clear trend: there other things are held equal.": rows,
		"Could easily be luck: luck alone makes differences this large 78 times in 100. “All of it at once” does show a trend: it takes these rows in their order and holds other things equal.":                            trend,
		"Nothing to compare: there is only one row.": alone,
	} {
		if got := w.TableSays(t1); got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
}

// What is still to come, with a range that begins at next to nothing.
func TestWhatIsStillToCome(t *testing.T) {
	w := Cracks{New("", "", "")}
	for want, l := range map[string]cracks.Later{
		"Of 161 sound slabs still under warranty, 3 (between 0 and 6) should still bring a crack callback. That should cost about $2,600, anywhere from nothing to $5,200.": {Slabs: 161, Callbacks: ranged(3.2, 0.01, 6.4), Cost: ranged(2600, 10, 5200)},
		"Of 1 sound slab still under warranty, 3 (between 2 and 6) should still bring a crack callback. That should cost about $2,600, between $1,600 and $5,200.":          {Slabs: 1, Callbacks: ranged(3.2, 2, 6.4), Cost: ranged(2600, 1600, 5200)},
		"No sound slab is still under warranty.": {Callbacks: exactly(0)},
	} {
		if got := w.LaterSays(l); got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
}

// Where cracks are seen at visits nothing speaks of callbacks.
func TestWordsFitTheEvent(t *testing.T) {
	w := Cracks{New("", "", "")}
	of := &cracks.Cracks{Event: setting.EventSeen, All: cracks.Cell{Placements: 90, Callbacks: 8, PlacementYears: 90, Risk1Yr: ranged(0.05, 0.02, 0.1)},
		Conclusion: cracks.Conclusion{Outcome: cracks.RiskKnown, Drivers: cracks.NothingClear}}
	said := append(append(append(w.Notes(of), w.Todo(of)...), w.Method(of.Event, nil)...), w.Answer(of), w.EventMeans(of.Event), w.EventsHead(of.Event))
	for _, s := range said {
		if strings.Contains(strings.ToLower(s), "callback") || strings.Contains(s, "Calls bunch") {
			t.Errorf("of cracks seen at visits: %q", s)
		}
	}
	of.Event = setting.EventCallback
	holds(t, strings.Join(append(w.Todo(of), w.Notes(of)...), " "), "It takes more callbacks to tell.", "Calls bunch up")
}

// Why a figure that rests on looks is not known.
func TestReasonsOfLooks(t *testing.T) {
	v := New("", "", "")
	for want, r := range map[string]figure.Reason{
		"nobody went to look at such a slab without being called":         cracks.NobodyLooked{},
		"3 of 90 slabs looked at were seen about day 365: too few to say": cracks.FewLooked{N: 3, Of: 90, Days: 365},
		"the looks leave open anything from 2 to 60 in 100 by day 365":    cracks.LeftOpen{Least: 0.02, Most: 0.6, Days: 365},
		"no slab of this kind was looked at as its first year ended":      cracks.NoOldSlab{Seen: true},
		"no slab of this kind is a year old":                              cracks.NoOldSlab{},
		"whether ratios hold at all ages is not checked between looks":    cracks.NotCheckedOfLooks{},
	} {
		if got := v.Reason(r); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A share of one slab is none, however many slabs are of the kind.
func TestAShareOfFewSlabsIsNotSaid(t *testing.T) {
	w := Cracks{Voice: New("", "us", "$")}
	for n, want := range map[int]bool{1: true, 4: true, 5: false} {
		of := cracks.Cell{Placements: 160, FullYear: ranged(0, 0, 0.73)}
		if of.FullYear.N = n; w.FullYearCell(of).Unknown != want {
			t.Errorf("of %d slabs: %+v", n, w.FullYearCell(of))
		}
	}
}

// Where one slab of many is a year old, nothing is said of the risk within a year
// nor of what is still to come; its figure keeps its interval.
func TestARiskOfFewSlabsIsNotSaid(t *testing.T) {
	w := Cracks{Voice: New("", "us", "$")}
	of := func(old int) *cracks.Cracks {
		var set record.Set
		for i := range 20 {
			p := record.Placement{JobNo: strconv.Itoa(i), Placement: "A", PlacedOn: record.DateOf(2026, 6, 1), Use: "patio", AreaSqft: record.Some(300.0), ThicknessIn: record.Some(4.0), Reinforcement: "rebar", JointSpacingFt: record.Some(8.0)}
			if i < old {
				p.PlacedOn = record.DateOf(2025, 10, 1)
			}
			set.Placements = append(set.Placements, p)
		}
		return trial.FactorsOf(t, set, setting.Options{}).Cracks
	}
	few, enough := of(1), of(19)
	cell := few.Cells[0]
	if !cell.Risk1Yr.Known() || !cell.Risk1Yr.Bounded {
		t.Errorf("%+v: want a value with its interval", cell.Risk1Yr)
	}
	if c := w.RiskCell(cell, cracks.OneYear, cell.Risk1Yr); c.Text != "too few" || c.Why != "fewer than 5 slabs have been watched for so long" {
		t.Errorf("%+v", c)
	}
	if c := w.BoxCell(cell); c.Text != "too few" {
		t.Errorf("%+v", c)
	}
	open := cracks.Cell{Placements: 13, Risk1Yr: ranged(0.11, 0, 1)}
	if c := w.BoxCell(open); c.Text != "too few" || c.Why != "so few leave it open from none to all" || w.RiskCell(open, cracks.OneYear, open.Risk1Yr).Text != "too few" {
		t.Errorf("%+v", c)
	}
	if c := w.RiskCell(enough.Cells[0], cracks.OneYear, enough.Cells[0].Risk1Yr); c.Unknown {
		t.Errorf("of 19 slabs a year old: %+v", c)
	}
	if got, want := w.Answer(few), "No crack callback yet from 20 slabs, watched for 5 months on average. That is too short to say how many crack within a year."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if few.Later.Callbacks.Known() {
		t.Errorf("still to come: %+v", few.Later.Callbacks)
	}
	if l := enough.Later.Callbacks; !(l.Value == 0 && l.High > 0) {
		t.Errorf("still to come %+v: none yet is no promise", l)
	}
}
