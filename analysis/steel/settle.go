package steel

import "math"

// Missing says how many more placements, and years at the present pace, it takes
// until the records can show a difference that would just pay for rebar. None,
// and not enough: the slabs are there and have to grow older.
func (m MeshVsRebar) Missing() (placements, years float64, enough bool) {
	if enough = m.Detectable.Known() && math.Abs(math.Log(m.BreakEven.Value)) >= math.Log(m.Detectable.Value); enough {
		return 0, 0, true
	}
	placements = max(0, m.PlacementsNeeded.Value-float64(m.Mesh+m.Rebar))
	return placements, m.YearsNeeded.Value * placements / m.PlacementsNeeded.Value, false
}

// Spread says between which ends the chance that mesh is cheaper lies, by all
// heeded ways of looking at it.
func (m MeshVsRebar) Spread() (low, high float64) {
	low, high = m.MeshCheaper.Value, m.MeshCheaper.Value
	for _, c := range m.Sensitivity {
		if c.Heeded && c.MeshCheaper.Known() {
			low, high = min(low, c.MeshCheaper.Value), max(high, c.MeshCheaper.Value)
		}
	}
	return low, high
}

// CheaperToPlace is the one of mesh and rebar that costs less before callbacks:
// mesh where that is not known, as is usual.
func (m MeshVsRebar) CheaperToPlace() string {
	if m.ExtraRebar.Known() && m.ExtraRebar.Value < 0 {
		return "rebar"
	}
	return "mesh"
}
