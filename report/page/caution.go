package page

// Caution is a danger of the work that a page speaks of, with the public source.
type Caution struct{ Text, Source string }

// CautionsEnd closes every list of cautions.
const CautionsEnd = "Local codes and a licensed engineer decide."

var (
	PluggedHose = Caution{
		"Air trapped behind a plug stores energy, and a freed hose whips. Stop the pump and take the pressure off first, keep everybody clear of the end, never straddle or hug a hose, and leave the clearing to the trained operator.",
		"29 CFR 1926.702(e)"}
	heatIllness = Caution{
		"The air that dries a slab wears people down too: plan water, rest and shade, and ease new people in over their first days.",
		"OSHA and NIOSH on heat"}
	causticConcrete = Caution{
		"Wet concrete is caustic and burns skin, often without pain at first: gloves, boots and eye protection, and wash it off at once.",
		"ASTM C94, scope"}
	SilicaDust = Caution{
		"Sawing makes silica dust that scars lungs: water to the blade, or a shroud with a vacuum; whether a respirator is due depends on the tool, the place and the hours.",
		"29 CFR 1926.1153, Table 1"}
	noDesign = Caution{
		"Past callbacks do not design a slab. Steel of the usual amount does not prevent cracks, it holds them tight; what a slab needs in thickness, steel and joints is no question for these records.",
		"UFC 3-250-04 §9-3.1.3"}
)
