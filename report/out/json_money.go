package out

import (
	"math"

	"pourback/analysis/findings"
	"pourback/analysis/money"
	"pourback/report/say"
)

// spokenMargin is the margin with its sentences.
type spokenMargin struct {
	Answer string `json:"answer"`
	*money.Margin
	Control        spokenControl `json:"control"`
	ControlAgainst spokenControl `json:"control_against_bid"`
	Notes          []string      `json:"notes"`
}

func marginSaid(m *money.Margin, v *say.Voice) *spokenMargin {
	if m == nil {
		return nil
	}
	return &spokenMargin{Answer: say.Month{Voice: v}.Answer(m, ""), Margin: m, Notes: say.Margin{Voice: v}.Notes(m),
		Control: controlSaid(&m.Control, v), ControlAgainst: controlSaid(&m.ControlAgainst, v)}
}

// spokenControl is a chart of months in words.
type spokenControl struct {
	Of string `json:"of"`
	*money.Control
	Signals []spokenSignal `json:"signals"`
	Why     string         `json:"why,omitempty"`
}

type spokenSignal struct {
	money.ControlSignal
	Rule string `json:"rule"`
}

func controlSaid(c *money.Control, v *say.Voice) spokenControl {
	w := say.Margin{Voice: v}
	out := spokenControl{Of: w.Charted(c.Of), Control: c, Signals: []spokenSignal{}, Why: v.Reason(c.Why)}
	for _, s := range c.Signals {
		out.Signals = append(out.Signals, spokenSignal{s, w.Rule(s)})
	}
	return out
}

// spokenFinding is a finding in a sentence, with its evidence.
type spokenFinding struct {
	Rank        int      `json:"rank"`
	Topic       string   `json:"topic"`
	Sentence    string   `json:"sentence"`
	Dollars     float64  `json:"dollars_per_year"`
	Low         *float64 `json:"low"`
	High        *float64 `json:"high"`
	Level       *float64 `json:"level"`
	Within      float64  `json:"within_reach"`
	Probability float64  `json:"probability"`
	N           int      `json:"n"`
	Method      string   `json:"method"`
}

// findingsSaid are none where none were asked for, and empty where none stand
// out.
func findingsSaid(told []findings.Finding, v *say.Voice) []spokenFinding {
	if told == nil {
		return nil
	}
	out := make([]spokenFinding, 0, len(told))
	for _, f := range told {
		d := f.Dollars
		said := spokenFinding{Rank: f.Rank, Topic: f.Topic, Sentence: say.Findings{Voice: v}.Sentence(f), Dollars: d.Value,
			Within: f.Within(), Probability: f.Sure, N: d.N, Method: d.Method}
		if d.Bounded {
			said.Low, said.High, said.Level = finite(d.Low), finite(d.High), &d.Level
		}
		out = append(out, said)
	}
	return out
}

// finite is a number that JSON can write, or nil.
func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}
