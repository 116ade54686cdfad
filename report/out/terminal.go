package out

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"pourback/report/page"
	"pourback/report/say"
)

// usualWidth is taken where the width of the output is not known.
const usualWidth = 80

// Terminal writes the pages as text of at most width columns where that can
// be done; 0 is 80. Each topic is its answer, its tables and its notes.
// Control codes are written only where colour is asked for.
func Terminal(w io.Writer, pages []page.Page, width int, colour bool) error {
	if width <= 0 {
		width = usualWidth
	}
	t := terminal{width: width, colour: colour}
	for i, p := range pages {
		if i > 0 {
			t.line("")
		}
		t.page(p)
	}
	if len(pages) > 0 {
		if said := say.FrameOf(pages[0].Voice).Unreviewed(); said != "" {
			t.line("")
			t.paragraph("! ", said)
		}
	}
	_, err := w.Write(t.Bytes())
	return err
}

type terminal struct {
	bytes.Buffer
	width  int
	colour bool
}

func (t *terminal) line(s string) { t.WriteString(strings.TrimRight(s, " ") + "\n") }

// paragraph writes words in lines of the width, the second and later ones
// under the first word after the lead.
func (t *terminal) paragraph(lead, words string) {
	if words == "" {
		return
	}
	indent := strings.Repeat(" ", text.StringWidthWithoutEscSequences(lead))
	for i, l := range strings.Split(wrapped(words, max(20, t.width-len(indent))), "\n") {
		if i == 0 {
			t.line(lead + l)
		} else {
			t.line(indent + l)
		}
	}
}

func (t *terminal) page(p page.Page) {
	frame := say.FrameOf(p.Voice)
	if t.colour {
		t.line("\x1b[1m" + p.Title + "\x1b[0m")
	} else {
		t.line(p.Title)
		t.line(strings.Repeat("─", min(t.width, text.StringWidthWithoutEscSequences(p.Title))))
	}
	t.paragraph("", p.Answer)
	t.paragraph("", strings.TrimSpace(p.Basis+" "+p.Reading))
	for _, l := range p.LeftOut {
		t.paragraph("! ", l)
	}
	for i, tile := range p.Tiles {
		if i == 0 {
			t.line("")
		}
		t.paragraph("- ", frame.Glance(tile.Title, tile.Big, tile.Says))
	}
	for _, do := range p.Do {
		t.paragraph("→ ", do)
	}
	for _, e := range p.Exhibits {
		if e.Table != nil && (e.InHand || !e.Card) {
			t.line("")
			if e.Says != "" {
				t.paragraph("", frame.Beside(e.Title, e.Says))
			}
			t.table(e.Table)
		}
	}
	if len(p.Notes)+len(p.Cautions) > 0 {
		t.line("")
	}
	for _, n := range p.Notes {
		t.paragraph("- ", n)
	}
	for _, c := range p.Cautions {
		t.paragraph("! ", frame.Cited(c.Text, c.Source))
	}
	if len(p.Cautions) > 0 {
		t.paragraph("! ", p.Decides)
	}
}

func (t *terminal) table(tb *page.Table) {
	t.paragraph("", tb.Caption)
	for _, part := range t.parts(tb) {
		t.grid(part)
	}
	for i, why := range tb.Foot {
		t.paragraph(superscript(i+1)+" ", why)
	}
	t.paragraph("", tb.More)
	for _, b := range tb.Below {
		t.paragraph("  ", b)
	}
}

// parts are a table whose columns do not fit side by side cut into several,
// each with the column that names the rows.
func (t *terminal) parts(tb *page.Table) []*page.Table {
	const gap = 2
	var parts []*page.Table
	room := 0
	for i := range tb.Columns {
		least := cellWidth(tb, i, rangeBelowWidth)
		if !tb.Columns[i].Number {
			least = min(cellWidth(tb, i, text.StringWidthWithoutEscSequences), max(24, longestWord(tb.Columns[i].Head)))
		}
		if len(parts) == 0 || least > room && i > 0 {
			parts = append(parts, &page.Table{Rows: make([][]say.Cell, len(tb.Rows))})
			room = t.width
			if i > 0 {
				room -= take(parts[len(parts)-1], tb, 0, gap)
			}
		}
		take(parts[len(parts)-1], tb, i, gap)
		room -= least + gap
	}
	return parts
}

// take puts a column of another table at the end, and returns the width that it
// has at most.
func take(tb *page.Table, from *page.Table, column, gap int) int {
	tb.Columns = append(tb.Columns, from.Columns[column])
	for r := range from.Rows {
		tb.Rows[r] = append(tb.Rows[r], from.Rows[r][column])
	}
	return min(24, cellWidth(from, column, text.StringWidthWithoutEscSequences)) + gap
}

// grid writes the cells of a table, or of a part of one.
func (t *terminal) grid(tb *page.Table) {
	w := table.NewWriter()
	style := table.StyleLight
	style.Format.Header = text.FormatDefault
	style.Options = table.Options{SeparateHeader: true}
	style.Box.PaddingLeft, style.Box.PaddingRight = "", "  "
	w.SetStyle(style)
	w.SetColumnConfigs(t.columns(tb))
	head := make(table.Row, len(tb.Columns))
	for i, c := range tb.Columns {
		head[i] = c.Head
	}
	w.AppendHeader(head)
	for _, row := range tb.Rows {
		cells := make(table.Row, len(row))
		for i, c := range row {
			cells[i] = marked(c)
		}
		w.AppendRow(cells)
	}
	for l := range strings.SplitSeq(w.Render(), "\n") {
		if strings.Trim(l, "─") == "" {
			l = strings.TrimSuffix(l, "──") // as wide as the cells, without the last gap
		}
		t.line(l)
	}
}

// columns gives each column the width of its cells. What the terminal has not
// got is taken first from the widest column of words, and then by putting
// ranges below their values. Heads wrap.
func (t *terminal) columns(tb *page.Table) []table.ColumnConfig {
	const gap = 2
	widths, over := make([]int, len(tb.Columns)), -gap-t.width
	words := -1 // the widest column of words
	for i, c := range tb.Columns {
		widths[i] = cellWidth(tb, i, text.StringWidthWithoutEscSequences)
		over += widths[i] + gap
		if !c.Number && (words < 0 || widths[i] > widths[words]) {
			words = i
		}
	}
	if over > 0 && words >= 0 {
		least := min(cellWidth(tb, words, longestWord), 24)
		taken := min(over, max(0, widths[words]-least))
		widths[words], over = widths[words]-taken, over-taken
	}
	configs := make([]table.ColumnConfig, len(tb.Columns))
	for i, c := range tb.Columns {
		align, wrap := text.AlignLeft, wrapped
		if c.Number {
			align = text.AlignRight
		}
		if below := cellWidth(tb, i, rangeBelowWidth); c.Number && over > 0 && below < widths[i] {
			over -= widths[i] - below
			widths[i], wrap = below, rangeBelow
		}
		configs[i] = table.ColumnConfig{Number: i + 1, Align: align, AlignHeader: align, VAlignHeader: text.VAlignBottom,
			WidthMax: widths[i], WidthMaxEnforcer: wrap}
	}
	return configs
}

// cellWidth is the width of a column's cells as measure has it, and no less
// than the longest word of its head.
func cellWidth(tb *page.Table, column int, measure func(string) int) int {
	n := longestWord(tb.Columns[column].Head)
	for _, row := range tb.Rows {
		n = max(n, measure(marked(row[column])))
	}
	return n
}

// glue stands for a space at which no line breaks while lines are broken.
const glue = "\ue000"

var glued = strings.NewReplacer("\u00a0", glue)

// wrapped breaks a text between words; its lines are not filled up, so that
// they can be set to the right.
func wrapped(s string, width int) string {
	lines := strings.Split(text.WrapSoft(glued.Replace(s), width), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.ReplaceAll(strings.Join(lines, "\n"), glue, "\u00a0")
}

// rangeBelow puts a figure's range below its value, and what it rests on below
// that; a head, which has neither, wraps.
func rangeBelow(s string, width int) string {
	if lines := stacked(s); len(lines) > 1 {
		return strings.Join(lines, "\n")
	}
	return wrapped(s, width)
}

func rangeBelowWidth(s string) int {
	n := 0
	for _, l := range stacked(s) {
		n = max(n, text.StringWidthWithoutEscSequences(l))
	}
	return n
}

// stacked are the lines of a figure: its value, its range and what it rests on.
func stacked(s string) []string {
	value, rest, ranged := strings.Cut(s, " (")
	if !ranged {
		if found := restsOn.FindStringSubmatch(s); found != nil {
			return found[1:]
		}
		return []string{s}
	}
	lines := []string{value, "(" + rest}
	if found := restsOn.FindStringSubmatch(rest); found != nil {
		lines[1] = "(" + found[1]
		lines = append(lines, found[2])
	}
	return lines
}

func longestWord(s string) int {
	n := 0
	for word := range strings.FieldsSeq(glued.Replace(s)) {
		n = max(n, text.StringWidthWithoutEscSequences(word))
	}
	return n
}

// restsOn finds what a figure rests on behind it, in any language: "7 (5 to 9), of 80".
var restsOn = regexp.MustCompile(`^(.*), (\p{L}+ [\d,]+)$`)

// marked is a cell's text with the mark of its note, and what it rests on.
func marked(c say.Cell) string {
	s := c.Text
	if c.Note > 0 {
		s += superscript(c.Note)
	}
	if c.Below != "" {
		s += ", " + c.Below
	}
	return s
}

func superscript(n int) string {
	digits := []rune("⁰¹²³⁴⁵⁶⁷⁸⁹")
	var b strings.Builder
	for _, d := range fmt.Sprint(n) {
		b.WriteRune(digits[d-'0'])
	}
	return b.String()
}
