package say

// Danger is one of the work that a page may speak of.
type Danger string

// The dangers.
const (
	HoseWhips Danger = "hose"    // when a plug comes loose
	Heat      Danger = "heat"    // to people
	Caustic   Danger = "caustic" // wet concrete on skin
	Silica    Danger = "silica"  // dust of sawing
	NoDesign  Danger = "design"  // records do not design a slab
	TruckTime Danger = "truck"   // 90 minutes, and water added
)

// Danger says a danger with its public source.
func (v *Voice) Danger(d Danger) (text, source string) {
	switch d {
	case HoseWhips:
		return v.text("Air trapped behind a plug stores energy, and a freed hose whips. Stop the pump and take the pressure off first. Keep everybody clear of the end, never straddle or hug a hose, and leave the clearing to the trained operator."),
			"29 CFR 1926.702(e)"
	case Heat:
		return v.text("The air that dries a slab wears people down too: plan water, rest and shade, and ease new people in over their first days."), v.text("OSHA and NIOSH on heat")
	case Caustic:
		return v.text("Wet concrete is caustic and burns skin, often without pain at first: gloves, boots and eye protection, and wash it off at once."), v.text("ASTM C94, scope")
	case Silica:
		return v.text("Sawing makes silica dust that scars lungs: water to the blade, or a shroud with a vacuum. Whether a respirator is due depends on the tool, the place and the hours."), v.text("29 CFR 1926.1153, Table 1")
	case NoDesign:
		return v.text("Past callbacks do not design a slab. The usual steel does not prevent cracks, it holds them tight. What a slab needs in thickness, steel and joints is no question for these records."), "UFC 3-250-04 §9-3.1.3"
	case TruckTime:
		return v.truckTime(), v.text("ASTM C94; NRMCA, from memory")
	}
	return "", ""
}

// truckTime is for the crew at the truck. What water costs in strength is said
// by the measure in which it is added: a gallon a yard is 4.95 L/m³ (NIST SP 811).
func (v *Voice) truckTime() string {
	first := v.text("From batching to the end of discharge 90 minutes, unless otherwise agreed.") + " "
	if v.Units.Si {
		return first + v.text("Each 5 L of water added to a cubic meter takes away some 1.0 to 1.4 MPa: write it down.")
	}
	return first + v.text("Each gallon of water added to a yard takes away some 150 to 200 psi: write it down.")
}

// LocalCodes closes every list of cautions.
func (v *Voice) LocalCodes() string { return v.text("Local codes and a licensed engineer decide.") }
