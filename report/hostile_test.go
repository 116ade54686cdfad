package report

import (
	"strings"
	"testing"

	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// hostileRecords bear hostile text in every column of text of a job log.
func hostileRecords() record.Set {
	s := pours(400)
	for i := range s.Placements {
		p, text := &s.Placements[i], hostile[i%len(hostile)]
		p.Use, p.Crew, p.PumpOutfit, p.Mix, p.Reinforcement, p.Base, p.Finish = text, text, text, text, text, text, text
		p.Bar, p.Curing, p.JointCut = text, text, text
		if p.Placement == "B" {
			p.Placement = text
		}
		p.HumidityPct = record.Some(0.0) // something to check
	}
	for i := range s.Jobs {
		s.Jobs[i].Site, s.Jobs[i].Note = hostile[i%len(hostile)], hostile[i%len(hostile)]
	}
	return s
}

// hostileEverywhere bears hostile text in a third of the values of every column
// of text of all seven tables, so that the rest still makes every page.
func hostileEverywhere(t testing.TB) record.Set {
	t.Helper()
	s, _, err := invented.Generate(invented.Options{Jobs: 250, Seed: 2, Until: asOf})
	if err != nil {
		t.Fatal(err)
	}
	texts := append([]string{"</script><script>window.pourbackRan = 1</script>", "<svg onload='window.pourbackRan=1'>", strings.Repeat("W", 10_000)}, hostile...)
	keys, row := map[string]string{}, 0
	spoil := func(r record.Record) {
		row++
		fields := r.Fields()
		for k, c := range r.Table().Columns {
			text, ok := fields[k].(*string)
			switch {
			case !ok || *text == "":
			case c.Name == "job_no" || c.Name == "won_from":
				*text = spoiledKey(keys, texts, *text)
			case (row+k)%3 == 0:
				*text = texts[(7*row+k)%len(texts)]
			}
		}
	}
	each(s.Jobs, func(j *record.Job) { spoil(j) })
	each(s.Placements, func(p *record.Placement) { spoil(p) })
	each(s.Loads, func(l *record.Load) { spoil(l) })
	each(s.Delays, func(d *record.Delay) { spoil(d) })
	each(s.Labor, func(l *record.Labor) { spoil(l) })
	each(s.Costs, func(c *record.Cost) { spoil(c) })
	each(s.Visits, func(v *record.Visit) { spoil(v) })
	return s
}

func each[T any](rows []T, do func(*T)) {
	for i := range rows {
		do(&rows[i])
	}
}

// spoiledKey gives every third job a hostile number, the same wherever it
// stands.
func spoiledKey(keys map[string]string, texts []string, jobNo string) string {
	spoiled, ok := keys[jobNo]
	if !ok {
		spoiled = jobNo
		if n := len(keys); n%3 == 0 {
			spoiled = texts[n%len(texts)] + jobNo
		}
		keys[jobNo] = spoiled
	}
	return spoiled
}
