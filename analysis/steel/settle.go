package steel

import (
	"slices"

	"pourback/analysis/figure"
)

// DecidingPrices are the prices of mesh and rebar that the settings give and
// that decide the answer; none where callbacks or own costs do.
func (r *Reinforcement) DecidingPrices() []figure.Assumption {
	if !r.MeshVsRebar.ByPrice {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(r.Assumptions), func(a figure.Assumption) bool {
		return a.From != figure.Setting() || a.What != MeshMaterial && a.What != RebarMaterial
	})
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
