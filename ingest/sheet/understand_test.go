package sheet

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// synonyms are other headings for the columns of [messyLog]: words that people
// in the trade head such columns with; common practice, no published source.
var synonyms = map[string][]string{
	"Job #":       {"Job No.", "JOB NUMBER", "Project #", "W.O. #", "Contract #", "Folio"},
	"Client":      {"Customer", "Homeowner", "Cust.", "Sold to", "Cliente"},
	"Address":     {"Location", "Job Site", "Where", "Street", "Dirección"},
	"Poured":      {"Date", "Pour Date", "Date of Pour", "Placed", "Fecha de colado"},
	"What":        {"Type of Work", "Slab Type", "Kind", "Description", "Tipo"},
	"Sq Ft":       {"SF", "Area", "Square Footage", "Total SF", "Superficie (ft2)"},
	"Thk":         {"Thickness", "Depth", "Thick (in)", "Slab Depth", "Espesor"},
	"Yds Ordered": {"Est Yds", "Ordered", "CY Ordered", "Yds Figured", "Yardas pedidas"},
	"Act Yds":     {"Delivered", "Yds Used", "Ticket Yds", "CY Delivered", "Yardas reales"},
	"Left Over":   {"Returned", "Waste", "Yds Back", "Excess", "Sobrante"},
	"How Placed":  {"Method", "Placed by", "Pump/Chute", "Pour Method", "Método"},
	"Pump Co":     {"Pumper", "Pump Company", "Pump Outfit"},
	"Steel":       {"Reinforcement", "Mesh/Rebar", "Reinf.", "Refuerzo"},
	"Joints":      {"Jt Spacing", "Control Joints", "Panels", "Joints @", "Juntas"},
	"Temp":        {"Air temp", "Temperature", "High", "°F", "Temp aire"},
	"Boss":        {"Crew", "Foreman", "Crew Leader", "Cuadrilla"},
	"Guys":        {"Men", "# Men", "Crew size", "Hands", "Hombres"},
	"Man Hrs":     {"Labor Hours", "Hours", "Crew Hrs", "MH", "Horas hombre"},
	"Sold For":    {"Price", "Contract Price", "Total Price", "Charged", "Precio"},
	"Deposit":     {"Down Pmt", "Anticipo"},
	"Est Cost":    {"Budget", "Bid cost", "Cost Est", "Planned Cost", "Costo estimado"},
	"Our Cost":    {"Cost", "Actual Cost", "Total cost", "Spent", "Costo real"},
	"Call Back":   {"Callback", "Came back", "C/B", "Warranty"},
	"CB $":        {"Callback cost", "$ to fix", "Repair $", "Warranty cost"},
	"Notes":       {"Remarks", "Comments", "Misc", "Observaciones"},
}

// TestReadingStandsHoweverItIsHeaded shuffles the columns of a log and renames
// its headings by synonyms: the records must be the same, to the last value.
func TestReadingStandsHoweverItIsHeaded(t *testing.T) {
	grid, err := csv.NewReader(strings.NewReader(strings.SplitN(string(messyLog(60)), "\n\n", 2)[1])).ReadAll()
	must(t, err)
	want := logValues(t, grid)
	for seed := range uint64(25) {
		r := rand.New(rand.NewPCG(seed, 7))
		order := r.Perm(len(grid[0]))
		shuffled := make([][]string, len(grid))
		for i, row := range grid {
			for _, j := range order {
				cell := row[j]
				if i == 0 {
					if words := append(slices.Clone(synonyms[cell]), cell); r.IntN(3) > 0 {
						cell = words[r.IntN(len(words))]
					}
				}
				shuffled[i] = append(shuffled[i], cell)
			}
		}
		if got := logValues(t, shuffled); got != want {
			t.Fatalf("headed %q:\n%s\nwant:\n%s", shuffled[0], got, want)
		}
	}
}

// logValues are the values of a log's records, and the headings in doubt.
func logValues(t *testing.T, grid [][]string) string {
	t.Helper()
	var b strings.Builder
	must(t, csv.NewWriter(&b).WriteAll(grid))
	g := read(t, "log.csv", b.String(), Options{})
	var out strings.Builder
	for _, row := range g.values {
		fmt.Fprintln(&out, row)
	}
	for _, h := range g.Table.file.Reading().Doubtful() {
		fmt.Fprintln(&out, "doubtful", h.Column)
	}
	return out.String()
}

// TestAssignmentIsTheBest holds the assignment against every permutation, and
// its lower bounds of what another reading costs against the cost itself.
func TestAssignmentIsTheBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "rows")
		m := rapid.IntRange(n+1, 6).Draw(t, "columns")
		points := make([][]float64, n)
		for i := range points {
			points[i] = rapid.SliceOfN(rapid.Float64Range(-60, 20), m, m).Draw(t, "points")
		}
		columns, sum, least := assignDual(points)
		if best := bestOf(points, 0, map[int]bool{}); math.Abs(best-sum) > 1e-9 {
			t.Fatalf("%v makes %v, the best is %v", columns, sum, best)
		}
		for i := range points {
			keep := points[i][columns[i]]
			points[i][columns[i]] = -1e6
			if loss := sum - bestOf(points, 0, map[int]bool{}); loss < least[i]-1e-9 {
				t.Fatalf("another column for row %d costs %v, at least %v was said", i, loss, least[i])
			}
			points[i][columns[i]] = keep
		}
	})
}

func bestOf(points [][]float64, row int, taken map[int]bool) float64 {
	if row == len(points) {
		return 0
	}
	best := math.Inf(-1)
	for k, p := range points[row] {
		if !taken[k] {
			taken[k] = true
			best = max(best, p+bestOf(points, row+1, taken))
			delete(taken, k)
		}
	}
	return best
}

// TestAnswers takes a person's word for a heading over everything else.
func TestAnswers(t *testing.T) {
	const content = "Job #,Poured,What,Sq Ft,Thk,Yds A,Yds B\n25-01,6/3/2025,patio,320,4,4.25,4.5\n25-02,6/4/2025,driveway,640,4,8.25,8\n25-03,6/5/2025,walk,100,4,1.5,1.5\n25-04,6/6/2025,patio,400,4,5,5.25\n"
	f, err := open("x.csv", content, Options{})
	must(t, err)
	if n := len(f.Reading().Doubtful()); n != 2 {
		t.Errorf("%d headings are doubtful: %+v", n, f.Reading())
	}
	a, err := ParseAnswer("Yds A=planned_yd")
	must(t, err)
	b, err := ParseAnswer(" yds  b = delivered_yd")
	must(t, err)
	g := read(t, "x.csv", content, Options{Answers: []Answer{a, b}})
	equal(t, "planned", g.column("planned_yd"), "4.25", "8.25", "1.5", "5")
	equal(t, "delivered", g.column("delivered_yd"), "4.5", "8", "1.5", "5.25")
	g = read(t, "x.csv", content, Options{Answers: []Answer{a, {Heading: "Yds B"}}})
	equal(t, "of no use", g.Unknown, "Yds B")
	for _, bad := range []string{"", "=planned_yd", "Yds A", "Yds A=yards", "Yds A=loads.tons"} {
		if _, err := ParseAnswer(bad); err == nil {
			t.Errorf("%q is an answer", bad)
		}
	}
}
