// Package survival answers: what is the risk of a callback by a given age,
// when most slabs are still young, and how does it differ between arms?
//
// Kaplan-Meier: S(t) = Π (1 − d/n), variance S²Σ d/(n(n−d)) (Greenwood 1926),
// limits S^exp(±zσ/ln S). Risk is 1 − S(horizon), events at the horizon counted.
//
// Assumptions: follow-up ends for reasons that have nothing to do with the
// event about to come (uninformative censoring), and the event has one kind.
package survival
