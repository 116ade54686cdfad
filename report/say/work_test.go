package say

import (
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/work"
)

func about(v, low, high float64) figure.Figure {
	return figure.Figure{Value: v, Low: low, High: high, Bounded: true, OK: true}
}

func alone(v float64) figure.Figure { return figure.Figure{Value: v, OK: true} }

// The wording is our own: no published source.
func TestHowOftenThePumpPlugs(t *testing.T) {
	all := func(n, clogs int, yd, rate, low, high float64) work.PumpOutfit {
		return work.PumpOutfit{Outfit: "all", Placements: n, Clogs: clogs, PumpedYd: yd, ClogsPer100: about(rate, low, high)}
	}
	for _, c := range []struct {
		p    work.Pump
		want string
	}{
		{work.Pump{All: all(167, 33, 1226, 2.7, 2, 3.6), PerClog: alone(25.4), Verdict: work.Verdict{Kind: work.NoneBetter}},
			"Plan on 3 clogs in 100 yd. Each one takes about 25 minutes. No outfit stands out: the differences could easily be luck."},
		{work.Pump{All: all(100, 33, 1226, 2.7, 2, 3.6), Verdict: work.Verdict{Kind: work.OneBetter, Least: "P1", Most: "P2"}},
			"Plan on 3 clogs in 100 yd. P1 clogs least and P2 most."},
		{work.Pump{All: all(1, 1, 10, 10, 1, 47), Verdict: work.Verdict{Kind: work.CannotTell}},
			"Plan on 10 clogs in 100 yd. Too early to say whether one outfit is better."},
		{work.Pump{All: all(100, 12, 1090, 1.1, 0.6, 1.8), Verdict: work.Verdict{Kind: work.CannotTell}},
			"Plan on 1 clog in 100 yd. Too early to say whether one outfit is better."},
		{work.Pump{All: all(12, 0, 110, 0, 0, 3)}, "No clogs in 110 yd pumped. Plan for no more than 3 clogs in 100 yd."},
		{work.Pump{}, "The records cannot say how often the pump line clogs: no pumped placement has both its yards and its clogs."},
	} {
		if got := (Pump{New("", "", "")}).Answer(&c.p); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

func TestCrewsInASentence(t *testing.T) {
	crew := func(name string, v float64) work.Crew {
		return work.Crew{Crew: name, HoursVsAverage: about(v, v-0.02, v+0.02)}
	}
	job := work.HoursJob{Use: "driveway", AreaSqft: 400, ThicknessIn: 4}
	hours := about(27.02, 17.9, 38.6)
	for _, c := range []struct {
		labor *work.Labor
		units string
		want  string
	}{
		{&work.Labor{ReferenceJob: job, Reference: hours, Apart: []work.Crew{crew("Heron", 0.91), crew("Kestrel", 1.06)}}, "us",
			"Plan 27 person-hours (between 18 and 39) for 400 sq ft of driveway, 4 in thick, by chute, no steel, 80 °F or cooler. Hours on the same job, against an average crew: Heron 9% fewer and Kestrel 6% more."},
		{&work.Labor{ReferenceJob: work.HoursJob{AreaSqft: 400, ThicknessIn: 4}, Reference: hours}, "si",
			"Plan 27 person-hours (between 18 and 39) for 37 m², 102 mm thick, by chute, no steel, 27 °C or cooler. On the same job no crew stands out."},
		{nil, "us", "The records do not say yet what hours to plan: no placement has its area, thickness and labor hours."},
	} {
		if got := (Crews{New("", c.units, "")}).Answer(c.labor); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

func TestWhereTimeGoes(t *testing.T) {
	for want, causes := range map[string][]work.DelayCause{
		"Every delay on record has one cause: clog.":                                                                       {{Name: "clog", Share: 1}},
		"Most time goes to truck late: 60% of all minutes lost.":                                                           {{Name: "truck late", Share: 0.6}, {Name: "clog", Share: 0.4}},
		"52% of all minutes lost fall under “other”: write the cause down at each delay. Next comes truck late, with 14%.": {{Name: "other", Share: 0.52}, {Name: "truck late", Share: 0.14}},
	} {
		if got := (Delays{New("", "", "")}).Most(causes); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// What followed late loads is told as a comparison, never as its cause.
func TestWhatFollowedLateLoads(t *testing.T) {
	for want, ratio := range map[string]figure.Figure{
		"Pours with a late load had callbacks 2.7 times as often (between 1.1 and 6.1) as the others.":                                            about(2.7, 1.1, 6.1),
		"Pours with a late load had fewer callbacks: 0.4 times as often (between 0.2 and 0.8) as the others. That does not make late loads safe.": about(0.4, 0.2, 0.8),
		"The difference could easily be luck.": about(1.4, 0.6, 3),
		"Too few to compare.":                  {},
	} {
		if got := (Delays{New("", "", "")}).followed(&work.LateLoads{Ratio: ratio}); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestQuantitiesAsTheyAreSaid(t *testing.T) {
	us, si := New("", "us", ""), New("", "si", "CHF")
	for got, want := range map[string]string{
		us.Yards(9.25): "9¼ yd", us.Yards(10): "10 yd", us.Yards(8.23): "8.2 yd", us.Yards(0.75): "¾ yd", us.Yards(0): "0 yd", si.Yards(9.25): "7.1 m³",
		us.Inches(0.375): "3/8 in", us.Inches(4.5): "4½ in", us.Inches(2): "2 in", us.Inches(0.3): "0.3 in", us.Inches(3.625): "3 5/8 in", si.Inches(4): "102 mm",
		us.Area(1320): "1,320 sq ft", si.Area(400): "37 m²", us.Feet(7.5): "7½ ft", si.Feet(8): "2.4 m", us.Degrees(92): "92 °F", si.Degrees(92): "33 °C",
		us.Dollars(83): "$83", us.Dollars(1234): "$1,200", us.Dollars(5188): "$5,200", us.Dollars(16914): "$17,000", us.Dollars(-284): "−$280", si.Dollars(1234): "CHF 1,200", us.Asked(9612): "$9,600",
		us.Hours(1): "1 hour", us.Hours(2.4): "2½ hours", us.Hours(12.2): "12 hours", us.Minutes(1): "1 minute", us.Minutes(25.4): "25 minutes",
		us.Sure(0.97): "sure", us.Sure(0.9): "likely", us.Sure(0.7): "leaning that way", us.Sure(0.5): "a toss-up",
		us.UpTo(3, 5200): "could be anywhere from nothing to $5,200", us.UpTo(1200, 5200): "between $1,200 and $5,200",
		us.InHundred(0.083): "8 in 100", us.InHundred(0.001): "under 1 in 100",
		us.Ordinal(1) + us.Ordinal(22) + us.Ordinal(3) + us.Ordinal(11) + us.Ordinal(13): "1st22nd3rd11th13th",
		us.List(nil): "", us.List([]string{"a"}): "a", us.List([]string{"a", "b", "c"}): "a, b and c",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A name stays a name, whatever units and currency are read.
func TestNamesStayAsTheyAre(t *testing.T) {
	si := New("", "si", "€")
	p := Pump{si}
	for got, want := range map[string]string{
		p.Mix("4000 psi"): "mix 4000 psi",
		p.verdict(work.Verdict{Kind: work.OneBetter, Least: "Top $ pump", Most: "6 in line {rate}"}): "Top $ pump clogs least and 6 in line {rate} most.",
		p.Hose("0.375"): "hose 10 mm", p.Stone("unknown"): "stone unknown",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
