package out

import (
	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"pourback/analysis/cracks"
	"pourback/analysis/steel"
	"pourback/report/say"
)

// spokenCracks are the answers about cracks with their sentences.
type spokenCracks struct {
	Answer     string `json:"answer"`
	EventMeans string `json:"event_means"`
	*cracks.Cracks
	Notes []string `json:"notes"`
}

func cracksSaid(c *cracks.Cracks, v *say.Voice) *spokenCracks {
	if c == nil {
		return nil
	}
	w := say.Cracks{Voice: v}
	return &spokenCracks{w.Answer(c), w.EventMeans(c.Event), c, w.Notes(c)}
}

// crackParts say, within those answers, what has words of its own: tables, the
// terms of the hazard model, and the tests, with their reasons.
func crackParts(v *say.Voice) *json.Marshalers {
	w := say.Cracks{Voice: v}
	return json.JoinMarshalers(
		json.MarshalToFunc(func(e *jsontext.Encoder, t cracks.Table) error {
			return json.MarshalEncode(e, struct {
				*cracks.Table
				Unit string `json:"unit,omitempty"`
				Says string `json:"says"`
			}{&t, v.UnitWords(t.Unit), w.TableSays(&t)})
		}),
		json.MarshalToFunc(func(e *jsontext.Encoder, p cracks.PropHazards) error {
			return json.MarshalEncode(e, struct {
				*cracks.PropHazards
				Says string `json:"says"`
			}{&p, w.RatiosSay(p)})
		}),
		json.MarshalToFunc(func(e *jsontext.Encoder, l cracks.Level) error {
			return e.WriteToken(jsontext.String(w.LevelName(l)))
		}),
		json.MarshalToFunc(func(e *jsontext.Encoder, t cracks.Covariate) error { return e.WriteToken(jsontext.String(v.Term(t))) }),
		json.MarshalToFunc(func(e *jsontext.Encoder, l cracks.LogRank) error {
			return e.WriteValue(l.AppendJSON(nil, v.Reason(l.Why)))
		}),
	)
}

// spokenSteel is the choice between mesh and rebar with its sentences.
type spokenSteel struct {
	Answer      string            `json:"answer"`
	MeshVsRebar spokenMeshOrRebar `json:"mesh_vs_rebar"`
	*steel.Reinforcement
	Notes []string `json:"notes"`
}

type spokenMeshOrRebar struct {
	Evidence string `json:"evidence"`
	*steel.MeshVsRebar
	MadeAlike string `json:"made_alike"`
}

func steelSaid(r *steel.Reinforcement, v *say.Voice) *spokenSteel {
	if r == nil {
		return nil
	}
	w := say.Steel{Voice: v}
	m := spokenMeshOrRebar{w.Evidence(r), &r.MeshVsRebar, w.MadeAlike(r.MeshVsRebar.MadeAlike)}
	return &spokenSteel{w.Answer(r), m, r, w.Notes(r)}
}
