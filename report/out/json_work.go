package out

import (
	"pourback/analysis/work"
	"pourback/report/say"
)

// spokenPump is what the records say of the pump, with its sentences.
type spokenPump struct {
	Answer string `json:"answer"`
	*work.Pump
	Notes []string `json:"notes"`
}

func pumpSaid(p *work.Pump, v *say.Voice) *spokenPump {
	if p == nil {
		return nil
	}
	w := say.Pump{Voice: v}
	return &spokenPump{w.Answer(p), p, w.Notes(p)}
}

// spokenLabor is what holds for all crews, with its sentences.
type spokenLabor struct {
	Answer       string `json:"answer"`
	ReferenceJob string `json:"reference_job"`
	*work.Labor
	Notes []string `json:"notes"`
}

func laborSaid(l *work.Labor, v *say.Voice) *spokenLabor {
	if l == nil {
		return nil
	}
	w := say.Crews{Voice: v}
	return &spokenLabor{w.Answer(l), w.Job(l.ReferenceJob), l, w.Notes(l)}
}
