package say

import "pourback/analysis/figure"

// Reason says why a figure is not known, or has no range; "" for none.
func (v *Voice) Reason(r figure.Reason) string {
	switch r := r.(type) {
	case nil:
		return ""
	case figure.Written:
		return string(r)
	case figure.NoData:
		return v.text("no record has what this needs")
	case figure.TooFew:
		return v.text("one record alone shows no spread")
	case figure.NoVariation:
		return v.text("the records are all alike, so their spread is unknown")
	case figure.NoEvents:
		return v.text("nothing of the kind has happened yet")
	case figure.FewPlacements:
		return v.plural(r.N, "1 placement; it takes {least}|{n} placements; it takes {least}", with{"least": Count(figure.LeastForRate)})
	case figure.Failed:
		return r.Err.Error()
	}
	for _, topic := range []func(figure.Reason) (string, bool){v.workReason} {
		if said, ok := topic(r); ok {
			return said
		}
	}
	return v.text("not known")
}
