package bid

// Mix is the concrete of a day as asked of the plant: one for placements that ask
// for the same. A number that neither the spec nor common practice gives has no
// value.
type Mix struct {
	Placements  []string    `json:"placements"`
	Yd          float64     `json:"neat_yd"` // of these placements
	Name        string      `json:"mix"`     // the plant's own name for it, "" where the spec has none
	PSI         Number      `json:"psi"`
	AggregateIn Number      `json:"max_aggregate_in"`
	SlumpIn     Number      `json:"slump_in"` // its range, where it is common practice
	AirPct      Number      `json:"air_pct"`  // 0 where no air is asked for
	Pumped      bool        `json:"pumped"`   // a pump mix
	FiberLbYd   Number      `json:"fiber_lb_per_yd"`
	Admixtures  []Admixture `json:"admixtures"`
	Freezes     bool        `json:"freezes"` // outdoors where it freezes
}

// Admixture is one, by the trade's word, with its dose where the spec tells it.
type Admixture struct {
	Word string `json:"word"` // retarder, accelerator, water reducer …
	Dose string `json:"dose"` // as written: 3 oz/cwt
}
