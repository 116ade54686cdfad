package analysis

import (
	"cmp"
	"slices"

	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// Delays says where time went, from the events of a history handed in in full.
type Delays struct {
	Causes []DelayCause // the costliest first
	Spots  []DelayCause // where clogs sat
	Late   LateLoads
}

// DelayCause is the time lost to one cause, or to clogs at one spot.
type DelayCause struct {
	Name    string
	Times   int
	Minutes int64
	Share   float64 // of all minutes in the list
	Running float64 // share of this and all before it
	Each    Figure  // minutes each time
}

// LateLoads are the loads over 120 minutes from batching to the end of
// discharge, of those whose times are recorded.
type LateLoads struct {
	Known, Late int
	Share       Figure
}

func delays(h *record.History, level float64) *Delays {
	if len(h.Delays) == 0 && len(h.Loads) == 0 {
		return nil
	}
	d := &Delays{}
	d.Causes = delayCauses(h, level, func(d *record.Delay) string { return orUnknown(d.Cause) })
	d.Spots = delayCauses(h, level, func(d *record.Delay) string {
		if d.Cause != "clog" {
			return ""
		}
		return orUnknown(d.Spot)
	})
	for i := range h.Loads {
		if minutes := h.Loads[i].Discharge(); minutes.OK {
			d.Late.Known++
			if minutes.V > lateAfter {
				d.Late.Late++
			}
		}
	}
	d.Late.Share = estimated(interval.Wilson(d.Late.Late, d.Late.Known, level))
	return d
}

// lateAfter is the minutes from batching to discharge over which a load is
// looked at; ASTM C94 has long said 90, and lets the parties agree otherwise.
const lateAfter = 120

// delayCauses are the minutes by a name; an event without a name is left out.
func delayCauses(h *record.History, level float64, name func(*record.Delay) string) []DelayCause {
	by := groupBy(len(h.Delays), func(i int) (string, bool) { n := name(&h.Delays[i]); return n, n != "" })
	var out []DelayCause
	var all int64
	for _, cause := range by.sorted(cmp.Compare) {
		c := DelayCause{Name: cause, Times: len(by.rows[cause])}
		minutes := make([]float64, 0, c.Times)
		for _, i := range by.rows[cause] {
			c.Minutes += h.Delays[i].Minutes.V
			minutes = append(minutes, float64(h.Delays[i].Minutes.V))
		}
		mean, err := interval.MeanT(minutes, level)
		c.Each = orBare(mean, err, sumOf(minutes)/float64(c.Times), c.Times, "mean")
		all += c.Minutes
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b DelayCause) int { return cmp.Compare(b.Minutes, a.Minutes) })
	running := int64(0)
	for i := range out {
		running += out[i].Minutes
		if all > 0 {
			out[i].Share, out[i].Running = float64(out[i].Minutes)/float64(all), float64(running)/float64(all)
		}
	}
	return out
}
