package bid

import (
	"fmt"
	"slices"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

func drive() Placement {
	return Placement{Use: "driveway", LengthFt: 40, WidthFt: 24, ThicknessIn: 5}
}

// By hand: 960 ft² of driveway against a garage at its short side 4: form 40 + 24 +
// 40 = 104 ft at $0.75 = $78; curing 960 × $0.10 = $96, both common practice, no
// published source; digging 960 × $1.10 = $1,056, hauling off $350, permits $150 as
// entered. Nobody said what the rest costs.
func TestLinesByHand(t *testing.T) {
	p := drive()
	p.Against = []int{4}
	spec := Spec{Draws: 200, Placements: []Placement{p}, On: "7", NoneNeeded: []string{"travel"}, Prices: Prices{ExcavationPerSqft: 1.10, HaulOff: 350, Permits: 150}, Items: []Item{{"sealer", 300}}}
	b := bidOf(t, stranger(), spec, setting.Options{})
	for name, want := range map[CostName]float64{CostForms: 78, CostCure: 96, CostExcavation: 1056, CostHaulOff: 350, CostPermits: 150, "sealer": 300} {
		trial.Near(t, string(name), item(b, name).Mean, want, 1e-9)
	}
	if want := []CostName{CostBase, CostEquipment, CostSubcontract, CostCleanUp, CostOverhead, CostContingency}; !slices.Equal(b.Cost.NotIncluded, want) {
		t.Errorf("not included: %v, want %v", b.Cost.NotIncluded, want)
	}
	if want := []CostName{CostTravel, CostPump}; !slices.Equal(b.Cost.NoneNeeded, want) {
		t.Errorf("none needed: %v, want %v", b.Cost.NoneNeeded, want)
	}
	for _, i := range b.Cost.Items {
		if i.Cost.Mean == 0 {
			t.Errorf("%s is a line of nothing", i.Item)
		}
	}
}

// Overhead and contingency lie on the job's cost, and the margin on both: at 12 %
// and 5 % the price is 1.17 times that without, by arithmetic, and what the records
// of the job will be held against stays.
func TestMarginIsOnCostWithOverhead(t *testing.T) {
	spec := Spec{Draws: 2000, Placements: []Placement{drive()}}
	bare := bidOf(t, stranger(), spec, setting.Options{})
	spec.Overhead, spec.Contingency = 0.12, 0.05
	b := bidOf(t, stranger(), spec, setting.Options{})
	trial.Near(t, "price", b.Price.Price, 1.17*bare.Price.Price, 0.02)
	trial.Near(t, "job's cost", b.Cost.Total.Mean, bare.Cost.Total.Mean, 1e-9)
	trial.Near(t, "overhead", b.Cost.Overhead.Figure.Value, 0.12*b.Cost.Total.Mean, 1e-9)
	trial.Near(t, "contingency", b.Cost.Contingency.Figure.Value, 0.05*b.Cost.Total.Mean, 1e-9)
	trial.Near(t, "with overhead", b.Cost.Loaded.Mean, 1.17*b.Cost.Total.Mean, 1e-9)
	trial.Near(t, "margin", b.Price.ExpectedMargin, (b.Price.Price-b.Cost.Loaded.Mean)/b.Price.Price, 1e-12)
	if !slices.Contains(bare.Cost.NotIncluded, CostOverhead) || slices.Contains(b.Cost.NotIncluded, CostOverhead) {
		t.Errorf("not included: %v, then %v", bare.Cost.NotIncluded, b.Cost.NotIncluded)
	}
}

// A price is asked in steps of $25, or of the owner's, and never below what was
// worked out.
func TestPricesAreAskedInSteps(t *testing.T) {
	opt := setting.Options{Bid: setting.DefaultBidPractice()}
	for _, step := range []float64{25, 100} {
		opt.Bid.PriceStep = step
		p := bidOf(t, stranger(), Spec{Draws: 500, Placements: []Placement{drive()}}, opt).Price
		if n := p.Asked / step; n != float64(int(n)) || p.Asked < p.Price || p.Asked >= p.Price+step {
			t.Errorf("%v is asked for %v in steps of %v", p.Asked, p.Price, step)
		}
	}
}

// A pump by the hour: 14.8 yd at 3 min a yard are 0.74 h, so that the least of 4 h is
// charged: 4 × $180 = $720; with $5 a yard for each yard used.
func TestPumpByTheHour(t *testing.T) {
	p := drive()
	p.Method = "pump"
	b := bidOf(t, stranger(), Spec{Draws: 500, Placements: []Placement{p}, Prices: Prices{PumpPerHour: 180, PumpPerYd: 5}}, setting.Options{})
	trial.Near(t, "pump", item(b, CostPump).Mean, 720+5*b.UsedYd.Mean, 3)
	b = bidOf(t, stranger(), Spec{Draws: 500, Placements: []Placement{p}, Prices: Prices{PumpPerHour: 180, PumpMinHours: 0.1}}, setting.Options{})
	minutes := 3*b.UsedYd.Mean + b.Delay.ClogMin.Figure.Value + b.Delay.OtherMin.Figure.Value
	trial.Near(t, "pump with stand-by", item(b, CostPump).Mean, 180*minutes/60, 12)
}

// Lines that at least half of the jobs on record paid for are theirs, by the median;
// what fewer paid for is a note.
func TestLinesFromRecords(t *testing.T) {
	var s record.Set
	for i := range 8 {
		no := fmt.Sprint(i)
		s.Jobs = append(s.Jobs, record.Job{JobNo: no})
		q := trial.Pour(no, "2025-07-02", "patio", "chute", 5, 5.4)
		s.Placements = append(s.Placements, q)
		paid := func(item string, dollars float64) {
			s.Costs = append(s.Costs, record.Cost{JobNo: no, Item: item, ActualAmount: record.Some(record.Cents(100 * dollars))})
		}
		if i < 6 {
			paid("equipment", 100+10*float64(i))
		}
	}
	h := record.NewHistory(trial.Day("2026-01-01"), s)
	b := bidOf(t, h, Spec{Draws: 50, Placements: []Placement{drive()}}, setting.Options{})
	trial.Near(t, "equipment", item(b, CostEquipment).Mean, 125, 1e-9)
	if slices.Contains(b.Cost.NotIncluded, CostEquipment) || !slices.Contains(b.Cost.NotIncluded, CostSubcontract) {
		t.Errorf("%v", b.Cost.NotIncluded)
	}
}

// Cold: the company's January pours are at 30 °F, below the 40 °F of ACI 306R, so the
// bid has heated mix ($8 a yard), blankets ($0.25 a ft²) and half a person-hour for
// 100 ft² (common practice, no published source); its July pours are warm. Without
// records January is asked about, and left out.
func TestWhatColdAdds(t *testing.T) {
	var s record.Set
	for i := range 6 {
		for day, air := range map[string]float64{"2025-01-14": 30, "2025-07-14": 90} {
			q := trial.Pour(fmt.Sprint(day, i), day, "patio", "chute", 5, 5.4)
			q.AirTempF = record.Some(air)
			s.Placements = append(s.Placements, q)
		}
	}
	h := record.NewHistory(trial.Day("2026-02-01"), s)
	spec := Spec{Draws: 50, Placements: []Placement{drive()}, On: "1"}
	b := bidOf(t, h, spec, setting.Options{})
	want := 8*b.UsedYd.Mean + 0.25*960 + 0.5*9.6*b.Labor.Wage.Figure.Value
	trial.Near(t, "cold", item(b, CostCold).Mean, want, 1e-6)
	spec.On = "7"
	if warm := bidOf(t, h, spec, setting.Options{}); item(warm, CostCold).Mean != 0 || slices.Contains(warm.Cost.NotIncluded, CostCold) {
		t.Error("July is cold")
	}
	spec.On = "1"
	asked := bidOf(t, stranger(), spec, setting.Options{})
	if !slices.Contains(asked.Cost.NotIncluded, CostCold) || !slices.ContainsFunc(asked.Notes, func(n Note) bool { return n.Kind == NoteCold }) {
		t.Errorf("%v, %v", asked.Cost.NotIncluded, asked.Notes)
	}
}

func TestNoneNeededIsALine(t *testing.T) {
	spec := Spec{Placements: []Placement{drive()}, NoneNeeded: []string{"the moon"}}
	if fatal := Check(spec).Fatal(); len(fatal) != 1 || fatal[0].What != UnknownWord {
		t.Errorf("%v", fatal)
	}
}

// Four steps of 4 ft are 16 ft of riser, at one person-hour a foot 16 h beside the
// flatwork of their treads; 24 ft of curb at 0.2 h are 4.8 h (common practice, no
// published source). The draws agree.
func TestStepsAndCurbsTakeHours(t *testing.T) {
	flat := bidOf(t, stranger(), Spec{Draws: 4000, Placements: []Placement{drive()}}, setting.Options{})
	p := drive()
	p.Steps, p.Curb = Steps{4, 7, 12, 4, true}, Curb{24, 6, 6}
	b := bidOf(t, stranger(), Spec{Draws: 4000, Placements: []Placement{p}}, setting.Options{})
	if more := b.Labor.Mean.Figure.Value - flat.Labor.Mean.Figure.Value; more < 20.8 || more > 28 {
		t.Errorf("%v h more than the flat slab: want 20.8 and what the larger area and volume take", more)
	}
	wage := b.Labor.Wage.Figure.Value
	trial.Near(t, "labor", item(b, CostLabor).Mean, b.Labor.Mean.Figure.Value*wage, 0.03*b.Labor.Mean.Figure.Value*wage)
	if b.Setting(SetStepHours).Value != 1 || b.Setting(SetCurbHours).Value != 0.2 {
		t.Error("the settings do not say so")
	}
}
