package record

import "strings"

// Unit is what a numeric column is measured in, and how values that bear
// another unit of the same kind are brought to it.
type Unit struct {
	Name  string // as in column names: "in", "sqft", "f"
	Label string // for people: "in", "ft²", "°F"
	SI    string // the unit shown with --units si
	forms map[string]scale
}

// scale brings a value in another unit to this one: v*factor + offset.
type scale struct{ factor, offset float64 }

// Convert brings a value that bears the unit written as form ("mm", "ft", "°C")
// to u. It is false where form is no unit of u's kind.
func (u *Unit) Convert(v float64, form string) (float64, bool) {
	factor, offset, ok := u.Scale(form)
	return v*factor + offset, ok
}

// Scale is how values in the unit written as form come to u: v × factor + offset.
func (u *Unit) Scale(form string) (factor, offset float64, ok bool) {
	if u == nil {
		return 0, 0, false
	}
	s, ok := u.forms[foldUnit(form)]
	return s.factor, s.offset, ok
}

// Knows says whether form is a unit of u's kind.
func (u *Unit) Knows(form string) bool { _, ok := u.Convert(0, form); return ok }

var unitFolder = strings.NewReplacer(" ", "", ".", "", "²", "2", "³", "3", "^", "", "º", "", "°", "",
	"'", "ft", "’", "ft", "′", "ft", "\"", "in", "”", "in", "″", "in", "/", "per", "_", "", "-", "")

func foldUnit(form string) string { return unitFolder.Replace(strings.ToLower(form)) }

const (
	inchPerMM  = 1 / 25.4
	footPerM   = 1 / 0.3048
	footPerIn  = 1.0 / 12
	cubicYdM3  = 1 / 0.764554857984 // (0.9144 m)³ exactly
	cubicYdFt3 = 1.0 / 27
	sqftPerM2  = 1 / (0.3048 * 0.3048)
	mphPerKmh  = 1 / 1.609344
	psiPerMPa  = 1 / 0.006894757293168361 // lbf/in², exact definitions of lb, g and in
	galPerLitr = 1 / 3.785411784          // US liquid gallon
)

func forms(list map[string]scale) map[string]scale {
	out := map[string]scale{}
	for names, s := range list {
		for _, n := range strings.Fields(names) {
			out[foldUnit(n)] = s
		}
	}
	return out
}

// The units that columns are named for. Factors are exact by the international
// yard and pound agreement of 1959 (NIST SP 811, appendix B).
var (
	Inch = &Unit{"in", "in", "mm", forms(map[string]scale{
		"in inch inches pulg pulgada pulgadas": {1, 0}, "ft foot feet pie pies": {12, 0}, "yd yard yards": {36, 0},
		"mm": {inchPerMM, 0}, "cm": {10 * inchPerMM, 0}, "m": {1000 * inchPerMM, 0}})}
	Foot = &Unit{"ft", "ft", "m", forms(map[string]scale{
		"ft foot feet lf linft pie pies": {1, 0}, "in inch inches pulg pulgada pulgadas": {footPerIn, 0}, "yd yard yards": {3, 0},
		"mm": {footPerM / 1000, 0}, "cm": {footPerM / 100, 0}, "m meter meters metre metres": {footPerM, 0}})}
	SquareFoot = &Unit{"sqft", "ft²", "m²", forms(map[string]scale{
		"sqft sf ft2 sqfeet squarefeet squarefoot pies2 pie2 piescuadrados": {1, 0}, "sqyd sy yd2 squareyards": {9, 0},
		"m2 sqm squaremeters squaremetres": {sqftPerM2, 0}, "sqin in2": {1.0 / 144, 0}})}
	CubicYard = &Unit{"yd", "yd³", "m³", forms(map[string]scale{
		"y yd yds yd3 cy cys cuyd cuyds yard yards cubicyards cubicyard yarda yardas yds3": {1, 0}, "ft3 cuft cf": {cubicYdFt3, 0},
		"m3 cum cube cubes cubicmeters cubicmetres metroscubicos": {cubicYdM3, 0}, "l litre liter litres liters": {cubicYdM3 / 1000, 0}})}
	Fahrenheit = &Unit{"f", "°F", "°C", forms(map[string]scale{
		"f degf fahrenheit": {1, 0}, "c degc celsius": {1.8, 32}})}
	MilesPerHour = &Unit{"mph", "mph", "km/h", forms(map[string]scale{
		"mph mi/h miles/h": {1, 0}, "kmh km/h kph": {mphPerKmh, 0}, "m/s mps ms": {3.6 * mphPerKmh, 0}, "kn kt knots": {1.852 * mphPerKmh, 0}})}
	Percent = &Unit{"pct", "%", "%", forms(map[string]scale{"% pct percent": {1, 0}})}
	PSI     = &Unit{"psi", "psi", "MPa", forms(map[string]scale{
		"psi": {1, 0}, "ksi": {1000, 0}, "mpa": {psiPerMPa, 0}, "kpa": {psiPerMPa / 1000, 0}})}
	Gallon = &Unit{"gal", "gal", "L", forms(map[string]scale{
		"gal gals gallon gallons": {1, 0}, "qt quart quarts": {0.25, 0}, "l litre liter litres liters": {galPerLitr, 0}})}
	Hour = &Unit{"hours", "h", "h", forms(map[string]scale{
		"h hr hrs hour hours manhour manhr personhr personhour manhours manhrs personhours laborhours mh hora horas hh": {1, 0}, "min mins minute minutes m": {1.0 / 60, 0}, "d day days": {24, 0}, "s sec secs seconds": {1.0 / 3600, 0}})}
	Minute = &Unit{"min", "min", "min", forms(map[string]scale{
		"min mins minute minutes m": {1, 0}, "h hr hrs hour hours": {60, 0}, "d day days": {1440, 0}, "s sec secs seconds": {1.0 / 60, 0}})}
	Month = &Unit{"months", "months", "months", forms(map[string]scale{
		"mo month months": {1, 0}, "y yr yrs year years": {12, 0}})}
)

// SqftInPerYd is how many ft² a yd³ covers an inch thick: 27 ft³ are 324 ft² of
// an inch.
const SqftInPerYd = 324

// NeatYd is the volume in yd³ of areaSqft ft², thicknessIn inches thick, exactly
// as drawn.
func NeatYd(areaSqft, thicknessIn float64) float64 { return areaSqft * thicknessIn / SqftInPerYd }
