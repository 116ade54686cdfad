package page

import "pourback/report/say"

// Caution is a danger of the work that a page speaks of, with the public source.
type Caution struct{ Text, Source string }

// beware are the cautions about hazards.
func (a *Author) beware(hazards ...say.Hazard) []Caution {
	cautions := make([]Caution, len(hazards))
	for i, h := range hazards {
		cautions[i] = cautionOf(a.Voice, h)
	}
	return cautions
}

func cautionOf(v *say.Voice, h say.Hazard) Caution {
	return Caution{v.Caution(h), v.HazardSource(h)}
}

// The cautions in English, by which the pour-day sheet knows its own words for
// them.
var (
	PluggedHose     = cautionOf(inEnglish, say.PluggedHose)
	heatIllness     = cautionOf(inEnglish, say.HeatIllness)
	causticConcrete = cautionOf(inEnglish, say.CausticConcrete)
	SilicaDust      = cautionOf(inEnglish, say.SilicaDust)
	noDesign        = cautionOf(inEnglish, say.NoDesign)
	inEnglish       = say.New("en", "", "")
)
