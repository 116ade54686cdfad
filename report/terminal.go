package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// usualWidth is taken where the width of the output is not known.
const usualWidth = 80

// Terminal writes the pages as text of at most width columns where that can
// be done; 0 is 80. Each topic is its answer, its tables and its notes.
// Control codes are written only where colour is asked for.
func Terminal(w io.Writer, pages []Page, width int, colour bool) error {
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

func (t *terminal) page(p Page) {
	if t.colour {
		t.line("\x1b[1m" + p.Title + "\x1b[0m")
	} else {
		t.line(p.Title)
		t.line(strings.Repeat("─", min(t.width, text.StringWidthWithoutEscSequences(p.Title))))
	}
	t.paragraph("", p.Answer)
	t.paragraph("", strings.TrimSpace(p.Basis+" "+p.Reading))
	for _, e := range p.Exhibits {
		if e.Table != nil {
			t.line("")
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
		t.paragraph("! ", c.Text+" ("+c.Source+")")
	}
	if len(p.Cautions) > 0 {
		t.paragraph("! ", CautionsEnd)
	}
}

func (t *terminal) table(tb *Table) {
	t.paragraph("", tb.Caption)
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
	for i, why := range tb.Foot {
		t.paragraph(superscript(i+1)+" ", why)
	}
	t.paragraph("", tb.More)
	for _, b := range tb.Below {
		t.paragraph("  ", b)
	}
}

// columns gives each column the width of its cells. What the terminal has not
// got is taken first from the widest column of words, and then by putting
// ranges below their values. Heads wrap.
func (t *terminal) columns(tb *Table) []table.ColumnConfig {
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
func cellWidth(tb *Table, column int, measure func(string) int) int {
	n := longestWord(tb.Columns[column].Head)
	for _, row := range tb.Rows {
		n = max(n, measure(marked(row[column])))
	}
	return n
}

// wrapped breaks a text between words; its lines are not filled up, so that
// they can be set to the right.
func wrapped(s string, width int) string {
	lines := strings.Split(text.WrapSoft(s, width), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

// rangeBelow puts a figure's range below its value; a head, which has no
// range, wraps.
func rangeBelow(s string, width int) string {
	if value, rest, found := strings.Cut(s, " ("); found {
		return value + "\n(" + rest
	}
	return wrapped(s, width)
}

func rangeBelowWidth(s string) int {
	value, rest, _ := strings.Cut(s, " (")
	return max(text.StringWidthWithoutEscSequences(value), text.StringWidthWithoutEscSequences("("+rest))
}

func longestWord(s string) int {
	n := 0
	for word := range strings.FieldsSeq(s) {
		n = max(n, text.StringWidthWithoutEscSequences(word))
	}
	return n
}

// marked is a cell's text with the mark of its note.
func marked(c Cell) string {
	if c.Note == 0 {
		return c.Text
	}
	return c.Text + superscript(c.Note)
}

func superscript(n int) string {
	digits := []rune("⁰¹²³⁴⁵⁶⁷⁸⁹")
	var b strings.Builder
	for _, d := range fmt.Sprint(n) {
		b.WriteRune(digits[d-'0'])
	}
	return b.String()
}
