package ingest

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// key reads what the row is known by. It is false where that cannot be, which is
// noted.
func (en *enterer) key(ctx context.Context, s *saying) (bool, error) {
	before := len(en.wrong)
	fields := s.said.Fields()
	for _, i := range s.table.Keys() {
		name, text := s.names[i], s.texts[i]
		if name == "" {
			name = s.table.Columns[i].Name
		}
		if !s.table.Columns[i].Required && strings.TrimSpace(text) == "" {
			continue // the placement, or the number of a delay: see below
		}
		for _, p := range s.form.Read(fields, name, text) {
			en.tell(s.table.Name, p)
		}
	}
	if len(en.wrong) > before || s.table == record.Jobs {
		return len(en.wrong) == before, nil
	}
	poured, err := en.poured(ctx, *fields[0].(*string))
	if err != nil {
		return false, err
	}
	if err := en.place(ctx, s, poured); err != nil || len(en.wrong) > before {
		return false, err
	}
	if d, ok := s.said.(*record.Delay); ok && !d.Seq.OK {
		err = en.count(ctx, d, len(poured) == 1)
	}
	return err == nil, err
}

// poured are the placements of a job and their days: those on record, and those
// that this entry begins.
func (en *enterer) poured(ctx context.Context, job string) (map[[2]string]record.Date, error) {
	poured, err := en.tx.PlacedOn(ctx, []string{job})
	for _, rec := range en.order {
		if p, ok := rec.now.(*record.Placement); ok && p.JobNo == job {
			poured[[2]string{job, p.Placement}] = max(p.PlacedOn, 1) // whose day could not be read, which is said by itself
		}
	}
	return poured, err
}

// place settles which placement a row is of, and whether it can be: where the row
// names none, it is the job's only one.
func (en *enterer) place(ctx context.Context, s *saying, poured map[[2]string]record.Date) error {
	job := *s.said.Fields()[0].(*string)
	var names []string
	for at := range maps.Keys(poured) {
		names = append(names, at[1])
	}
	slices.Sort(names)
	at := s.table.Index("placement")
	if at >= 0 {
		switch name := s.said.Fields()[at].(*string); {
		case *name != "":
		case len(names) == 1:
			*name = names[0]
		case len(names) > 1:
			en.refuse(s.table.Name, record.Problem{Code: codeNamesNone, Column: "placement", Wrong: fmt.Sprintf("job %s has placements %s, and the row names none", job, strings.Join(names, ", ")),
				Right: "name one, such as " + names[0]})
			return nil
		case s.table == record.Placements:
			*name = s.table.Columns[at].Default
		}
	}
	if s.table == record.Placements {
		return nil
	}
	for _, p := range eventProblems(s.said, job, names, poured) {
		p.Wrong = strings.TrimSuffix(p.Wrong, countsNowhere)
		if p.Code == codeUnknownJob {
			all, err := en.st.JobNos(ctx)
			if err != nil {
				return err
			}
			p.Right = "begin its placement first"
			if near, _ := record.Nearest(job, all); near != "" {
				p.Right += "; or did you mean " + near + "?"
			}
		}
		if i := s.table.Index(p.Column); s.texts[i] != "" {
			p.Value = s.texts[i]
		}
		en.refuse(s.table.Name, p)
	}
	return nil
}

// count gives a delay the number behind the highest of its placement.
func (en *enterer) count(ctx context.Context, d *record.Delay, only bool) error {
	rows, err := en.tx.RowsOf(ctx, record.Delays, d.JobNo)
	for _, rec := range en.order {
		rows = append(rows, rec.now)
	}
	d.Seq = record.Some(int64(1))
	for _, r := range rows {
		if o, ok := r.(*record.Delay); ok && o.JobNo == d.JobNo && (o.Placement == d.Placement || o.Placement == "" && only) {
			d.Seq.V = max(d.Seq.V, o.Seq.V+1)
		}
	}
	return err
}

// record is the record that a row is about, and whether it was there before the
// row.
func (en *enterer) record(ctx context.Context, s *saying) (rec *enteredRecord, known bool, err error) {
	id := s.table.Name + " " + record.Key(s.said)
	if rec = en.records[id]; rec != nil {
		return rec, true, nil
	}
	old, err := en.onRecord(ctx, s.said)
	if err != nil {
		return nil, false, err
	}
	rec = &enteredRecord{table: s.table, old: old, set: make([]bool, len(s.table.Columns)), texts: map[string]string{}}
	if old != nil {
		rec.now = copyOf(old)
	} else {
		rec.now = copyOf(s.said)
		for _, i := range s.table.Keys() {
			rec.set[i] = true
		}
	}
	rec.name = nameOf(rec.now)
	en.records[id], en.order = rec, append(en.order, rec)
	return rec, old != nil, nil
}

// onRecord is the stored row that has a record's key. An event of a job's only
// placement may stand there without that one's name.
func (en *enterer) onRecord(ctx context.Context, key record.Record) (record.Record, error) {
	there, err := en.tx.Find(ctx, key)
	event, ok := key.(record.Event)
	if there != nil || err != nil || !ok {
		return there, err
	}
	job, name := event.Place()
	if poured, err := en.poured(ctx, *job); err != nil || len(poured) != 1 {
		return nil, err
	}
	named := *name
	*name = ""
	there, err = en.tx.Find(ctx, key)
	*name = named
	return there, err
}
