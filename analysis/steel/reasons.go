package steel

import "pourback/analysis/figure"

// Why figures about mesh and rebar are not known.
type (
	SeenIsNoMoney     struct{ figure.Because } // money goes by callbacks, and these are cracks seen at visits
	RatioBetweenLooks struct{ figure.Because } // cracks seen at visits are compared by their ratio alone
	ByProbability     struct{ figure.Because } // callbacks are judged by the chance that mesh is cheaper
	NoArea            struct{ figure.Because } // no placement with mesh or rebar records it
	NothingTurns      struct{ figure.Because } // what costs more to place saves no callbacks either
	TurnsAnywhere     struct{ figure.Because } // the ratio as believed leaves the turning cost all but open
	HardlyWrong       struct{ figure.Because } // it is too unlikely that the other is the better
	RangeAnswers      struct{ figure.Because } // the range of the ratio leaves break-even out already
	OnlyTurnsTell     struct{ figure.Because } // what was not recorded may be as large as break-even, whatever the number of slabs
	InTurnsAlready    struct{ figure.Because } // mesh and rebar take turns
	IsSettled         struct{ figure.Because } // the choice is
	RiskUnknown       struct{ figure.Because } // how often slabs crack within a year
	NoneLately        struct{ figure.Because } // with mesh or rebar, in the last year
	OneKindRecorded   struct{ figure.Because } // only one of the two has heat and spacing on record
	NeverAlike        struct{ figure.Because } // mesh and rebar were never poured on days alike in temperature
	NoFullYear        struct{ figure.Because } // none has been watched so long
	NoFairComparison  struct{ figure.Because } // to rest it on
	NoCallbackAtAll   struct{ figure.Because } // that percentile of the risk is none, and leaves nothing to decide
)
