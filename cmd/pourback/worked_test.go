package main

import (
	"fmt"
	"go/constant"
	"go/token"
	"go/types"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pourback/analysis/bid"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/spec"
	"pourback/report/desk"
)

// workedJob is a job of testdata/bids/worked.md.
type workedJob struct {
	name, spec string
	lines      [][3]string // what, worked out, comes to
}

func workedJobs(t *testing.T) []workedJob {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "bids", "worked.md"))
	if err != nil {
		t.Fatal(err)
	}
	var jobs []workedJob
	for _, part := range strings.Split(string(text), "\n## ")[1:] {
		name, rest, _ := strings.Cut(part, "\n")
		_, rest, _ = strings.Cut(rest, "```yaml\n")
		yaml, table, found := strings.Cut(rest, "```")
		if !found {
			t.Fatalf("%s has no spec", name)
		}
		job := workedJob{name: name, spec: yaml}
		for _, line := range strings.Split(table, "\n") {
			cells := strings.Split(line, "|")
			if len(cells) == 5 && !strings.Contains(line, "---") && strings.TrimSpace(cells[1]) != "line" {
				job.lines = append(job.lines, [3]string{strings.TrimSpace(cells[1]), strings.TrimSpace(cells[2]), strings.TrimSpace(cells[3])})
			}
		}
		jobs = append(jobs, job)
	}
	return jobs
}

var wholeNumber = regexp.MustCompile(`\d+(\.\d+)?`)

// workOut is what arithmetic as a person writes it comes to.
func workOut(t *testing.T, text string, values map[string]float64) float64 {
	t.Helper()
	for name, v := range values {
		text = strings.ReplaceAll(text, name, strconv.FormatFloat(v, 'f', 9, 64))
	}
	text = strings.NewReplacer("×", "*", "÷", "/", "−", "-", "π", strconv.FormatFloat(math.Pi, 'f', 15, 64)).Replace(text)
	text = wholeNumber.ReplaceAllStringFunc(text, func(n string) string {
		if strings.Contains(n, ".") {
			return n
		}
		return n + ".0"
	})
	got, err := types.Eval(token.NewFileSet(), nil, token.NoPos, text)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	v, _ := constant.Float64Val(constant.ToFloat(got.Value))
	return v
}

// TestTenWorkedJobs bids on each job of worked.md and holds it against its lines.
func TestTenWorkedJobs(t *testing.T) {
	jobs := workedJobs(t)
	if len(jobs) != 10 {
		t.Errorf("%d jobs, want 10", len(jobs))
	}
	for _, job := range jobs {
		t.Run(job.name, func(t *testing.T) {
			s, problems := spec.Read("job.yaml", []byte(job.spec), nil, sheet.Options{})
			if s == nil {
				t.Fatal(problems)
			}
			asked, err := desk.SpecOf(s)
			if err != nil {
				t.Fatal(err)
			}
			b, err := bid.Make(record.NewHistory(record.Date(20000), record.Set{}), asked, setting.Options{})
			if err != nil {
				t.Fatal(err)
			}
			values := map[string]float64{"used": b.UsedYd.Mean, "wage": b.Labor.Wage.Figure.Value}
			for _, l := range job.lines {
				want := workOut(t, l[1], values)
				if printed, err := strconv.ParseFloat(l[2], 64); l[2] != "" && (err != nil || math.Abs(printed-want) > 0.0051) {
					t.Errorf("%s: %s comes to %v, and %s is written", l[0], l[1], want, l[2])
				}
				if got, known := worked(b, l[0]); !known || math.Abs(got-want) > 0.0051*max(1, want/1000) {
					t.Errorf("%s is %v in the bid, by hand %s = %v", l[0], got, l[1], want)
				}
			}
			checkSums(t, b)
		})
	}
}

// worked is what a bid says of a line: its cost, or one of its quantities.
func worked(b *bid.Bid, line string) (float64, bool) {
	quantities := map[string]float64{"neat yd": b.NeatYd.Figure.Value}
	for _, p := range b.Placements {
		quantities["panels"] += float64(len(p.Joints.Panels))
		quantities["joints ft"] += p.Joints.CutFt.Figure.Value
		for _, way := range p.Steel {
			switch way.Way {
			case "mesh":
				quantities["sheets"] += way.Quantity
			case "rebar":
				quantities["bars"] += float64(way.Takeoff.Lines)
				quantities["sticks"] += float64(way.Sticks)
			}
		}
	}
	if v, known := quantities[line]; known {
		return v, true
	}
	sum, known := 0.0, line == "joints" // tooled ones cost nothing, and have no line
	for _, i := range b.Cost.Items {
		if string(i.Item) == line {
			sum, known = sum+i.Cost.Mean, true
		}
	}
	return sum, known
}

// checkSums holds the lines that are drawn by chance against what the bid prints of
// the order, the hours, the delays and the callbacks.
func checkSums(t *testing.T, b *bid.Bid) {
	t.Helper()
	near := func(what string, got, want, room float64) {
		if math.Abs(got-want) > room {
			t.Errorf("%s is %.2f, by hand %.2f ± %.2f", what, got, want, room)
		}
	}
	item := func(name bid.CostName) float64 {
		v, _ := worked(b, string(name))
		return v
	}
	concrete, disposal := b.Setting(bid.SetConcrete).Value, b.Setting(bid.SetDisposal).Value
	want := 0.0
	for _, d := range b.Days {
		o := d.Order
		by := concrete*(o.Yd+o.BalanceYd) + disposal*o.LeftoverYd + d.RunningShort.Cost*o.ChanceShort.Figure.Value + o.ShortFee
		near(fmt.Sprintf("the order of day %d", d.Day), o.Cost, by, 0.005*by)
		want += o.Cost
	}
	near("concrete and short loads", item(bid.CostConcrete)+item(bid.CostShortLoads), want, 0.01*want)
	wage, people := b.Labor.Wage.Figure.Value, b.Labor.Size.Figure.Value
	near("labor", item(bid.CostLabor), b.Labor.Mean.Figure.Value*wage, 0.03*b.Labor.Mean.Figure.Value*wage)
	waited := (b.Delay.OtherMin.Figure.Value + b.Delay.ClogMin.Figure.Value) * people * wage / 60
	near("delays", item(bid.CostDelay), waited, 0.06*waited+2)
	reserve := b.Reserve.Callbacks.Figure.Value * b.Reserve.EachCost.Figure.Value
	near("reserve", item(bid.CostCallbacks), reserve, 0.15*reserve)
	sum := 0.0
	for _, i := range b.Cost.Items {
		sum += i.Cost.Mean
	}
	near("the sum of the lines", sum, b.Cost.Total.Mean, 0.01)
	near("the cost with overhead", b.Cost.Loaded.Mean, b.Cost.Total.Mean+b.Cost.Overhead.Figure.Value+b.Cost.Contingency.Figure.Value, 0.01)
	near("the price", b.Price.Price, b.Cost.Loaded.P80/0.75, 0.02)
}
