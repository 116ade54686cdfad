package site

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/report/say"
)

// lookView is a file that waits as its page shows it.
type lookView struct {
	Says, Told, Same  string
	Refused           told
	Check, Keep, Drop string // where the form is sent to
	Version, Counts   string
	CanKeep           bool
	Comes             []string // sentences about what would come in
	Amounts           []amountView
	Questions         []questionView
	Fix, Odd          rowsView
	Settled           []settledView
	Tabs              []tabView
	Notes             []told
	Unused            []string
	Headings, Means   []choiceGroup // to change how one heading is read
}

type amountView struct {
	Name string
	N    string
}

type questionView struct {
	Name, What, Such string
	Options          []chooseOption
	Others           []chooseOption
}

type choiceGroup struct {
	Label   string
	Options []chooseOption
}

type tabView struct {
	Says string
	Rows []tabRow
}

type tabRow struct {
	Heading, Means, Such string
	Unsure               bool
}

type rowsView struct {
	Title, Says, More string
	Rows              []rowView
}

// rowView is a row with its cells, of which some are marked.
type rowView struct {
	Name     string
	Cells    []cellView
	Problems []problemView
}

type cellView struct {
	Heading, Text string
	Field         string // its field where it can be mended; "" of the others
	Label         string
	About         string // the ids of what is wrong with it
}

type problemView struct {
	ID, Heading string
	told
	Tick, Field string // what can be said about it, and the field that says so
}

// mostRowsShown is how many rows to fix, and with odd values, a page shows.
const mostRowsShown = 25

func (a *Ask) lookView(u store.Upload, is settled, l *glance, again string) lookView {
	at := "/upload/" + u.ID
	v := lookView{Told: again, Check: at, Keep: at + "/keep", Drop: at + "/drop", Version: versionText(u), Counts: counts(&l.result), Settled: a.settledViews(is, l)}
	a.viewQuestions(&v, l)
	a.viewReading(&v, l)
	if l.before != nil {
		v.Same = a.Say.LookSame(l.before.ID, l.before.TakenAt)
	}
	if l.refused != nil {
		v.Says, v.Refused = a.Say.LookRefused(), a.onPage(*l.refused).whole()
		if len(v.Questions) > 0 {
			v.Says, v.Refused = a.Say.LookBlocked(), told{}
		}
		return v
	}
	r := &l.result
	v.CanKeep = r.New+r.Changed+len(is.Right) > 0 // what is said to be right is kept with rows that are on record
	v.Says = a.Say.LookAnswer(r.New+r.Changed, r.Unchanged, r.SetAside+r.LeftEmpty, len(v.Questions))
	a.viewComing(&v, r, l.odd)
	v.Fix, v.Odd = a.rowsOf(l, true), a.rowsOf(l, false)
	return v
}

// versionText is the version of what was said about a file.
func versionText(u store.Upload) string { return strconv.FormatInt(u.Version, 10) }

// ended is what reading said, with its end.
func ended(text string) string {
	if text = strings.TrimRight(text, "."); strings.HasSuffix(text, "?") {
		return text
	}
	return text + "."
}

// viewComing says what the records would get.
func (a *Ask) viewComing(v *lookView, r *ingest.Result, odd int) {
	if n := r.Rows[record.Placements.Name]; n > 0 {
		v.Comes = append(v.Comes, a.Say.LookComes(n, r.Jobs, r.First, r.Last))
	}
	for _, t := range record.Tables {
		if n := r.Rows[t.Name]; n > 0 && t != record.Placements {
			v.Comes = append(v.Comes, a.Say.LookRows(t.Name, n))
		}
	}
	for _, one := range []struct {
		name string
		n    int
		show bool
	}{{a.Say.LookRead(), r.Read, true}, {a.Say.LookNew(), r.New, true}, {a.Say.LookChangedRows(), r.Changed, true}, {a.Say.LookSameRows(), r.Unchanged, true},
		{a.Say.LookAside(), r.SetAside, true}, {a.Say.LookEmpty(), r.LeftEmpty, r.LeftEmpty > 0}, {a.Say.LookLeft(), r.LeftOut, r.LeftOut > 0}, {a.Say.LookWarned(), odd, odd > 0}} {
		if one.show {
			v.Amounts = append(v.Amounts, amountView{one.name, say.Count(one.n)})
		}
	}
}

// viewQuestions asks what is not sure, as `ingest` does on a terminal.
func (a *Ask) viewQuestions(v *lookView, l *glance) {
	for i, q := range ingest.Questions(l.reading) {
		one := questionView{Name: fieldQuestion + strconv.Itoa(i), What: a.Say.AskWhat(q.Heading), Such: a.Say.AskSuch(q.Samples)}
		offers := q.Offers()
		for _, column := range offers {
			one.Options = append(one.Options, a.means(column))
		}
		for _, column := range columnsOf(q.Table) {
			if !slices.Contains(offers, column) {
				one.Others = append(one.Others, a.means(column))
			}
		}
		v.Questions = append(v.Questions, one)
	}
}

// means is a column to choose, in words.
func (a *Ask) means(column string) chooseOption {
	if column == "" {
		return chooseOption{Value: ofNoUse, Text: a.Say.AskNone()}
	}
	_, own, dotted := strings.Cut(column, ".")
	table, _, _ := strings.Cut(column, ".")
	if !dotted {
		table, own = record.Placements.Name, column
	}
	return chooseOption{Value: column, Text: a.Say.ColumnLabel(table, own)}
}

// columnsOf are all columns that a heading above rows of a table can mean, as
// readings name them.
func columnsOf(table string) []string {
	t := record.TableNamed(table)
	if t == nil {
		return nil
	}
	var names []string
	for _, c := range t.Columns {
		if c.Name != "said_right" {
			names = append(names, sheet.ColumnName(t, c.Name))
		}
	}
	if t == record.Placements {
		names = append(names, sheet.ColumnLength, sheet.ColumnWidth, sheet.ColumnSize)
	}
	return names
}

// viewReading shows tab by tab what each heading is read as.
func (a *Ask) viewReading(v *lookView, l *glance) {
	var tables []string
	for i, t := range ingest.AlikeTables(l.reading) {
		tab := tabView{Says: a.Say.ReadTab(t.Sheets, t.Table)}
		group := choiceGroup{Label: tab.Says}
		for k, h := range t.Headings {
			row := tabRow{Heading: say.Clean(h.Heading, say.LongName), Means: a.Say.ReadNot(), Such: a.such(h.Samples), Unsure: !h.Sure}
			switch {
			case !h.Sure:
				row.Means = a.Say.ReadUnsure()
			case h.Each:
				row.Means = a.Say.ReadEach()
			case h.Column != "":
				row.Means = a.means(h.Column).Text
			}
			tab.Rows = append(tab.Rows, row)
			group.Options = append(group.Options, chooseOption{Value: fmt.Sprintf("%d.%d", i, k), Text: row.Heading})
		}
		v.Tabs, v.Headings = append(v.Tabs, tab), append(v.Headings, group)
		if !slices.Contains(tables, t.Table) {
			tables = append(tables, t.Table)
		}
	}
	for _, name := range tables {
		group := choiceGroup{Label: a.Say.RecordTable(name)}
		for _, column := range columnsOf(name) {
			group.Options = append(group.Options, a.means(column))
		}
		v.Means = append(v.Means, group)
	}
	for _, why := range slices.Concat(l.ignored, l.result.KeptOut) {
		if says := a.Say.ReadIgnored(why); !slices.Contains(v.Unused, says) {
			v.Unused = append(v.Unused, says)
		}
	}
	a.viewNotes(v, l)
}

// noteView is what is to be said of a row that is no record, or of a sheet.
func (a *Ask) noteView(p record.Problem) told {
	t := a.onPage(p)
	if p.Column != "" && p.Row == 0 {
		t.Says = a.Say.ColumnLabel("", p.Column) + ": " + t.Says
	}
	switch {
	case p.Row > 0:
		t.Says = a.Say.RowName(p.Sheet, p.Row) + ": " + t.Says
	case p.Sheet != "":
		t.Says = say.Clean(p.Sheet, say.ShortName) + ": " + t.Says
	default:
		t = t.whole()
	}
	return t
}

func (a *Ask) such(samples []string) string {
	var shown []string
	for _, s := range samples {
		shown = append(shown, say.Clean(s, say.ShortName))
	}
	return strings.Join(shown, " · ")
}

// viewNotes shows what is to be said of the file as a whole. What the terminal
// says of its own flags is said otherwise here.
func (a *Ask) viewNotes(v *lookView, l *glance) {
	for _, p := range l.notes {
		switch p.Code {
		case "column-not-used":
			v.Unused = append(v.Unused, a.Say.NoteUnused(p.Value))
		case "doubtful-heading": // it is asked about
		default:
			v.Notes = append(v.Notes, a.noteView(p))
		}
	}
	for _, n := range l.more {
		v.Unused = append(v.Unused, a.Say.NoteMore(n.code, n.n))
	}
}

// rowsOf shows the first rows to fix, or those with odd values alone.
func (a *Ask) rowsOf(l *glance, fix bool) rowsView {
	v, all := rowsView{Title: a.Say.OddTitle(l.odd), Says: a.Say.OddSays()}, l.odd
	if fix {
		v, all = rowsView{Title: a.Say.FixTitle(l.fix), Says: a.Say.FixSays()}, l.fix
	}
	for _, r := range l.rows {
		if r.bad == fix && len(v.Rows) < mostRowsShown {
			v.Rows = append(v.Rows, a.rowView(l, r))
		}
	}
	if more := all - len(v.Rows); more > 0 && len(v.Rows) > 0 {
		v.More = a.Say.MoreToFix(more)
	}
	return v
}

func (a *Ask) rowView(l *glance, r oddRow) rowView {
	t := l.tables[r.table]
	v := rowView{Name: a.Say.RowName(t.sheet, r.number)}
	about := map[int][]string{}
	for i, p := range r.problems {
		one := problemView{ID: fmt.Sprintf("p%d-%d-%d", r.table, r.number, i), Heading: a.Say.WholeRow(), told: a.onPage(p.Problem)}
		name := cellName(r.table, r.number, p.column)
		if p.column >= 0 {
			one.Heading = say.Clean(strings.TrimSpace(t.header[p.column]), say.ShortName)
			about[p.column] = append(about[p.column], one.ID)
		}
		switch {
		case p.kind == setsAside:
			one.Tick, one.Field = a.Say.LeaveRow(), fieldLeft+name
		case p.kind == leavesEmpty:
			one.Tick, one.Field = a.Say.LeaveCell(), fieldLeft+name
		case p.column >= 0 && !r.bad && confirmable(t.name, p.Column):
			one.Tick, one.Field = a.Say.ItIsRight(), fieldRight+name
		}
		if !slices.ContainsFunc(v.Problems, func(o problemView) bool { return one.Field != "" && o.Field == one.Field }) {
			v.Problems = append(v.Problems, one)
			continue
		}
		one.Tick, one.Field = "", "" // one tick is enough for a cell
		v.Problems = append(v.Problems, one)
	}
	for i, text := range r.cells {
		ids, bad := about[i]
		if !bad && strings.TrimSpace(text) == "" {
			continue
		}
		c := cellView{Heading: say.Clean(strings.TrimSpace(t.header[i]), say.ShortName), Text: say.Clean(text, say.LongName)}
		if bad {
			c.Text, c.Field, c.About = text, fieldMend+cellName(r.table, r.number, i), strings.Join(ids, " ")
			c.Label = a.Say.CellName(strings.TrimSpace(t.header[i]), r.number)
		}
		v.Cells = append(v.Cells, c)
	}
	return v
}

// confirmable says whether the value of a column can be said to be right.
func confirmable(table, column string) bool {
	t := record.TableNamed(table)
	return t != nil && t.Column(column) != nil && !t.Column(column).Key
}

// onPage is what is wrong with a cell as it is said beside it, in the reader's
// language where that has it: what to call on the command line is left out.
func (a *Ask) onPage(p record.Problem) told {
	p.Right, _, _ = strings.Cut(p.Right, "; if it is right, say so")
	if strings.Contains(p.Right, "--") || strings.Contains(p.Right, "pourback ") {
		p.Right = ""
	}
	said := say.Records{Voice: a.Say.Voice}.Oddity(p).Text()
	if english := (say.Records{Voice: say.New("", "", "")}); a.Say.Lang() != "en" && said == english.Oddity(p).Text() {
		return told{ended(said), "en"}
	}
	return told{ended(said), ""}
}

// told is what reading said, with the language that it is in where that is not
// the page's.
type told struct{ Says, Lang string }

// whole makes a sentence of it that stands by itself.
func (t told) whole() told { return told{say.Capital(t.Says), t.Lang} }
