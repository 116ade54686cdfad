package ingest

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// Codes of what is wrong with an entry, beside those of its values.
const (
	codeNoColumn   = "no-such-column"
	codeTwice      = "given-twice"
	codeNotSaid    = "not-understood"
	codeNamesNone  = "names-no-placement"
	codeOtherValue = "conflicting-row"
)

// saying is one row of an entry as it is read. Values of columns are found by
// their places.
type saying struct {
	EntryRow
	table *record.Table
	form  *sheet.Form
	names map[int]string // the column's name as it is given, which may bear a unit
	texts map[int]string // as written
	order []int          // the columns in the order given
	said  record.Record  // with the values as read
	given []bool         // those that it has
	takes map[int]bool   // those whose value is what the record comes to, whatever is there
	shown record.Record  // what the form had shown
}

// read reads all rows, those first that others refer to, and works out what the
// records come to.
func (en *enterer) read(ctx context.Context) error {
	en.done.Rows = make([]EnteredRow, len(en.Rows))
	at := make([]int, len(en.Rows))
	for i := range at {
		at[i] = i
	}
	slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(tableRank(en.Rows[a].Table), tableRank(en.Rows[b].Table)) })
	for _, i := range at {
		if err := en.row(ctx, &en.Rows[i], &en.done.Rows[i]); err != nil {
			return err
		}
	}
	for _, rec := range en.order {
		en.check(rec)
	}
	if len(en.wrong) > 0 {
		return &EntryError{en.wrong}
	}
	return nil
}

func tableRank(name string) int {
	return slices.IndexFunc(record.Tables, func(t *record.Table) bool { return t.Name == name })
}

// row reads one row and takes its values over into its record. What cannot be is
// noted; the error is for what stops everything.
func (en *enterer) row(ctx context.Context, row *EntryRow, became *EnteredRow) error {
	s, ok := en.saying(row)
	if !ok {
		return nil
	}
	if ok, err := en.key(ctx, s); !ok || err != nil {
		return err
	}
	rec, known, err := en.record(ctx, s)
	if err != nil {
		return err
	}
	became.Table, became.Record, became.Became = s.table.Name, rec.name, EntryUnchanged
	if s.IfNew && known {
		rec.held = true
		return nil
	}
	if !en.values(s, rec) {
		rec.bad = true
		return nil
	}
	if err := en.own(ctx, s, rec); err != nil {
		return err
	}
	changed := false
	if s.AddUp && known && !en.addUp(s, rec) {
		became.Clashes = s.clashWhole(rec)
	} else {
		became.Clashes, changed = en.merge(s, rec)
	}
	switch {
	case len(became.Clashes) > 0:
		became.Became = EntryClashed
		rec.clash = append(rec.clash, asideRow{s.said, became.Clashes})
	case rec.old == nil:
		became.Became, rec.held = EntryNew, true
	case changed:
		became.Became, rec.held = EntryChanged, true
	default:
		rec.held = true
	}
	return nil
}

// saying finds the columns that a row names.
func (en *enterer) saying(row *EntryRow) (*saying, bool) {
	if tableRank(row.Table) < 0 {
		var names []string
		for _, t := range record.Tables {
			names = append(names, t.Name)
		}
		near, _ := record.Nearest(row.Table, names)
		en.refuse("", record.Problem{Code: codeNoColumn, Column: "table", Value: row.Table, Wrong: "there is no such table", Right: "did you mean " + near + "?"})
		return nil, false
	}
	t := record.TableNamed(row.Table)
	if row.AddUp && t != record.Visits {
		en.refuse("", record.Problem{Code: codeNoColumn, Column: "table", Value: row.Table, Wrong: "rows of this table do not add up", Right: "visits do"})
		return nil, false
	}
	s := &saying{EntryRow: *row, table: t, form: en.form(t), names: map[int]string{}, texts: map[int]string{}, takes: map[int]bool{}, said: t.New(), given: make([]bool, len(t.Columns))}
	before := len(en.wrong)
	for _, v := range row.Values {
		i := s.form.Column(v[0])
		p := record.Problem{Column: v[0], Value: v[1]}
		switch {
		case i < 0 || t.Columns[i].Name == "said_right": // which the owner says elsewhere
			p.Code, p.Wrong, p.Right = codeNoColumn, t.Name+" have no such column", "did you mean "+s.form.Nearest(v[0])+"?"
		case s.given[i]:
			p.Code, p.Wrong, p.Right = codeTwice, "given twice", "give it once"
		default:
			s.names[i], s.texts[i], s.given[i] = v[0], strings.ToValidUTF8(v[1], "\uFFFD"), true
			s.order = append(s.order, i)
			continue
		}
		en.refuse(t.Name, p)
	}
	return s, len(en.wrong) == before
}

// values reads the values of a row, but its key.
func (en *enterer) values(s *saying, rec *enteredRecord) bool {
	en.readShown(s, rec)
	before := len(en.wrong)
	var beside []besides
	for _, i := range s.order {
		c := &s.table.Columns[i]
		if c.Key {
			continue
		}
		if s.given[i] = strings.TrimSpace(s.texts[i]) != "" || !record.IsMissing(s.shown.Fields()[i]); !s.given[i] {
			continue // left empty, as it was shown
		}
		rec.texts[c.Name] = s.texts[i]
		problems, more := en.value(s, rec, i)
		beside = append(beside, more...)
		for _, p := range problems {
			en.tell(rec.name, p)
		}
	}
	for _, b := range beside {
		en.takeBeside(s, rec, b)
	}
	return len(en.wrong) == before
}

// besides is what the text of one column has said of another.
type besides struct {
	from, column int
	field        any
}

// value reads one value. What is written just as it is on record, or as the form
// had shown it, is that, however people would read it. A text of which nothing
// would come to be on record is refused: who wrote it is there to say it otherwise.
func (en *enterer) value(s *saying, rec *enteredRecord, i int) (said []record.Problem, beside []besides) {
	field, text := s.said.Fields()[i], s.texts[i]
	for _, known := range []record.Record{rec.now, s.shown} {
		if f := known.Fields()[i]; text != "" && record.FieldText(f) == text {
			record.CopyField(field, f)
			return nil, nil
		}
	}
	alone := s.table.New().Fields()
	said = s.form.ReadBeside(alone, s.names[i], text)
	for k, f := range alone {
		if k != i && !record.IsMissing(f) {
			beside = append(beside, besides{i, k, f})
		}
	}
	record.CopyField(field, alone[i])
	lost := record.IsMissing(field) && len(beside) == 0 && !sheet.SaysNothing(text)
	if lost && len(said) == 0 {
		said = append(said, record.Problem{Code: codeNotSaid, Column: s.table.Columns[i].Name, Value: text, Wrong: "not understood", Right: "write " + s.table.Columns[i].Doc})
	}
	for k, p := range said {
		if lost || sheet.LeavesEmpty(p) {
			said[k] = sheet.Refused(p)
		}
	}
	return said, beside
}

// takeBeside takes over what a text has said of another column, which may say
// something itself.
func (en *enterer) takeBeside(s *saying, rec *enteredRecord, b besides) {
	field, c := s.said.Fields()[b.column], &s.table.Columns[b.column]
	own, more := record.FieldText(field), record.FieldText(b.field)
	switch {
	case c.Key || own == more:
	case own == "" && !s.given[b.column]:
		record.CopyField(field, b.field)
		if s.given[b.column] = true; c.Name == "note" {
			s.Append = append(slices.Clone(s.Append), c.Name)
		}
	case c.Kind == record.KindText:
		*field.(*string) = joined(own, more)
		s.given[b.column] = true
	default:
		en.refuse(rec.name, record.Problem{Code: codeOtherValue, Column: s.table.Columns[b.from].Name, Value: s.texts[b.from],
			Wrong: "it says " + more + " for " + c.Name + ", which is given as " + orMissing(own), Right: "say it once"})
	}
}

// readShown reads what the form had shown, which is nothing where it does not say.
func (en *enterer) readShown(s *saying, rec *enteredRecord) {
	s.shown = s.table.New()
	for name, text := range s.Was {
		i := s.form.Column(name)
		if i < 0 {
			continue
		}
		field, c := s.shown.Fields()[i], &s.table.Columns[i]
		switch {
		case rec.old != nil && text == record.FieldText(rec.old.Fields()[i]):
			record.CopyField(field, rec.old.Fields()[i])
		case c.Kind == record.KindText || c.Kind == record.KindWord || record.SetField(field, text) != nil:
			record.ClearField(field)
			s.form.Read(s.shown.Fields(), c.Name, text) // browsers change the ends of lines
		}
	}
}

// check holds a record as it is to be against the rules. What was wrong with it
// before is no fault of the entry.
func (en *enterer) check(rec *enteredRecord) {
	if rec.bad || !rec.changed() {
		return
	}
	var problems, before []record.Problem
	if rec.old != nil {
		before = rec.old.Check(en.Sheet.Today)
	} else {
		problems = en.lacks(rec)
	}
	for _, p := range rec.now.Check(en.Sheet.Today) {
		if !slices.ContainsFunc(before, func(b record.Problem) bool { return b.Code == p.Code && b.Column == p.Column }) {
			problems = append(problems, p)
		}
	}
	for _, p := range problems {
		if text := rec.texts[p.Column]; text != "" {
			p.Value = text
		}
		en.tell(rec.name, p)
	}
}

// lacks are the values that a new record must have and has not. How much work a
// placement is, its rules say.
func (en *enterer) lacks(rec *enteredRecord) (found []record.Problem) {
	for i, c := range rec.table.Columns {
		if c.Required && record.IsMissing(rec.now.Fields()[i]) && c.Name != "area_sqft" && c.Name != "thickness_in" {
			found = append(found, en.form(rec.table).Read(rec.table.New().Fields(), c.Name, "")...)
		}
	}
	return found
}

// tell notes what there is to say about a record: what cannot be, or is to be
// looked at.
func (en *enterer) tell(about string, p record.Problem) {
	if p.Record = about; p.Severity == record.Error {
		en.wrong = append(en.wrong, p)
		return
	}
	en.done.Problems = append(en.done.Problems, p)
}

// refuse notes what cannot be.
func (en *enterer) refuse(about string, p record.Problem) {
	p.Severity = record.Error
	en.tell(about, p)
}

// nameOf is the key of a record as it is shown: "J-104 A".
func nameOf(r record.Record) string {
	var key []string
	for _, i := range r.Table().Keys() {
		if text := record.FieldText(r.Fields()[i]); text != "" {
			key = append(key, text)
		}
	}
	return strings.Join(key, " ")
}

// copyOf is a record of its own with the values of another.
func copyOf(r record.Record) record.Record {
	c := r.Table().New()
	for i, f := range r.Fields() {
		record.CopyField(c.Fields()[i], f)
	}
	return c
}

func orMissing(text string) string {
	if text == "" {
		return "missing"
	}
	return text
}

func sameText(a, b any) bool { return record.FieldText(a) == record.FieldText(b) }
