package site

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"pourback/ingest/record"
	"pourback/report/page"
	"pourback/report/say"
)

// visitView is the form for a visit to a slab.
type visitView struct {
	Slab   string
	Act    string // where it is sent to
	Back   string // the slab's page
	Wrong  []told // what of it cannot be taken
	Today  string
	Plan   planView
	Whys   []chooseOption
	Found  []chooseOption
	Kinds  []chooseOption
	Joints []chooseOption
	Gauge  []gaugeLine
	Money  bool // who asks may enter what it cost

	sent url.Values // what was sent before, where that could not be taken
}

// Is is what was written into a field before, "" where nothing was.
func (v visitView) Is(field string) string { return v.sent.Get(field) }

// Spotted says whether a place on the drawing was chosen before.
func (v visitView) Spotted() bool { return v.Is("spot") != "" || v.Is("spot_at") != "" }

// On is the day of the visit: today, unless another was written.
func (v visitView) On() string {
	if on := v.sent.Get("seen_on"); on != "" {
		return on
	}
	return v.Today
}

// planView is the slab's drawing, on which a place is chosen.
type planView struct {
	SVG        template.HTML
	Note       string
	Spots      []spotView
	Says       string // where a place is, with {x} and {y}
	Wide, High string // what x and y count to: its size in the reader's units, or 100
}

// spotView is one of the nine parts of the drawing.
type spotView struct {
	Value, Name string
	Cell        string // its class: where it lies
	Chosen      bool
}

// gaugeLine is a line of the gauge.
type gaugeLine struct {
	Value string // as it is written into the form
	Mm    string // how wide it is
}

// gaugeWidths are the lines' widths in inches. They take in what cracks are commonly
// tolerated at by exposure, 0.004 to 0.016 in (ACI 224R-01, table 4.1: from memory), and
// what comparators for cracks have beyond that (common practice, no published source).
var gaugeWidths = []float64{0.005, 0.010, 0.016, 0.020, 0.030, 0.060, 0.125}

// visitForm shows the form.
func visitForm(a *Ask) error {
	s, err := a.slabRows()
	if err != nil {
		return err
	}
	sent := url.Values{}
	if why := a.URL.Query().Get("why"); slices.Contains(wordsOfVisits("why"), why) {
		sent.Set("why", why)
	}
	return a.showVisitForm(http.StatusOK, s, sent, nil)
}

func wordsOfVisits(column string) []string { return record.Visits.Column(column).Words.Words }

func (a *Ask) showVisitForm(status int, s *slabRows, sent url.Values, wrong []record.Problem) error {
	w := a.Say
	v := visitView{Slab: s.name(w), Act: s.path() + "/visit", Back: s.path(), Today: a.Today().String(), Money: a.Who.Role == Owner, sent: sent}
	for _, p := range wrong {
		v.Wrong = append(v.Wrong, a.wrong(p))
	}
	for _, c := range []struct {
		field string
		into  *[]chooseOption
		text  func(string) string
	}{{"why", &v.Whys, w.WhyWord}, {"finding", &v.Found, w.FindingWord}, {"crack_kind", &v.Kinds, w.CrackKind}} {
		for _, word := range wordsOfVisits(c.field) {
			*c.into = append(*c.into, chooseOption{word, c.text(word), v.Is(c.field) == word})
		}
	}
	for _, o := range []chooseOption{{Value: "yes", Text: say.Capital(w.Yes())}, {Value: "no", Text: say.Capital(w.No())}, {Value: "", Text: w.NotSure()}} {
		o.Selected = v.Is("at_joint") == o.Value
		v.Joints = append(v.Joints, o)
	}
	for _, in := range gaugeWidths {
		v.Gauge = append(v.Gauge, gaugeLine{w.GaugeWidth(in), strconv.FormatFloat(25.4*in, 'f', -1, 64)})
	}
	plan, err := a.slabPlan(s)
	if err != nil {
		return err
	}
	v.Plan = a.planView(plan, v.Is("spot"))
	return a.showAs(status, "visit", w.VisitTitle(v.Slab), v)
}

// slabPlan is the slab's drawing with what was found on it before.
func (a *Ask) slabPlan(s *slabRows) (page.SlabPlan, error) {
	joints, err := a.joints(s.is)
	if err != nil {
		return page.SlabPlan{}, err
	}
	var marks []page.PlanMark
	for _, f := range s.visits {
		if f.SpotX.OK && f.SpotY.OK {
			marks = append(marks, page.PlanMark{X: f.SpotX.V, Y: f.SpotY.V, Tip: a.Say.SpotMark(f.SeenOn, f.Finding)})
		}
	}
	drawn := joints != nil && joints.Drawn
	return page.PlanOfSlab(joints, s.is.AreaSqft.Or(0), marks, a.Say.PlanSays(drawn)), nil
}

func (a *Ask) planView(p page.SlabPlan, chosen string) planView {
	v := planView{SVG: p.Drawing.SVG(""), Note: a.Say.PlanNote(p.Drawn, p.Stretched), Says: a.Say.SpotSays(p.Drawn), Wide: "100", High: "100"}
	if p.Drawn {
		size := func(ft float64) string {
			if a.Say.Units.Si {
				ft *= 0.3048
			}
			return fmt.Sprintf("%.2f", ft)
		}
		v.Wide, v.High = size(p.WideFt), size(p.HighFt)
	}
	for _, n := range p.Ninths {
		s := spotView{Value: fmt.Sprintf("%.3f %.3f", n.X, n.Y), Name: a.Say.Ninth(n.Row, n.Column), Cell: fmt.Sprintf("r%d c%d", n.Row, n.Column)}
		s.Chosen = s.Value == chosen
		v.Spots = append(v.Spots, s)
	}
	return v
}
