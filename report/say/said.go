package say

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// Said is a sentence of the analysis, which may hold names, in the units and
// the currency that are read.
func (a *Voice) Said(s string) string {
	s = strings.NewReplacer(" %", "%", "the overage table", "the table on waste", "over neat", "over the drawing", "the hazard model", "the comparison of all of it at once").Replace(Clean(s, LongText))
	if a.Currency != "$" {
		s = strings.ReplaceAll(s, "$", a.Sign())
	}
	if a.Units.Si {
		s = InMetric(s)
	}
	return s
}

// SaidAll is said of each.
func (a *Voice) SaidAll(notes []string) []string {
	out := make([]string, len(notes))
	for i, n := range notes {
		out[i] = a.Said(n)
	}
	return out
}

// Sentences are those of a text, each with its full stop.
func Sentences(s string) []string {
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
	{inUnit(`each `, ` °F`), " °C", steps},
	{inUnit(``, ` °F of air above`), " °C of air above", steps},
	{inUnit(``, ` °F`), " °C", func(v float64) float64 { return math.Round(trade.Celsius(v)) }},
	{inUnit(``, ` gal of water added to the yard`), " L of water added to the m³", gallonsAYard},
	{inUnit(``, ` gal and more to the yard`), " L and more to the m³", gallonsAYard},
	{inUnit(``, ` gal\b`), " L", func(v float64) float64 { return si(record.Gallon, v) }},
	{inUnit(``, ` psi\b`), " MPa", func(v float64) float64 { return si(record.PSI, v) }},
	{inUnit(``, ` for each yard\b`), " for each m³", priceOfYard},
	{inUnit(``, ` (?:a|per) (?:yd³|yard\b)`), " a m³", priceOfYard},
	{inUnit(``, ` (?:pumped )?(?:yd³|yd\b|yards\b)`), " m³", func(v float64) float64 { return si(record.CubicYard, v) }},
	{inUnit(``, ` lb/ft²(?:/h| an hour)`), " kg/m²/h", func(v float64) float64 { return v * trade.KgPerM2PerLbPerF2 }},
	{inUnit(``, `/ft²`), "/m²", func(v float64) float64 { return v / si(record.SquareFoot, 1) }},
	{inUnit(``, ` ft²`), " m²", func(v float64) float64 { return si(record.SquareFoot, v) }},
	{inUnit(``, ` ft\b`), " m", func(v float64) float64 { return si(record.Foot, v) }},
	{inUnit(``, ` in(\b slab|\b thick|\b both ways|\b of concrete|\b and\b|\b have\b|\b has\b|\b is\b|\b stock|[,.;:)]| \(|$)`), " mm", func(v float64) float64 { return 25.4 * v }},
	{inUnit(``, ` lb a yard`), " kg a m³", func(v float64) float64 { return v * trade.KgPerLb / si(record.CubicYard, 1) }},
}

// inUnit finds an amount, or two that share the unit ("9 to 14 ft", "5 × 10
// ft"), between what stands before and behind it. What behind puts in brackets
// is kept.
func inUnit(before, behind string) *regexp.Regexp {
	return regexp.MustCompile(before + `(?:(` + amount + `)( to | × ))?(` + amount + `)` + behind)
}

func steps(v float64) float64 { return math.Round(v/1.8*10) / 10 }

func priceOfYard(v float64) float64 { return v / si(record.CubicYard, 1) }

func gallonsAYard(v float64) float64 { return si(record.Gallon, v) / si(record.CubicYard, 1) }

const amount = `−?\d[\d,]*(?:\.\d+)?`

// si is a value of a record's unit in its metric one.
func si(u *record.Unit, v float64) float64 { return v * Shown(u, true).Factor }

func InMetric(s string) string {
	for _, m := range metric {
		s = m.pattern.ReplaceAllStringFunc(s, func(found string) string {
			at := m.pattern.FindStringSubmatchIndex(found)
			low, between, high := at[2:4], at[4:6], at[6:8]
			said, from := "", high[0]
			if low[0] >= 0 {
				v, err := ParseAmount(found[low[0]:low[1]])
				if err != nil {
					return found
				}
				said, from = threeFigures(m.to(v))+found[between[0]:between[1]], low[0]
			}
			v, err := ParseAmount(found[high[0]:high[1]])
			if err != nil {
				return found
			}
			said = found[:from] + said + threeFigures(m.to(v)) + m.unit
			if len(at) > 8 {
				said += found[at[8]:at[9]]
			}
			return said
		})
	}
	return strings.ReplaceAll(s, "an inch of slump", "25 mm of slump")
}

func ParseAmount(s string) (float64, error) {
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
	return Grouped(r, len(frac))
}
