package analysis

import (
	"fmt"

	"pourback/ingest/record"
)

// concreteFindings say what the way of ordering costs.
func concreteFindings(y *lastYear) []candidate {
	yards := y.each(func(p *record.Placement) (float64, bool) { return p.LeftoverYd.V, p.LeftoverYd.OK })
	worth := yards.dollars(y.perYd)
	if !worth.Known() {
		return nil
	}
	return []candidate{sum("overage", "concrete", worth, fmt.Sprintf("%.0f yd³ of concrete were paid for and left over in the last twelve months, on %d of %d placements: %s; hold the last load back and call it in once the rest is down.",
		yards.sum, yards.events, yards.n, y.aYear(worth)))}
}
