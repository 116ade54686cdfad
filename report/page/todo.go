package page

import (
	"pourback/analysis/findings"
	"pourback/report/say"
)

// worthDoing are the kinds of facts about which there is something to do now. The
// choice of steel has a page of its own, and a line of the overview.
var worthDoing = []findings.Kind{findings.KindLeftover, findings.KindOrders, findings.KindCrew, findings.KindOutfit, findings.KindWaiting, findings.KindCallbacks,
	findings.KindCracks, findings.KindStep, findings.KindBids, findings.KindMonth, findings.KindFollowOn, findings.KindUnpriced}

// todo says what to do about the first n facts of some kinds.
func (a *Author) todo(n int, kinds ...findings.Kind) []string {
	return say.Todo{Voice: a.Voice}.Findings(a.f.Findings, n, kinds...)
}
