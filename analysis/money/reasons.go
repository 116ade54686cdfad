package money

import "pourback/analysis/figure"

// Why a figure of money is not known, or rests on fewer jobs than there are.
type (
	// BidsLacking are jobs without the cost carried in their bid. The others are
	// Compared, or nothing is.
	BidsLacking struct {
		figure.Because
		Lacking, Jobs int
		Compared      bool
	}
	NothingPriced struct{ figure.Because } // no job has a price and a cost
	NoRevenue     struct{ figure.Because }
	NoPrices      struct{ figure.Because } // no job has a contract price

	// NoneTell is that no row tells of a step of the bridge.
	NoneTell struct {
		figure.Because
		Step Step
	}

	// LinesLacking are compared jobs without lines of cost: what prices and wages
	// did to them is in other.
	LinesLacking struct {
		figure.Because
		Lacking, Jobs int
	}

	// FewMonths are fewer than Least full months, from which it is known how far
	// months swing.
	FewMonths struct {
		figure.Because
		Months, Least int
	}
	OneMonth     struct{ figure.Because } // two are needed
	MonthsUnlike struct{ figure.Because } // one of the two has no revenue
	FewJobs      struct {
		figure.Because
		Jobs int
	} // under [figure.LeastForRate]
	FewSettledJobs struct {
		figure.Because
		Jobs int
	} // so few are a year old
)
