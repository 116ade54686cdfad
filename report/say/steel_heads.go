package say

import (
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/steel"
)

// With counts the placements with each, behind what the page rests on.
func (s Steel) With(m *steel.MeshVsRebar) string {
	return s.say("With mesh: {mesh}. With rebar: {rebar}.", with{"mesh": Count(m.Mesh), "rebar": Count(m.Rebar)})
}

// Heads of columns.

func (s Steel) WithHead() string       { return s.text("With") }
func (s Steel) MaterialHead() string   { return s.text("Material") }
func (s Steel) LaborHead() string      { return s.text("Labor") }
func (s Steel) CallbacksHead() string  { return s.text("Expected callbacks") }
func (s Steel) InAllHead() string      { return s.text("In all") }
func (s Steel) SlabsHead() string      { return s.text("Slabs") }
func (s Steel) InHundredHead() string  { return s.text("In 100") }
func (s Steel) PlacementsHead() string { return s.text("Placements") }
func (s Steel) QuestionHead() string   { return s.text("Question") }
func (s Steel) AnswerHead() string     { return s.text("Answer") }
func (s Steel) LookHead() string       { return s.text("Looked at") }
func (s Steel) RatioHead() string      { return s.text("Mesh callbacks against rebar's") }
func (s Steel) CheaperHead() string    { return s.text("Mesh is cheaper, in 100") }
func (s Steel) ComparedHead() string   { return s.text("Compared") }
func (s Steel) TimesHead() string      { return s.text("Times as many cracks") }
func (s Steel) RawHead() string        { return s.text("Raw difference, in 100") }

// Titles and captions of tables, with what they come to.

func (s Steel) CostsTitle() string { return s.text("What each costs") }
func (s Steel) CostsSays(r *steel.Reinforcement) string {
	for _, a := range r.Assumptions {
		if a.What == steel.MeshMaterial && a.From != figure.Setting() || a.What == steel.RebarMaterial && a.From != figure.Setting() {
			return s.text("Material and labor are what your own jobs paid where five or more show it, and else from the settings. Callbacks come from your records.")
		}
	}
	return s.text("Material and labor come from the settings, callbacks from your records.")
}

// CostsCaption names the table of what each costs.
func (s Steel) CostsCaption() string {
	if s.Units.Si {
		return s.text("Cost per m² in the ground, callbacks counted")
	}
	return s.text("Cost per sq ft in the ground, callbacks counted")
}
func (s Steel) FairTitle() string { return s.text("Cracks with each, like for like") }

// FairCaption names the table of the risks.
func (s Steel) FairCaption(event string) string {
	if event == setting.EventSeen {
		return s.text("Cracks seen within a year, in 100 slabs")
	}
	return s.text("Crack callbacks within a year, in 100 slabs")
}
func (s Steel) RawTitle() string { return s.text("The raw figures") }
func (s Steel) RawSays() string {
	return s.text("As they stand, whatever the season, the soil and the spacing were.")
}
func (s Steel) RawCaption() string      { return s.text("Cracks with mesh and with rebar, raw") }
func (s Steel) DecisionTitle() string   { return s.text("The decision") }
func (s Steel) DecisionCaption() string { return s.text("Mesh against rebar") }
func (s Steel) LooksTitle() string      { return s.text("Looked at in other ways") }
func (s Steel) LooksSays() string {
	return s.text("If the answer changed from one row to the next, it would not be settled.")
}
func (s Steel) LooksCaption() string { return s.text("Mesh against rebar, looked at in other ways") }
func (s Steel) OthersTitle() string {
	return s.text("Against fiber, and against no reinforcement")
}
func (s Steel) OthersSays() string {
	return s.text("On days of similar temperature. Where the range includes 1, no difference is shown.")
}
func (s Steel) OthersCaption() string {
	return s.text("Cracks with mesh and with rebar against others")
}

// What would change the answer.

func (s Steel) LeversCaption() string { return s.text("What turns mesh against rebar most easily") }
func (s Steel) GainsHead() string     { return s.text("Rebar then saves, a placement") }
func (s Steel) UsesTitle() string     { return s.text("By use") }
func (s Steel) UsesCaption() string   { return s.text("Mesh against rebar by use") }
func (s Steel) UseHead() string       { return s.text("Use") }
func (s Steel) BothHead() string      { return s.text("With mesh, with rebar") }
func (s Steel) CalledHead() string    { return s.text("Crack callbacks") }
func (s Steel) YearHead() string      { return s.text("Within a year, in 100") }
func (s Steel) SavesHead() string     { return s.text("Rebar saves, a placement") }
func (s Steel) BetHead() string       { return s.text("Better bet") }
func (s Steel) UsesSays() string {
	return s.text("Each use stands at its own size and callbacks, and at one ratio of mesh to rebar. The callbacks of one use are too few for a ratio of its own.")
}

// Rows of the comparison: in full for the table, and in short for the chart.

func (s Steel) FairMesh() (row, label string) { return s.text("Mesh, like for like"), s.text("mesh") }
func (s Steel) FairRebar() (row, label string) {
	return s.text("Rebar, like for like"), s.text("rebar")
}
func (s Steel) FairMore() (row, label string) {
	return s.text("Mesh more than rebar, like for like"), s.text("more, like for like")
}
func (s Steel) RawMore(event string) (row, label string) {
	if event == setting.EventSeen {
		return s.text("Mesh more than rebar, raw"), s.text("more, raw")
	}
	return s.text("Mesh more than rebar, raw (slabs a year old)"), s.text("more, raw")
}

// Words of charts.

func (s Steel) CostsChart() string {
	return s.text("A bar for mesh and one for rebar: the cost of an area with callbacks counted, and its range.")
}

// CostsAxis is the scale of costs of an area.
func (s Steel) CostsAxis() string {
	return s.say("{sign} per {area}", with{"sign": s.Currency, "area": s.Units.Area.Unit[1:]})
}
func (s Steel) FairChart() string {
	return s.text("The raw difference, and what is left of it once slabs are compared like for like, each with its range.")
}
func (s Steel) FairAxis() string { return s.text("in 100 slabs") }

// CostTip and RiskTip are a row with its figure.
func (s Steel) CostTip(name string, f figure.Figure) string {
	return s.say("{name}: {figure}", with{"name": name, "figure": s.Long(s.PerArea(), f)})
}

// RiskTip is a row with its risk.
func (s Steel) RiskTip(name string, f figure.Figure) string {
	return s.say("{name}: {figure}", with{"name": name, "figure": s.Long(InHundred, f)})
}

// RatioTip is a way of looking at it with its ratio.
func (s Steel) RatioTip(name string, f figure.Figure) string {
	return s.say("{name}: {figure}", with{"name": name, "figure": s.Long(Times, f)})
}
func (s Steel) LooksChart() string {
	return s.text("A mark for each way of looking at it: how many times as often mesh is called about as rebar, with the range.")
}
func (s Steel) LooksAxis() string { return s.text("cracks with mesh, times those with rebar") }
func (s Steel) Alike() string     { return s.text("alike") }

// GainsAxis is what is drawn of what turns the choice.
func (s Steel) GainsAxis() string {
	return s.say("saved by rebar on a placement, {currency}", with{"currency": s.Currency})
}
