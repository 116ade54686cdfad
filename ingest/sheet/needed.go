package sheet

import (
	"slices"
	"strings"
)

// figureWords are the words of headings that speak of volume, time, size or
// money: what such a column holds may well be needed.
var figureWords = []string{"yd", "yds", "yard", "yards", "yardage", "cy", "cuyd", "m3", "cubic", "volume", "concrete", "mud",
	"hr", "hrs", "hour", "hours", "mh", "min", "mins", "minutes", "labor", "labour",
	"sf", "sqft", "sq", "square", "area", "m2", "depth", "thick", "thk", "thickness",
	"cost", "costs", "price", "paid", "spent", "bid", "sold", "invoice", "invoiced", "billed", "total", "$", "usd", "amount", "amt",
	"delivered", "ordered", "actual", "act", "est", "qty", "crew", "pump", "clog", "clogs", "delay", "crack", "callback"}

// SpeaksOfFigures says whether a heading that is not read has a word in it that
// columns of figures bear.
func SpeaksOfFigures(heading string) bool {
	return strings.Contains(heading, "$") || slices.ContainsFunc(headingWords(heading), func(w string) bool { return slices.Contains(figureWords, w) })
}

// Answered says whether somebody has said what a heading of a sheet means.
func Answered(answers []Answer, sheet, heading string) bool {
	return slices.ContainsFunc(answers, func(a Answer) bool {
		return a.Header == "" && foldHeading(a.Heading) == foldHeading(heading) && (a.Sheet == "" || foldHeading(a.Sheet) == foldHeading(sheet))
	})
}
