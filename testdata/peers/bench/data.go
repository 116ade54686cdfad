package main

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
)

// header is that of an invented job log, one placement a job.
const header = "job_no,placement,placed_on,use,area_sqft,thickness_in,planned_yd,delivered_yd,leftover_yd,method,pump_outfit,clogs,delay_min," +
	"air_temp_f,concrete_temp_f,humidity_pct,wind_mph,reinforcement,joint_spacing_ft,saw_hours,crew,crew_size,labor_hours,contract_price,bid_cost,actual_cost," +
	"callback_on,callback_kind,callback_cost\n"

// A shape is what is unusual about a history.
type shape struct {
	crews      int
	oneJob     bool // all placements are one job's
	oneDay     bool // all callbacks came on one day
	callbackIn int  // one placement in so many is called back
}

var usual = shape{crews: 12, callbackIn: 25}

// writeLog writes an invented job log.
func writeLog(path string, rows int, s shape) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	w := bufio.NewWriterSize(f, 1<<20)
	w.WriteString(header)
	r := rand.New(rand.NewPCG(1, uint64(rows)))
	for i := range rows {
		writeRow(w, r, i, s)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return f.Close()
}

func writeRow(w *bufio.Writer, r *rand.Rand, i int, s shape) {
	pick := func(words ...string) string { return words[r.IntN(len(words))] }
	quarter := func(x float64) float64 { return math.Round(4*x) / 4 }
	job, placement := fmt.Sprintf("J%08d", i), "A"
	if s.oneJob {
		job, placement = "J1", fmt.Sprint("P", i)
	}
	area, thick := float64(120+r.IntN(900)), float64(4+r.IntN(3))
	neat := area * thick / 324
	delivered := max(0.25, quarter(neat*math.Exp(0.06+0.06*r.NormFloat64())))
	method, outfit, clogs := pick("chute", "pump", "buggy"), "", ""
	if method == "pump" {
		outfit, clogs = fmt.Sprint("Outfit ", r.IntN(8)), fmt.Sprint(r.IntN(10)/8)
	}
	year, month, day := 2018+r.IntN(8), 1+r.IntN(12), 1+r.IntN(28)
	if year == 2025 {
		month = 1 + r.IntN(6)
	}
	hours := math.Round(area*0.05*math.Exp(0.2*r.NormFloat64())*4)/4 + 4
	cost := 100 * (300 + area*6*math.Exp(0.1*r.NormFloat64()))
	called := ",,"
	if r.IntN(s.callbackIn) == 0 {
		on := fmt.Sprintf("2025-%02d-%02d", 7+r.IntN(6), 1+r.IntN(28))
		if s.oneDay {
			on = "2025-09-01"
		}
		called = on + "," + pick("crack", "crack", "scaling", "settlement") + "," + fmt.Sprint(100+r.IntN(900))
	}
	fmt.Fprintf(w, "%s,%s,%d-%02d-%02d,%s,%g,%g,%g,%g,%g,%s,%s,%s,%d,%d,%d,%d,%d,%s,%d,%g,Crew %d,%d,%g,%.2f,%.2f,%.2f,%s\n",
		job, placement, year, month, day, pick("driveway", "patio", "sidewalk", "garage slab", "shed slab"), area, thick,
		quarter(neat*1.08)+0.25, delivered, quarter(0.2*r.Float64()), method, outfit, clogs, r.IntN(4)*5, 40+r.IntN(65), 50+r.IntN(42), 15+r.IntN(75), r.IntN(20),
		pick("none", "mesh", "rebar", "fiber"), 6+2*r.IntN(5), float64(r.IntN(40))/2, r.IntN(s.crews), 2+r.IntN(4), hours, cost*1.3/100, cost/100, cost*math.Exp(0.08*r.NormFloat64())/100, called)
}
