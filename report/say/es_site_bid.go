package say

// spanishSiteBids are bids, the last load, visits and the calendar on the site, in
// Spanish. See es.go for how to correct it.
var spanishSiteBids = map[string]string{}
