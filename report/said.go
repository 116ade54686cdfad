package report

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// said is a sentence of the analysis, which may hold names, in the units and
// the currency that are read.
func (a *author) said(s string) string {
	s = strings.NewReplacer(" %", "%", "the overage table", "the table on waste", "the hazard model", "the comparison of all of it at once").Replace(clean(s, longText))
	if a.currency != "$" {
		s = strings.ReplaceAll(s, "$", a.sign())
	}
	if a.units.si {
		s = inMetric(s)
	}
	return s
}

// saidAll is said of each.
func (a *author) saidAll(notes []string) []string {
	out := make([]string, len(notes))
	for i, n := range notes {
		out[i] = a.said(n)
	}
	return out
}

// sentences are those of a text, each with its full stop.
func sentences(s string) []string {
	var out []string
	for len(s) > 0 {
		end := sentenceEnd.FindStringIndex(s)
		if end == nil {
			return append(out, s)
		}
		out = append(out, s[:end[0]+1])
		s = s[end[0]+len(". "):]
	}
	return out
}

// sentenceEnd is a full stop, a space and a capital or a quote.
var sentenceEnd = regexp.MustCompile(`\. [A-Z“]`)

// metric says how amounts with a unit, as the analysis writes them, are said in
// metric units. Earlier patterns go first: a difference of temperatures is not
// a temperature, and a price of a yard is not a yard.
var metric = []struct {
	pattern *regexp.Regexp
	unit    string
	to      func(float64) float64
}{
	{regexp.MustCompile(`each (` + amount + `) °F`), "each %s °C", func(v float64) float64 { return math.Round(v/1.8*10) / 10 }},
	{regexp.MustCompile(`(` + amount + `) °F`), "%s °C", func(v float64) float64 { return math.Round(trade.Celsius(v)) }},
	{regexp.MustCompile(`(` + amount + `) gal/yd³`), "%s L/m³", func(v float64) float64 { return si(record.Gallon, v) / si(record.CubicYard, 1) }},
	{regexp.MustCompile(`(` + amount + `) gal\b`), "%s L", func(v float64) float64 { return si(record.Gallon, v) }},
	{regexp.MustCompile(`(` + amount + `) psi\b`), "%s MPa", func(v float64) float64 { return si(record.PSI, v) }},
	{regexp.MustCompile(`(` + amount + `) (?:a|per) yd³`), "%s a m³", func(v float64) float64 { return v / si(record.CubicYard, 1) }},
	{regexp.MustCompile(`(` + amount + `) (?:pumped )?(?:yd³|yd\b|yards\b)`), "%s m³", func(v float64) float64 { return si(record.CubicYard, v) }},
	{regexp.MustCompile(`(` + amount + `) lb/ft²(?:/h| an hour)`), "%s kg/m²/h", func(v float64) float64 { return v * trade.KgPerM2PerLbPerF2 }},
	{regexp.MustCompile(`(` + amount + `) ft²`), "%s m²", func(v float64) float64 { return si(record.SquareFoot, v) }},
	{regexp.MustCompile(`(` + amount + `) ft\b`), "%s m", func(v float64) float64 { return si(record.Foot, v) }},
	{regexp.MustCompile(`(` + amount + `) in(?:\b slab|\b thick|\b both ways|\b of concrete|\b and\b|\b have\b|\b has\b|\b is\b|\b stock|\b to\b|\b of slump|[,.;:)]| \(|$)`), "%s mm", func(v float64) float64 { return 25.4 * v }},
	{regexp.MustCompile(`(` + amount + `) lb a yard`), "%s kg a m³", func(v float64) float64 { return v * trade.KgPerLb / si(record.CubicYard, 1) }},
}

// sharedUnit is one behind the last of two amounts that both have it: 9 to 14 ft.
var sharedUnit = regexp.MustCompile(`(` + amount + `)( to | × )(` + amount + `) (°F|yd³|ft²|ft\b|in\b|psi\b)`)

const amount = `−?\d[\d,]*(?:\.\d+)?`

// si is a value of a record's unit in its metric one.
func si(u *record.Unit, v float64) float64 { return v * shown(u, true).factor }

func inMetric(s string) string {
	s = sharedUnit.ReplaceAllString(s, "$1 $4$2$3 $4")
	for _, m := range metric {
		s = m.pattern.ReplaceAllStringFunc(s, func(found string) string {
			at := m.pattern.FindStringSubmatchIndex(found)
			v, err := parseAmount(found[at[2]:at[3]])
			if err != nil {
				return found
			}
			said := strings.Replace(m.unit, "%s", threeFigures(m.to(v)), 1)
			if m.unit == "%s mm" { // what stands behind the inches stays
				said += strings.TrimPrefix(found[at[3]:], " in")
			}
			return said
		})
	}
	return s
}

func parseAmount(s string) (float64, error) {
	return strconv.ParseFloat(strings.NewReplacer(",", "", "−", "-").Replace(s), 64)
}

// threeFigures writes what came of a conversion.
func threeFigures(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 2, 64), 64)
	if err != nil {
		r = v
	}
	s := strconv.FormatFloat(r, 'f', -1, 64)
	_, frac, _ := strings.Cut(s, ".")
	return grouped(r, len(frac))
}
