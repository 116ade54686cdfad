package record

import (
	"slices"
	"strings"
	"testing"
)

func day(s string) Date {
	d, err := ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

func moment(s string) Moment {
	m, err := ParseMoment(s)
	if err != nil {
		panic(err)
	}
	return m
}

// oneJob is a job with a pumped driveway, in full form.
func oneJob() Set {
	return Set{
		Jobs:       []Job{{JobNo: "J-1", ContractPrice: Some[Cents](900000)}},
		Placements: []Placement{{JobNo: "J-1", Placement: "A", PlacedOn: day("2025-06-03"), Use: "driveway", AreaSqft: Some(810.0), ThicknessIn: Some(4.0), Method: "pump"}},
		Loads:      []Load{{JobNo: "J-1", Placement: "A", TicketNo: "1", Yards: Some(9.1)}, {JobNo: "J-1", TicketNo: "2", Yards: Some(1.2)}},
		Delays:     []Delay{{JobNo: "J-1", Seq: Some[int64](1), Cause: "clog", Spot: "hose", Minutes: Some[int64](20)}, {JobNo: "J-1", Seq: Some[int64](2), Cause: "truck late", Minutes: Some[int64](15)}},
		Labor:      []Labor{{JobNo: "J-1", WorkedOn: day("2025-06-02"), Task: "form", Hours: Some(8.1)}, {JobNo: "J-1", WorkedOn: day("2025-06-03"), Task: "place", Hours: Some(16.2)}},
		Costs:      []Cost{{JobNo: "J-1", Item: "concrete", ActualQty: Some(10.3), ActualRate: Some[Cents](16500)}, {JobNo: "J-1", Item: "labor", ActualAmount: Some[Cents](100000)}},
		Visits: []Visit{{JobNo: "J-1", SeenOn: day("2025-09-01"), Why: "callback", Finding: "crack", Cost: Some[Cents](15000)}, {JobNo: "J-1", SeenOn: day("2025-07-01"), Why: "planned", Finding: "sound"},
			{JobNo: "J-1", SeenOn: day("2025-10-01"), Why: "callback", Finding: "crack", Cost: Some[Cents](5000)}},
	}
}

func TestSummariesComeFromEvents(t *testing.T) {
	h := NewHistory(day("2025-12-31"), oneJob())
	p := h.Placements.Row(0)
	if p.DeliveredYd != Some(10.3) { // 9.1 + 1.2 is 10.299999999999999 in binary
		t.Errorf("delivered %v, want 10.3", p.DeliveredYd)
	}
	if p.LaborHours != Some(24.3) {
		t.Errorf("labor hours %v, want 24.3", p.LaborHours)
	}
	if p.Clogs != Some[int64](1) || p.ClogMin != Some[int64](20) || p.DelayMin != Some[int64](35) {
		t.Errorf("clogs %v of %v min in %v min, want 1, 20, 35", p.Clogs, p.ClogMin, p.DelayMin)
	}
	if p.CallbackOn != day("2025-09-01") || p.CallbackKind != "crack" || p.CallbackCost != Some[Cents](20000) {
		t.Errorf("callback %v %q %v, want 2025-09-01 crack 200.00", p.CallbackOn, p.CallbackKind, p.CallbackCost)
	}
	if got := h.JobOf(0).ActualCost(); got != Some[Cents](169950+100000) { // 10.3 × 165.00
		t.Errorf("actual cost %v, want 2699.50", got)
	}
	if len(h.Checks) != 0 {
		t.Errorf("nothing is amiss, but %v", h.Checks)
	}
}

func TestNothingIsKnownBeforeItHappens(t *testing.T) {
	h := NewHistory(day("2025-08-31"), oneJob())
	if p := h.Placements.Row(0); p.CallbackOn != 0 || p.CallbackKind != "" || p.CallbackCost.OK {
		t.Errorf("a callback of September is known in August: %v %q", p.CallbackOn, p.CallbackKind)
	}
	if n := len(h.VisitsOf(0)); n != 1 {
		t.Errorf("%d visits are known, want 1", n)
	}
	if h := NewHistory(day("2025-06-02"), oneJob()); h.Placements.Len() != 0 || h.Jobs.Len() != 0 {
		t.Errorf("%d placements and %d jobs before the pour", h.Placements.Len(), h.Jobs.Len())
	}
}

// Events of a placement that is to come are no events of a job that names
// nothing, and forms that stand before a pour are no reason to look again.
func TestEventsOfPoursToComeAreNotKnown(t *testing.T) {
	for asOf, placed := range map[string]int{"2025-06-02": 0, "2025-06-03": 1, "2025-06-04": 2} {
		s := oneJob()
		second := s.Placements[0]
		second.Placement, second.PlacedOn = "B", day("2025-06-04")
		s.Placements = append(s.Placements, second)
		for i := range s.Loads {
			s.Loads[i].Placement = "B"
			s.Delays[i].Placement = "B"
			s.Labor[i].Placement = "B"
		}
		s.Visits = nil
		h := NewHistory(day(asOf), s)
		if h.Placements.Len() != placed || len(h.Checks) != 0 {
			t.Errorf("as of %s: %d placements, and %v", asOf, h.Placements.Len(), h.Checks)
		}
		if known := placed == 2; (len(h.Loads) > 0) != known || (len(h.Delays) > 0) != known || (len(h.Labor) > 0) != known {
			t.Errorf("as of %s: %d loads, %d delays, %d hours", asOf, len(h.Loads), len(h.Delays), len(h.Labor))
		}
	}
}

func TestEventsWinAndDifferencesAreSaid(t *testing.T) {
	s := oneJob()
	s.Placements[0].DeliveredYd = Some(11.0)
	s.Placements[0].Clogs = Some[int64](1)
	s.Jobs[0].ActualCost = Some[Cents](1)
	h := NewHistory(day("2025-12-31"), s)
	if h.Placements.Row(0).DeliveredYd != Some(10.3) {
		t.Errorf("delivered %v, want the loads' 10.3", h.Placements.Row(0).DeliveredYd)
	}
	var columns []string
	for _, c := range h.Checks {
		columns = append(columns, c.Column)
	}
	if !slices.Equal(columns, []string{"delivered_yd", "actual_cost"}) {
		t.Errorf("differences in %v, want delivered_yd and actual_cost", columns)
	}
}

func TestAnEventOfNoPlacementLeavesTheSummariesAlone(t *testing.T) {
	s := oneJob()
	s.Placements = append(s.Placements, Placement{JobNo: "J-1", Placement: "B", PlacedOn: day("2025-06-03"), DeliveredYd: Some(2.0)})
	h := NewHistory(day("2025-12-31"), s)
	if h.Placements.Row(0).DeliveredYd.OK {
		t.Errorf("A has %v yd, though load 2 may be its or B's", h.Placements.Row(0).DeliveredYd)
	}
	if h.Placements.Row(1).DeliveredYd != Some(2.0) {
		t.Errorf("B has %v yd, want the 2 written down", h.Placements.Row(1).DeliveredYd)
	}
	if !slices.ContainsFunc(h.Checks, func(p Problem) bool {
		return p.Code == "names-no-placement" && strings.Contains(p.Wrong, "loads")
	}) {
		t.Errorf("nothing says so: %v", h.Checks)
	}
}

func TestAnEventOfNoJobIsSaid(t *testing.T) {
	s := oneJob()
	s.Loads = append(s.Loads, Load{JobNo: "J-9", TicketNo: "3", Yards: Some(5.0)})
	h := NewHistory(day("2025-12-31"), s)
	if len(h.Checks) != 1 || h.Checks[0].Code != "names-nothing" {
		t.Errorf("checks %v, want one of names-nothing", h.Checks)
	}
	if h.Placements.Row(0).DeliveredYd != Some(10.3) {
		t.Errorf("delivered %v, want 10.3", h.Placements.Row(0).DeliveredYd)
	}
}

// TestSilenceOfTheDelayLog: no delay of a job recorded by events is none that
// happened, once the company keeps delays at all; before that it is unknown.
func TestSilenceOfTheDelayLog(t *testing.T) {
	s := oneJob()
	s.Placements = append(s.Placements,
		Placement{JobNo: "J-0", Placement: "A", PlacedOn: day("2024-05-01"), Method: "pump"},
		Placement{JobNo: "J-2", Placement: "A", PlacedOn: day("2025-07-01"), Method: "pump"})
	h := NewHistory(day("2025-12-31"), s)
	if got := h.Placements.Row(0).Clogs; got.OK {
		t.Errorf("J-0, before the log began, has %v clogs, want unknown", got)
	}
	if got := h.Placements.Row(2).Clogs; got != Some[int64](0) {
		t.Errorf("J-2, in the log's time, has %v clogs, want 0", got)
	}
	s = oneJob()
	s.Delays = nil
	if got := NewHistory(day("2025-12-31"), s).Placements.Row(0).Clogs; got.OK {
		t.Errorf("with no delays at all there are %v clogs, want unknown", got)
	}
}

func TestAJobLogsMoney(t *testing.T) {
	log := func(prices ...int64) []Placement {
		var ps []Placement
		for i, c := range prices {
			p := Placement{JobNo: "J-1", Placement: string(rune('A' + i)), PlacedOn: day("2025-06-03")}
			if c > 0 {
				p.Log.ContractPrice = Some(Cents(c))
			}
			ps = append(ps, p)
		}
		return ps
	}
	for _, c := range []struct {
		name string
		rows []Placement
		want Money
	}{
		{"written once", log(9000, 0), Some[Cents](9000)},
		{"repeated on each row", log(9000, 9000), Some[Cents](9000)},
		{"a share on each row", log(6000, 3000), Some[Cents](9000)},
		{"a share on each row, two alike", log(3000, 3000, 6000), Some[Cents](12000)},
		{"not at all", log(0, 0), Money{}},
	} {
		h := NewHistory(day("2025-12-31"), Set{Placements: c.rows})
		if got := h.JobOf(0).ContractPrice(); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	withJob := Set{Placements: log(6000, 3000), Jobs: []Job{{JobNo: "J-1", ContractPrice: Some[Cents](9500)}}}
	if got := NewHistory(day("2025-12-31"), withJob).JobOf(0).ContractPrice(); got != Some[Cents](9500) {
		t.Errorf("the jobs table says 9500, but %v is taken", got)
	}
}

func TestOrderOfRowsDoesNotMatter(t *testing.T) {
	a, b := oneJob(), oneJob()
	slices.Reverse(b.Loads)
	slices.Reverse(b.Visits)
	slices.Reverse(b.Labor)
	x, y := NewHistory(day("2025-12-31"), a), NewHistory(day("2025-12-31"), b)
	if x.Placements.Row(0) != y.Placements.Row(0) {
		t.Errorf("%+v\nand\n%+v", x.Placements.Row(0), y.Placements.Row(0))
	}
}

// TestChangeOrdersOfALog follows them the way of all money in a job log, and
// into the job's revenue.
func TestChangeOrdersOfALog(t *testing.T) {
	row := func(placement string, price, change Money) Placement {
		return Placement{JobNo: "1", Placement: placement, PlacedOn: day("2025-06-03"), Log: Job{Customer: "Alder", ContractPrice: price, ChangeOrders: change}}
	}
	money := func(c Cents) Money { return Some(c) }
	for _, c := range []struct {
		name    string
		rows    []Placement
		change  Money
		revenue Money
	}{
		{"once", []Placement{row("A", money(8200_00), money(450_00)), row("B", Money{}, Money{})}, money(450_00), money(8650_00)},
		{"on each row", []Placement{row("A", money(8200_00), money(-450_00)), row("B", money(8200_00), money(-450_00))}, money(-450_00), money(7750_00)},
		{"shares", []Placement{row("A", money(8200_00), money(450_00)), row("B", money(800_00), money(50_00))}, money(500_00), money(9500_00)},
		{"none", []Placement{row("A", money(8200_00), Money{})}, Money{}, money(8200_00)},
		{"no price", []Placement{row("A", Money{}, money(450_00))}, money(450_00), Money{}},
	} {
		job := NewHistory(day("2025-12-31"), Set{Placements: c.rows}).Jobs.Row(0)
		if job.ChangeOrders != c.change || job.Revenue() != c.revenue || job.Customer != "Alder" {
			t.Errorf("%s: change orders %v, revenue %v, customer %q; want %v, %v, Alder", c.name, job.ChangeOrders, job.Revenue(), job.Customer, c.change, c.revenue)
		}
	}
}

// TestCallbackOfASoundSlab: a customer who calls about a slab that is found
// sound has called, but no crack came of it; what is found otherwise is the kind
// of the callback as it stands.
func TestCallbackOfASoundSlab(t *testing.T) {
	for finding, kind := range map[string]string{"sound": "other", "crack": "crack", "scaling": "scaling", "other": "other"} {
		s := oneJob()
		s.Visits = []Visit{{JobNo: "J-1", SeenOn: day("2025-09-01"), Why: "callback", Finding: finding}}
		h := NewHistory(day("2025-12-31"), s)
		if p := h.Placements.Row(0); p.CallbackKind != kind || p.CallbackOn != day("2025-09-01") {
			t.Errorf("a callback that found %q is of kind %q on %v, want %q on 2025-09-01", finding, p.CallbackKind, p.CallbackOn, kind)
		}
	}
}
