package page

import (
	"cmp"

	"pourback/report/say"
)

// Caution is a danger of the work that a page speaks of, with the public source
// once it is said.
type Caution struct {
	Danger       say.Danger
	Text, Source string
}

var (
	PluggedHose     = Caution{Danger: say.HoseWhips}
	heatIllness     = Caution{Danger: say.Heat}
	causticConcrete = Caution{Danger: say.Caustic}
	SilicaDust      = Caution{Danger: say.Silica}
	noDesign        = Caution{Danger: say.NoDesign}
	truckTime       = Caution{Danger: say.TruckTime}
)

// Said are cautions in words.
func Said(v *say.Voice, cautions []Caution) []Caution {
	out := make([]Caution, len(cautions))
	for i, c := range cautions {
		if out[i] = c; c.Text == "" {
			out[i].Text, out[i].Source = v.Danger(c.Danger)
		}
	}
	return out
}

// finished is a page with its cautions said, and how many rows of its tables
// are left out, in the voice of its author.
func (a *Author) finished(p Page) Page {
	p.Voice, p.Cautions = a.Voice, Said(a.Voice, p.Cautions)
	for _, e := range p.Exhibits {
		if e.Table != nil && e.Table.Left > 0 && e.Table.More == "" {
			e.Table.More = say.FrameOf(a.Voice).More(e.Table.Left, cmp.Or(e.Table.Command, "factors"))
		}
	}
	return p
}
