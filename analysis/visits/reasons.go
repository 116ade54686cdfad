package visits

import (
	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// The reasons for which a figure of this room is not known, or has no range.
type (
	// NoneDueYet is that no visit was planned before the data date.
	NoneDueYet struct {
		figure.Because
		AsOf record.Date
	}
	NoVisits       struct{ figure.Because } // no visit is on record
	NoCosts        struct{ figure.Because } // no callback records its cost
	NotMeasured    struct{ figure.Because } // the crack's width
	NotRecorded    struct{ figure.Because } // the name by which calls are grouped
	NotWatchedYet  struct{ figure.Because } // for a day
	NoClosingDays  struct{ figure.Because } // calls are known from a job log alone
	EverySlab      struct{ figure.Because } // may be called about for each kind
	FewCalls       struct{ figure.Because } // to compare groups
	FewPoursBeside struct{ figure.Because } // with a sign, or without it, to compare
	NotPriced      struct{ figure.Because } // no job under warranty has both a price and a cost
	NoMargin       struct{ figure.Because } // is booked to set a cost beside

	// FewPours are pours with a sign, or without it, too few to say what they did.
	FewPours struct {
		figure.Because
		N int
	}
	// FewToClose are callbacks too few to say how long they take to close.
	FewToClose struct {
		figure.Because
		N int
	}
	// FewRepaired are repaired slabs too few to say how many come back.
	FewRepaired struct {
		figure.Because
		N int
	}
	// FewMonths are full months with slabs under warranty, fewer than a chart needs.
	FewMonths struct {
		figure.Because
		N, Need int
	}
	// NotFollowed is that no slab was watched for a whole warranty.
	NotFollowed struct {
		figure.Because
		Days, Longest float64
	}
)
