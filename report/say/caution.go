package say

// Hazard is a danger of the work that pages speak of.
type Hazard int

// The hazards.
const (
	PluggedHose Hazard = iota
	HeatIllness
	CausticConcrete
	SilicaDust
	NoDesign // records of callbacks design no slab
)

// Caution is the usual caution about a hazard.
func (v *Voice) Caution(h Hazard) string {
	switch h {
	case PluggedHose:
		return v.text("Air trapped behind a clog stores energy, and a freed hose whips. Stop the pump and take the pressure off first. Keep everybody clear of the end, and never straddle or hug a hose. Leave the clearing to the trained operator.")
	case HeatIllness:
		return v.text("The air that dries a slab wears people down too. Plan water, rest and shade, and ease new people in over their first days.")
	case CausticConcrete:
		return v.text("Wet concrete is caustic and burns skin, often without pain at first. Wear gloves, boots and eye protection, and wash it off at once.")
	case SilicaDust:
		return v.text("Sawing makes silica dust that scars lungs. Use water to the blade, or a shroud with a vacuum. Whether a respirator is due depends on the tool, the place and the hours.")
	}
	return v.text("Past callbacks do not design a slab. The usual amount of steel does not prevent cracks, it holds them tight. These records cannot say what a slab needs in thickness, steel or joints.")
}

// HazardSource is the public source that a caution rests on.
func (v *Voice) HazardSource(h Hazard) string {
	switch h {
	case PluggedHose:
		return "29 CFR 1926.702(e)"
	case HeatIllness:
		return v.text("OSHA and NIOSH on heat")
	case CausticConcrete:
		return v.text("ASTM C94, scope")
	case SilicaDust:
		return v.text("29 CFR 1926.1153, Table 1")
	}
	return "UFC 3-250-04 §9-3.1.3"
}

// CautionsEnd closes every list of cautions.
func (v *Voice) CautionsEnd() string {
	return v.text("Local codes and a licensed engineer decide what a slab needs.")
}
