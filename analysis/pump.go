package analysis

import (
	"strings"

	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// Pump says how often each outfit's line plugs, and the time that costs.
type Pump struct {
	All         PumpOutfit   `json:"all"`
	Outfits     []PumpOutfit `json:"outfits"`
	MinutesLost Figure       `json:"minutes_lost"` // to clogs, on pumped placements
	PerClog     Figure       `json:"minutes_per_clog"`
}

// PumpOutfit is one pumping outfit's record over the pumped placements that
// say both how much was delivered and how often the line plugged.
type PumpOutfit struct {
	Outfit      string  `json:"pump_outfit"`
	Placements  int     `json:"placements"`
	PumpedYd    float64 `json:"pumped_yd"`
	Clogs       int     `json:"clogs"`
	ClogsPer100 Figure  `json:"clogs_per_100yd"`
	Pooled      Figure  `json:"pooled"`
}

func pump(h *record.History, opt Options) *Pump {
	counted := func(i int) bool {
		p := &h.Placements[i]
		return p.Pumped() && p.Clogs.OK && p.DeliveredYd.OK
	}
	byOutfit := groupBy(len(h.Placements), func(i int) (string, bool) { return orUnknown(h.Placements[i].PumpOutfit), counted(i) })
	out := &Pump{Outfits: []PumpOutfit{}}
	var all []int
	for _, name := range byOutfit.sorted(strings.Compare) {
		rows := byOutfit.rows[name]
		all = append(all, rows...)
		o := pumpOutfit(h, rows, opt.Level)
		o.Outfit = name
		out.Outfits = append(out.Outfits, o)
	}
	out.All = pumpOutfit(h, all, opt.Level)
	out.MinutesLost, out.PerClog = clogMinutes(h, opt.Level)
	return out
}

func pumpOutfit(h *record.History, rows []int, level float64) PumpOutfit {
	o := PumpOutfit{Placements: len(rows), Pooled: later("rates pooled across outfits")}
	for _, i := range rows {
		o.PumpedYd += h.Placements[i].DeliveredYd.V
		o.Clogs += int(h.Placements[i].Clogs.V)
	}
	if len(rows) == 0 {
		o.ClogsPer100 = unknown("no pumped placement records both its yards and its clogs")
		return o
	}
	o.ClogsPer100 = estimated(interval.Garwood(o.Clogs, o.PumpedYd/100, level))
	return o
}

// clogMinutes are the minutes lost to clogs in all, and a clog.
func clogMinutes(h *record.History, level float64) (lost, perClog Figure) {
	var minutes, clogs []float64
	var sum float64
	n := 0
	for i := range h.Placements {
		p := &h.Placements[i]
		if !p.Pumped() || !p.ClogMin.OK {
			continue
		}
		n++
		sum += float64(p.ClogMin.V)
		if p.Clogs.Or(0) > 0 {
			minutes = append(minutes, float64(p.ClogMin.V))
			clogs = append(clogs, float64(p.Clogs.V))
		}
	}
	if n == 0 {
		why := unknown("no pumped placement records the minutes lost to clogs")
		return why, why
	}
	lost = total(sum, n, "sum of minutes lost to clogs")
	if len(clogs) == 0 {
		return lost, unknown("%s", reason(stat.ErrNoEvents))
	}
	each, err := interval.Ratio(minutes, clogs, level)
	return lost, orBare(each, err, sumOf(minutes)/sumOf(clogs), len(clogs), "ratio of totals")
}

func sumOf(xs []float64) float64 {
	s := 0.0
	for _, x := range xs {
		s += x
	}
	return s
}
