package site

import (
	"encoding/json"
	"errors"
	"net/http"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/say"
)

// fixView is a change that was not made: the record was changed meanwhile, or the
// value cannot be. Both values stay on it.
type fixView struct {
	Says, Told      string
	Wrong           []told // what is wrong with the value
	Name, Label     string
	Now, Yours, Why string
	Clash, Exact    bool
	Column          string
	Back            string
	Hidden          hiddenRecord
}

// fixRecord changes one value of a record, as `pourback fix` does.
func fixRecord(a *Ask) error {
	f := ingest.Fixing{Table: a.Field("table"), Seen: a.Field("seen"), Values: [][2]string{{a.Field("column"), a.Field("value")}}, Why: a.Field("why"),
		Exact: a.Field("exact") != "", Sheet: a.sheetOptions(), TakenAt: a.Stamp()}
	t := record.TableNamed(f.Table)
	if err := json.Unmarshal([]byte(a.Field("key")), &f.Key); err != nil || t == nil || len(f.Key) != len(t.Keys()) {
		return badForm(nil)
	}
	i := t.Index(f.Values[0][0])
	if i < 0 || t.Columns[i].Key || t.Columns[i].Name == "said_right" {
		return Wrong(say.Site.ChangeNone, say.Site.ChangeNoneDo)
	}
	_, err := ingest.Fix(a.Context(), a.Store(), f)
	var changed *ingest.ChangedError
	var unfit *ingest.UnfitError
	switch {
	case errors.As(err, &changed):
		if done := a.meanwhile(err); done != err {
			return done
		}
		return a.showClash(f, changed)
	case errors.As(err, &unfit):
		return a.showUnfit(f, unfit)
	case errors.Is(err, ingest.ErrNoRecord):
		return &Fail{http.StatusNotFound, say.Site.RecordGone, say.Site.RecordGoneDo, err}
	case errors.Is(err, ingest.ErrNothingToFix):
		return a.Go(jobPath(f.Key[0]))
	case err != nil:
		return err
	}
	return a.Go(jobPath(f.Key[0]))
}

// showClash shows what is on record now beside what was asked for.
func (a *Ask) showClash(f ingest.Fixing, changed *ingest.ChangedError) error {
	v := a.fixView(f, changed.Now, changed.Version)
	v.Says, v.Clash = a.Say.ClashAnswer(), true
	traces, batches, err := a.Store().TracesOf(a.Context(), f.Key[0])
	if err != nil {
		return err
	}
	for _, tr := range traces {
		if tr.Record.Table() != changed.Now.Table() || record.Key(tr.Record) != record.Key(changed.Now) {
			continue
		}
		for _, b := range batches {
			if b.ID == tr.Batch {
				v.Told = a.Say.ClashNow(b.TakenAt, a.byWhom(b.Who))
			}
		}
	}
	return a.showAs(http.StatusConflict, "fix", a.Say.JobTitle(f.Key[0]), v)
}

// showUnfit shows what is wrong with a value, to be written otherwise.
func (a *Ask) showUnfit(f ingest.Fixing, unfit *ingest.UnfitError) error {
	traces, _, err := a.Store().TracesOf(a.Context(), f.Key[0])
	if err != nil {
		return err
	}
	for _, tr := range traces {
		if hiddenOf(tr.Record, "").Table != f.Table || !sameKey(tr, f.Key) {
			continue
		}
		v := a.fixView(f, tr.Record, tr.Version)
		v.Says = a.Say.UnfitAnswer()
		for _, p := range about(unfit.Problems, f.Values[0][0]) {
			p.Record, p.Column, p.Value = "", "", ""
			v.Wrong = append(v.Wrong, a.onPage(p).whole())
		}
		return a.showAs(http.StatusUnprocessableEntity, "fix", a.Say.JobTitle(f.Key[0]), v)
	}
	return &Fail{http.StatusNotFound, say.Site.RecordGone, say.Site.RecordGoneDo, nil}
}

// about are the problems of a column, or all where none is: what follows from a
// value that cannot be read is not told.
func about(problems []record.Problem, column string) (of []record.Problem) {
	for _, p := range problems {
		if p.Column == column {
			of = append(of, p)
		}
	}
	if len(of) == 0 {
		return problems
	}
	return of[:1]
}

func sameKey(tr store.Trace, key []string) bool {
	for n, i := range tr.Record.Table().Keys() {
		if record.FieldText(tr.Record.Fields()[i]) != key[n] {
			return false
		}
	}
	return true
}

func (a *Ask) fixView(f ingest.Fixing, now record.Record, version string) fixView {
	t, column := now.Table(), f.Values[0][0]
	i := t.Index(column)
	v := fixView{Name: a.rowName(now), Label: a.Say.ColumnLabel(t.Name, column), Column: column, Yours: f.Values[0][1], Why: f.Why, Exact: f.Exact,
		Now: a.Say.Missing(), Back: jobPath(f.Key[0]), Hidden: hiddenOf(now, version)}
	if !record.IsMissing(now.Fields()[i]) {
		v.Now = a.valueText(&t.Columns[i], now.Fields()[i])
	}
	return v
}
