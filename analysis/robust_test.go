package analysis_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"pourback/analysis"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

var slips = flag.Int("slips", 60, "how many single values of a record are changed to hold the headlines against it")

// leastRecords is from how many records on one of them moves no headline far.
const leastRecords = 30

// TestOneValueMovesNoHeadline changes one value of one record to anything within
// its hard limits: no modelled headline moves by more than its own range is wide.
// Most of what could move one is left out as impossible beside its row.
func TestOneValueMovesNoHeadline(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 1))
	asOf := record.DateOf(2026, 3, 31)
	broken := map[string]bool{}
	for company := range uint64(3) {
		set, _, err := invented.Generate(invented.Options{Jobs: []int{28, 60, 120}[company], Seed: company + 20, Years: 2, Until: asOf})
		if err != nil {
			t.Fatal(err)
		}
		log := invented.JobLog(set, asOf)
		if len(log) < leastRecords {
			t.Fatalf("company %d has %d placements", company, len(log))
		}
		whole := headlinesOf(t, asOf, log)
		for range *slips / 3 {
			rows := append([]record.Placement{}, log...)
			said := slip(t, dice, &rows[dice.IntN(len(rows))])
			for name, is := range headlinesOf(t, asOf, rows) {
				was, width := whole[name], max(whole[name].High-whole[name].Low, is.High-is.Low)
				if is.Known() && was.Known() && was.Bounded && math.Abs(is.Value-was.Value) > width && !broken[name+said[:6]] {
					broken[name+said[:6]] = true
					t.Errorf("company %d, %s: %s was %.4g (%.4g to %.4g) and is %.4g (%.4g to %.4g)", company, said, name, was.Value, was.Low, was.High, is.Value, is.Low, is.High)
				}
			}
		}
	}
}

// slip changes one value of a placement, or of its job, to anything that its
// column takes, and says which.
func slip(t *testing.T, dice *rand.Rand, p *record.Placement) string {
	for {
		row := record.Record(p)
		if dice.IntN(4) == 0 {
			row = &p.Log
		}
		i := dice.IntN(len(row.Fields()))
		c, field := &row.Table().Columns[i], row.Fields()[i]
		if c.Hard == (record.Range{}) && c.Kind != record.KindMoney || record.IsMissing(field) {
			continue
		}
		low, high := c.Hard.Min.Or(0), c.Hard.Max.Or(1e6)
		v := low + (high-low)*dice.Float64()
		if dice.IntN(2) == 0 { // as often among small ones as among large ones
			v = low + math.Pow(high-low+1, dice.Float64()) - 1
		}
		was := record.FieldText(field)
		if now, err := strconv.ParseFloat(was, 64); err == nil && dice.IntN(3) > 0 { // and most near what may be: 1/40 to 40 times as much
			v = now * math.Pow(40, 2*dice.Float64()-1)
		}
		switch field.(type) {
		case *record.Count:
			v = math.Round(v)
		default:
			v = math.Round(100*v) / 100
		}
		if c.Hard.Below(v) || c.Hard.Beyond(v) {
			continue
		}
		if err := record.SetField(field, fmt.Sprint(v)); err != nil {
			t.Fatal(c.Name, err)
		}
		return fmt.Sprintf("%s of %s %s from %s to %v", c.Name, p.JobNo, p.Placement, was, v)
	}
}

// headlinesOf are the modelled figures that the pages' first sentences stand on,
// where they rest on records enough.
func headlinesOf(t *testing.T, asOf record.Date, rows []record.Placement) map[string]figure.Figure {
	t.Helper()
	f, err := analysis.Run(record.NewHistory(asOf, record.Set{Placements: rows}), setting.Options{Topics: []string{"overage", "crews", "pump", "cracks", "reinforcement", "margin"}})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]figure.Figure{"cracks": f.Cracks.All.Risk1Yr, "steel": f.Reinforcement.MeshVsRebar.AdjustedDifference, "steel, in money": f.Reinforcement.MeshVsRebar.RebarGain,
		"margin: usual month": f.Margin.Control.Center, "pump": f.Pump.All.ClogsPer100, "waste: in all": f.Overage.All.RatioOfTotals}
	for i := range f.Overage.Groups {
		g := &f.Overage.Groups[i]
		if g.N >= leastRecords {
			out["waste: "+g.Use+" "+g.Method] = g.PooledMean
		}
	}
	for _, c := range f.Crews {
		if c.N >= leastRecords {
			out["crews: "+c.Crew] = c.HoursVsAverage
		}
	}
	for _, o := range f.Pump.Outfits {
		if o.Placements >= leastRecords {
			out["pump: "+o.Outfit] = o.Pooled
		}
	}
	return out
}
