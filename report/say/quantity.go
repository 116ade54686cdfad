package say

import (
	"math"
	"strconv"
	"strings"

	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// Quantities in a sentence, each from its number and unit in the system that is
// read. A table says them through a [Measure]; here signs stand after numbers
// and fractions are those of the trade.

// Yards is a volume of concrete, in quarters as a plant batches it where it is
// such, else to a tenth: "9¼ yd", "8.2 yd", "7.1 m³".
func (v *Voice) Yards(yd float64) string {
	if v.Units.Si {
		return v.YardsBare(yd) + " m³"
	}
	return v.unit(v.YardsBare(yd), " yd")
}

// YardsBare are the same under a head that bears the unit: "9¼", "7.1".
func (v *Voice) YardsBare(yd float64) string {
	if v.Units.Si {
		return trimmed(yd*v.Units.Volume.Factor, 1)
	}
	if whole, part, ok := fraction(yd, 4); ok {
		return mixed(whole, part, 4)
	}
	return trimmed(yd, 1)
}

// Area is an area of ft²: "320 sq ft", "30 m²".
func (v *Voice) Area(sqft float64) string {
	if v.Units.Si {
		return Grouped(sqft*v.Units.Area.Factor, 0) + " m²"
	}
	return v.unit(Grouped(sqft, 0), " sq ft")
}

// Feet is a length or a joint spacing of ft: "8 ft", "7½ ft", "2.4 m".
func (v *Voice) Feet(ft float64) string {
	if v.Units.Si {
		return trimmed(ft*v.Units.Spacing.Factor, 1) + " m"
	}
	if whole, part, ok := fraction(ft, 2); ok {
		return v.unit(mixed(whole, part, 2), " ft")
	}
	return v.unit(trimmed(ft, 1), " ft")
}

// Inches is a thickness or a width of in: "4½ in", "3/8 in", "114 mm".
func (v *Voice) Inches(in float64) string {
	if v.Units.Si {
		return trimmed(25.4*in, 0) + " mm"
	}
	if whole, part, ok := fraction(in, 8); ok {
		return v.unit(mixed(whole, part, 8), " in")
	}
	return v.unit(trimmed(in, 2), " in")
}

// Degrees is a temperature of °F: "92 °F", "33 °C".
func (v *Voice) Degrees(f float64) string {
	if v.Units.Si {
		return Grouped(trade.Celsius(f), 0) + " °C"
	}
	return Grouped(f, 0) + " °F"
}

// DegreesApart is a difference of temperatures of °F: "10 °F", "5.6 °C".
func (v *Voice) DegreesApart(f float64) string {
	if v.Units.Si {
		return trimmed(f/1.8, 1) + " °C"
	}
	return trimmed(f, 1) + " °F"
}

// Gallons is water of gal: "2 gal", "7.6 L".
func (v *Voice) Gallons(gal float64) string {
	if v.Units.Si {
		m := Shown(record.Gallon, true)
		return v.unit(trimmed(gal*m.Factor, 1), m.Unit)
	}
	return v.unit(trimmed(gal, 1), " gal")
}

// Drying is a rate of evaporation of lb/ft²/h, as published limits have it:
// "0.2 lb/ft²/h", "1.0 kg/m²/h".
func (v *Voice) Drying(rate float64) string {
	m := v.Units.Evaporation
	return Grouped(rate*m.Factor, 1+btoi(!v.Units.Si && math.Abs(rate*10-math.Round(rate*10)) > 1e-9)) + m.Unit
}

// Hours are person-hours or hours: "1 hour", "12 hours", "2½ hours".
func (v *Voice) Hours(h float64) string {
	whole, part, ok := fraction(math.Round(h*2)/2, 2)
	if !ok || h >= 10 {
		return v.plural(int(math.Round(h)), "1 hour|{n} hours", nil)
	}
	if whole == 1 && part == 0 {
		return v.plural(1, "1 hour|{n} hours", nil)
	}
	return v.say("{hours} hours", with{"hours": mixed(whole, part, 2)})
}

// Minutes are whole minutes: "1 minute", "25 minutes".
func (v *Voice) Minutes(m float64) string {
	return v.plural(int(math.Round(m)), "1 minute|{n} minutes", nil)
}

// Days are whole days.
func (v *Voice) Days(n int) string { return v.plural(n, "1 day|{n} days", nil) }

// Percent is a share in whole percent: "12 %".
func (v *Voice) Percent(share float64) string { return v.At(Percent, share) }

// PercentSign is the sign of percent as it stands behind a number.
func (v *Voice) PercentSign() string { return v.lang.sign("%") }

// InHundred is a chance: "8 in 100".
func (v *Voice) InHundred(p float64) string {
	switch {
	case p > 0 && p < 0.005:
		return v.text("under 1 in 100")
	case p < 1 && p > 0.995:
		return v.text("over 99 in 100")
	}
	return v.say("{n} in 100", with{"n": Grouped(100*p, 0)})
}

// sign is the sign of a measure's unit, for a head: "yd³".
func (v *Voice) sign(m Measure) string { return strings.TrimSpace(v.lang.sign(m.Unit)) }

// diameter is a width of the records as it stands there, in inches: "3/8 in";
// what is no number is a name.
func (v *Voice) diameter(in string) string {
	if n, err := strconv.ParseFloat(in, 64); err == nil {
		return v.Inches(n)
	}
	return v.Named(in)
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// trimmed writes a number with at most so many decimals, and none that are 0.
func trimmed(v float64, most int) string {
	s := Grouped(v, most)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// fraction takes a number apart into wholes and parts of one, where it is made
// up of such.
func fraction(v float64, parts int) (whole, part int, ok bool) {
	n := v * float64(parts)
	if v < 0 || v > 1e6 || math.Abs(n-math.Round(n)) > 1e-6 {
		return 0, 0, false
	}
	at := int(math.Round(n))
	return at / parts, at % parts, true
}

// mixed writes wholes and parts: "4½", "9¼", "3/8".
func mixed(whole, part, of int) string {
	for part > 0 && part%2 == 0 {
		part, of = part/2, of/2
	}
	if part == 0 {
		return Count(whole)
	}
	signs := map[[2]int]string{{1, 2}: "½", {1, 4}: "¼", {3, 4}: "¾"}
	said, sign := signs[[2]int{part, of}]
	switch {
	case whole == 0 && sign:
		return said
	case whole == 0:
		return strconv.Itoa(part) + "/" + strconv.Itoa(of)
	case sign:
		return Count(whole) + said
	}
	return Count(whole) + " " + strconv.Itoa(part) + "/" + strconv.Itoa(of)
}

// Strength is a compressive strength of psi: "4,500 psi", "31 MPa".
func (v *Voice) Strength(psi float64) string {
	if v.Units.Si {
		m := Shown(record.PSI, true)
		return v.unit(trimmed(psi*m.Factor, 0), m.Unit)
	}
	return v.unit(Grouped(psi, 0), " psi")
}
