package say

import (
	"strings"

	"pourback/analysis/visits"
)

// The heads of the tables of visits.

// TripHeads are those of the trips.
type TripHeads struct{ Job, Slabs, Stake, Why string }

// TripHeads are those of the trips.
func (v Visits) TripHeads() TripHeads {
	return TripHeads{v.text("Job"), v.text("Slabs"), v.text("At stake"), v.text("Why")}
}

// PassByHeads are those of the sites to look at when somebody passes by.
type PassByHeads struct{ Slabs, Stake, Why string }

// PassByHeads are those of the sites to look at when somebody passes by.
func (v Visits) PassByHeads() PassByHeads {
	return PassByHeads{v.text("Slabs"), v.text("At stake"), v.text("Why")}
}

// SlabsOf names the slabs of the jobs at a site.
func (v Visits) SlabsOf(p *visits.PassBy) string {
	names := make([]string, len(p.Jobs))
	for i := range p.Jobs {
		places := make([]string, len(p.Jobs[i].Placements))
		for k, place := range p.Jobs[i].Placements {
			places[k] = Clean(place, ShortName)
		}
		names[i] = slab(p.Jobs[i].JobNo, v.List(places))
	}
	return strings.Join(names, "; ")
}

// VisitHeads are those of visits due and visits made.
type VisitHeads struct{ Slab, Visit, Planned, LastSeen, Chance, Stake, Why, Made, Found string }

// Heads are those of visits due and visits made.
func (v Visits) Heads() VisitHeads {
	return VisitHeads{v.text("Slab"), v.text("Visit"), v.text("Planned"), v.text("Last seen"), v.text("Callback soon, in 100"), v.text("At stake"), v.text("Why"),
		v.text("Made"), v.text("Found")}
}

// OpenHeads are those of open callbacks.
type OpenHeads struct{ Slab, About, Opened, Days, Call, Width, Warranty string }

// OpenHeads are those of open callbacks; the width is in the unit that is read.
func (v Visits) OpenHeads() OpenHeads {
	return OpenHeads{v.text("Slab"), v.text("About"), v.text("Opened"), v.text("Days"), v.text("Call no."),
		v.say("Crack, {unit}", with{"unit": v.sign(v.CrackWidths())}), v.text("Warranty")}
}

// Never stands where a slab has not been looked at.
func (v Visits) Never() string { return v.text("never") }

// FirstRows says how many rows a terminal leaves out.
func (v Visits) FirstRows(n int) string {
	return v.plural(n, "And 1 more below it; `pourback visits --json` and the report have all.|And {n} more below them; `pourback visits --json` and the report have more.", nil)
}

// RowsLeft says how many rows a table leaves out.
func (v Visits) RowsLeft(n int) string {
	if v.OnSite {
		return v.MoreRows(n)
	}
	return v.plural(n, "And 1 more; `pourback factors visits --json` has them all.|And {n} more; `pourback factors visits --json` has them all.", nil)
}

// Method says how visits are planned and valued.
func (v Visits) Method() []string {
	return []string{
		v.text("The plan is a setting: days after each pour, and the end of each warranty. Hot pours, and slabs whose risk is well above the usual, have more of them."),
		v.say("The chance of a callback comes from your own crack callbacks: a rate for each stretch of a slab's life. It leans to the rate of all slabs by the weight of one callback (a gamma prior). That leans to the usual rate, a setting of bids, by one more. Where there are callbacks enough, a hazard model ({source}) says how much more or less likely the slab is than others. Slabs with a crack that was seen, and slabs that were repaired, have a rate of their own.", with{"source": "Cox 1972"}),
		v.text("Ranges of chances take the callbacks for Poisson counts and the ratios for log-normal; they are approximate."),
		v.say("Share of planned visits made, with its range ({source}).", with{"source": "Wilson 1927"}),
	}
}
