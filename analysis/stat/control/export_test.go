package control

// RunSignals lets the tests judge runs about a centre and sigma that are known.
var RunSignals = runSignals
