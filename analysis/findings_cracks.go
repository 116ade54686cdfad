package analysis

import (
	"fmt"
)

// callbackFindings say what callbacks cost, by kind: cracks, and all others.
func callbackFindings(y *lastYear) []candidate {
	crack, other := yearly{year: y}, yearly{year: y}
	for _, i := range y.called {
		p := &y.h.Placements[i]
		if !p.CallbackCost.OK {
			continue
		}
		to := &other
		if p.CallbackKind == "crack" {
			to = &crack
		}
		to.add(p.CallbackCost.V.Dollars())
	}
	var out []candidate
	for _, c := range []struct {
		of                yearly
		topic, what, next string
	}{
		{crack, "cracks", "about cracks", "see the cracks page for what goes with them, and carry a reserve in each bid"},
		{other, "callbacks", "about other things than cracks", "read what they were about, and see whether one cause comes up again"},
	} {
		c.of.n = max(c.of.n, len(y.rows)) // every slab might have been called about
		worth := c.of.dollars(1)
		if worth.Known() {
			out = append(out, sum(c.topic, "callbacks "+c.topic, worth, fmt.Sprintf("Customers called %s %s in the last twelve months: %s; %s.",
				times(c.of.events), c.what, y.aYear(worth), c.next)))
		}
	}
	return out
}
