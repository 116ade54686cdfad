package site

import (
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/report/say"
)

// settled is what has been said about a file that waits: the state of the upload.
type settled struct {
	Answers []sheet.Answer `json:"answers,omitempty"` // the latest first
	Mends   []mend         `json:"mends,omitempty"`
	Right   []sheet.Cell   `json:"right,omitempty"`
	Left    []sheet.Cell   `json:"left,omitempty"`
}

// mend is a cell that is read otherwise than it was written.
type mend struct {
	sheet.Cell
	Written, Now string
}

// mostSettled bounds what can be said about single cells of one file.
const mostSettled = 5000

func settledOf(u store.Upload) (is settled, err error) {
	if u.State != "" {
		err = json.Unmarshal([]byte(u.State), &is)
	}
	return is, err
}

func (is settled) text() string {
	text, err := json.Marshal(is)
	if err != nil {
		panic(err) // it is made of texts and numbers
	}
	return string(text)
}

// reading is how the file is to be read.
func (is settled) reading(opt sheet.Options) sheet.Options {
	opt.Answers, opt.Mends = is.Answers, sheet.Mends{}
	for _, m := range is.Mends {
		opt.Mends[m.Cell] = m.Now
	}
	return opt
}

func (is settled) cells() ingest.Settled {
	return ingest.Settled{Right: setOf(is.Right), Left: setOf(is.Left)}
}

func setOf(cells []sheet.Cell) map[sheet.Cell]bool {
	set := map[sheet.Cell]bool{}
	for _, c := range cells {
		set[c] = true
	}
	return set
}

// names of the fields of the form; behind each stands what it is about.
const (
	fieldQuestion = "q."    // the number of the question
	fieldMend     = "mend." // a cell
	fieldRight    = "right."
	fieldLeft     = "left."
	fieldBack     = "back." // what was settled, by its place
	fieldHeading  = "heading"
	fieldMeans    = "means"
	fieldVersion  = "version"
	fieldCounts   = "counts"

	leftOpen = "?" // in place of an answer
	ofNoUse  = "-"
)

// cellName is a cell in the name of a field: the place of its table, row, column.
func cellName(table, row, column int) string { return fmt.Sprintf("%d.%d.%d", table, row, column) }

// read takes over what a form says, given what it was shown.
func (is settled) read(form url.Values, shown *glance) (settled, error) {
	now := is.without(form)
	for i, q := range ingest.Questions(shown.reading) {
		column := form.Get(fieldQuestion + strconv.Itoa(i))
		if column == "" || column == leftOpen {
			continue
		}
		if err := now.answer(q, column); err != nil {
			return is, err
		}
	}
	if at := form.Get(fieldHeading); at != "" && form.Get(fieldMeans) != "" {
		q, ok := shown.heading(at)
		if !ok {
			return is, Wrong(say.Site.ReadUnfit, say.Site.ReadUnfitDo)
		}
		if err := now.answer(q, form.Get(fieldMeans)); err != nil {
			return is, err
		}
	}
	for _, r := range shown.rows {
		for _, p := range r.problems {
			now.cell(form, shown, r, p.column)
		}
	}
	if len(now.Mends)+len(now.Right)+len(now.Left)+len(now.Answers) > mostSettled {
		return is, badForm(nil)
	}
	return now, nil
}

// answer takes over what a heading is said to mean.
func (is *settled) answer(q ingest.Question, column string) error {
	if column == ofNoUse {
		column = ""
	}
	answer, fits := q.Answer(column)
	if _, err := sheet.ParseAnswer("x=" + column); err != nil || !fits {
		return Wrong(say.Site.ReadUnfit, say.Site.ReadUnfitDo)
	}
	is.Answers = slices.DeleteFunc(is.Answers, func(a sheet.Answer) bool {
		of, named := ingest.TableOf(a), sheet.SameHeading(a.Heading, answer.Heading)
		return named && (of == q.Table || of == "")
	})
	is.Answers = slices.Insert(is.Answers, 0, answer)
	return nil
}

// cell takes over what is said about a cell, or about a row as a whole.
func (is *settled) cell(form url.Values, shown *glance, r oddRow, column int) {
	at := sheet.Cell{Sheet: shown.tables[r.table].sheet, Row: r.number, Column: column}
	name := cellName(r.table, r.number, column)
	if form.Has(fieldLeft+name) && !slices.Contains(is.Left, at) {
		is.Left = append(is.Left, at)
	}
	if form.Has(fieldRight+name) && !slices.Contains(is.Right, at) {
		is.Right = append(is.Right, at)
	}
	if column < 0 || !form.Has(fieldMend+name) {
		return
	}
	text := strings.ToValidUTF8(strings.TrimRight(form.Get(fieldMend+name), "\r\n"), "\uFFFD")
	if text == r.cells[column] || len(text) > 1000 || strings.ContainsRune(text, 0) {
		return
	}
	written := r.cells[column]
	if i := slices.IndexFunc(is.Mends, func(m mend) bool { return m.Cell == at }); i >= 0 {
		written = is.Mends[i].Written
		is.Mends = slices.Delete(is.Mends, i, i+1)
	}
	if text != written {
		is.Mends = append(is.Mends, mend{at, written, text})
	}
}

// without takes back what a form has taken back. Each is known by its place in
// the order in which it is shown: answers, mends, what is right, what is left.
func (is settled) without(form url.Values) (now settled) {
	n := -1
	back := func() bool {
		n++
		return form.Has(fieldBack + strconv.Itoa(n))
	}
	now.Answers, now.Mends = remaining(is.Answers, back), remaining(is.Mends, back)
	now.Right, now.Left = remaining(is.Right, back), remaining(is.Left, back)
	return now
}

// remaining are those of which each is not taken back.
func remaining[T any](all []T, back func() bool) (stay []T) {
	for _, one := range all {
		if !back() {
			stay = append(stay, one)
		}
	}
	return stay
}

// settledView is one thing that was settled, to be taken back by its place.
type settledView struct{ Name, Says string }

func (a *Ask) settledViews(is settled, l *glance) (all []settledView) {
	add := func(says string) {
		all = append(all, settledView{fieldBack + strconv.Itoa(len(all)), says})
	}
	row := func(c sheet.Cell) string { return a.Say.RowName(c.Sheet, c.Row) }
	for _, answer := range is.Answers {
		means := a.Say.ReadNot()
		if answer.Column != "" {
			means = a.meaning(answer.Column)
		}
		add(a.Say.SettledAnswer(answer.Heading, means))
	}
	for _, m := range is.Mends {
		add(a.Say.SettledMend(row(m.Cell), l.headingOf(m.Cell), m.Written, m.Now))
	}
	for _, c := range is.Right {
		add(a.Say.SettledRight(row(c), l.headingOf(c)))
	}
	for _, c := range is.Left {
		heading := l.headingOf(c)
		if c.Column < 0 {
			heading = a.Say.WholeRow()
		}
		add(a.Say.SettledLeft(row(c), heading))
	}
	return all
}

// meaning names a column as readings do, in words.
func (a *Ask) meaning(column string) string {
	table, own := record.Placements.Name, column
	if of, name, dotted := strings.Cut(column, "."); dotted {
		table, own = of, name
	}
	label := a.Say.ColumnLabel(table, own)
	if table != record.Placements.Name {
		label = a.Say.RecordTable(table) + ": " + label
	}
	return label
}
