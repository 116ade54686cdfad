package steel

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
