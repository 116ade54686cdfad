package bid

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/work"
)

// hoursOf are the beliefs about hours where the records are too few: tighter than
// those a fit starts from, for they have to serve a bid, and crews little apart,
// for HoursSD holds how far this one may be from the common pace.
func hoursOf(p setting.BidPractice) work.HoursPriors {
	priors := work.DefaultHoursPriors()
	priors.Mean[0], priors.SD[0] = math.Log(p.HoursPer400), p.HoursSD
	priors.Nu, priors.RScale = 20, 0.25
	return priors
}

// strangersOverage are beliefs about overage for a bid without records to stand
// on. A fit starts from wider ones, which soon give way to what is on record; by
// those alone one pour in ten would use 8 % less than is drawn, a slab an eighth
// of an inch thin all over and more (NRMCA CIP 8: 1/8 in of 4 in is 3 %). Here the
// middle half of pours of ten yards uses about 2 to 10 % more than is drawn, beside
// the 4 to 10 % that CIP 8 says to add.
func strangersOverage() setting.OveragePriors {
	p := setting.DefaultOveragePriors()
	p.Share.SD, p.FixedYd.SD, p.PumpYd.SD = .04, .1, .2
	p.Sigma, p.Nu, p.RScale = .03, 20, .25
	return p
}

// overageOf are the beliefs about overage of a bid that has so many volumes on
// record: the owner's, where they are set.
func overageOf(set setting.OveragePriors, volumes int) setting.OveragePriors {
	if set = set.Filled(); volumes < figure.LeastForRate && set == setting.DefaultOveragePriors() {
		return strangersOverage()
	}
	return set
}

// practiceWeight is how many events the usual rate is worth beside the records:
// companies' rates then lie between an eighth of it and nearly three times it, 95 in
// 100. practiceCosts is the same for what a callback costs. (Common practice, no
// published source.)
const (
	practiceWeight = 2
	practiceCosts  = 5
)
