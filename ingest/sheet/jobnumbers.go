package sheet

import (
	"strings"

	"pourback/ingest/record"
)

// jobNumbers are the numbers that a file's jobs bear, by which its other tabs call
// them: J132 where a list of calls says 132, j132 or Job 132.
type jobNumbers struct {
	own    map[string]bool
	folded map[string]string // in lower case and by the figures alone → the number; "" for several
}

// letteredNumber parts a number's letters from its figures.
var letteredNumber = patternOf(`^([A-Za-z#]{0,4})[-# ]?0*([1-9]\d*)$`)

// shareJobs lets the tabs that speak of jobs know the numbers that the jobs bear.
func (f *File) shareJobs() {
	n := &jobNumbers{map[string]bool{}, map[string]string{}}
	for _, t := range f.Tables {
		if u := t.insight; u != nil && (u.table == record.Placements || u.table == record.Jobs) {
			n.learn(u)
		}
	}
	for _, t := range f.Tables {
		if u := t.insight; u != nil && u.table != record.Placements && u.table != record.Jobs && len(n.own) > 0 {
			t.layout.jobs = n
		}
	}
}

func (n *jobNumbers) learn(u *insight) {
	for i, p := range u.picks {
		if p.hypothesis == nil || p.name != "job_no" || !p.sure {
			continue
		}
		for _, text := range u.cols[i].texts {
			if text = strings.TrimSpace(text); text == "" || n.own[text] {
				continue
			}
			n.own[text] = true
			keys := []string{strings.ToLower(text)}
			if q := letteredNumber.FindStringSubmatch(text); q != nil && q[2] != keys[0] {
				keys = append(keys, q[2])
			}
			for _, key := range keys {
				if _, taken := n.folded[key]; taken {
					n.folded[key] = ""
				} else {
					n.folded[key] = text
				}
			}
		}
	}
}

// meant is the number of a job of the file that a text without its letters, or in
// other ones, can alone mean; the text itself where there is none.
func (n *jobNumbers) meant(text string) string {
	if n == nil || n.own[text] {
		return text
	}
	if job := n.folded[strings.ToLower(text)]; job != "" {
		return job
	}
	if q := letteredNumber.FindStringSubmatch(text); q != nil && q[1] == "" && n.folded[q[2]] != "" {
		return n.folded[q[2]]
	}
	return text
}
