package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"pourback/ingest/record"
)

// catalogue knows the headings of every table.
type catalogue []*headings

func newCatalogue(d record.Dictionary) catalogue {
	var all catalogue
	for _, t := range record.Tables {
		all = append(all, newHeadings(t, d))
	}
	return all
}

// fit is how well a row of headings suits a table.
type fit struct {
	*headings
	meanings []meaning
	known    []bool // which headings mean something here
	found    int    // how many different columns
	lacks    []string
	headed   int // how many headings are not empty
}

// fitTo holds headings, each in its words, against one table. An empty heading
// is nil.
func (h *headings) fitTo(header [][]string) fit {
	f := fit{headings: h, meanings: make([]meaning, len(header)), known: make([]bool, len(header))}
	seen := map[int]bool{}
	for i, words := range header {
		if words == nil {
			continue
		}
		f.headed++
		m, ok := h.find(words)
		if f.meanings[i], f.known[i] = m, ok; ok {
			seen[m.column] = true
		}
	}
	f.found = len(seen)
	for i, c := range h.table.Columns {
		if c.Required && !seen[i] {
			f.lacks = append(f.lacks, c.Name)
		}
	}
	return f
}

// complete says whether the headings hold all that the table requires.
func (f *fit) complete() bool { return len(f.lacks) == 0 }

// telling says whether complete headings are enough to know the table by: most
// sheets about jobs have a job number.
func (f *fit) telling() bool {
	required := 0
	for _, c := range f.table.Columns {
		if c.Required {
			required++
		}
	}
	return required > 2 || f.found > 1 && 2*f.found >= f.headed
}

// best is the table that a row of headings suits best: a complete one before
// one that lacks something, then by the number of columns, then by the name.
func (all catalogue) best(header []string, named *record.Table) fit {
	words := make([][]string, len(header))
	for i, heading := range header {
		if strings.TrimSpace(heading) != "" {
			words[i] = append([]string{}, headingWords(heading)...)
		}
	}
	var best fit
	for _, h := range all {
		f := h.fitTo(words)
		if f.found > 0 && f.beats(&best, named) {
			best = f
		}
	}
	return best
}

// beats says whether f is the better of two fits; no fit at all is beaten by any.
func (f *fit) beats(g *fit, named *record.Table) bool {
	if f.headings == nil || g.headings == nil {
		return f.headings != nil
	}
	if a, b := f.usable(named), g.usable(named); a != b {
		return a
	}
	if a, b := f.table == named, g.table == named; a != b && (!f.usable(named) || f.found == g.found) {
		return a
	}
	return cmp.Or(cmp.Compare(f.found, g.found), cmp.Compare(len(g.lacks), len(f.lacks))) > 0
}

// usable says whether rows under these headings can be read as the table's.
func (f *fit) usable(named *record.Table) bool {
	return f.headings != nil && f.complete() && (f.table == named || f.telling())
}

// tableNamed finds the table that a file's or a sheet's name speaks of:
// "placements-2025.csv", "Jobs 2025". The longest name found counts.
func tableNamed(name string) *record.Table {
	letters := strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return ' '
		}
		return r
	}, name)
	words := " " + strings.Join(headingWords(letters), " ") + " "
	var named *record.Table
	longest := 0
	for _, t := range record.Tables {
		for _, n := range append([]string{t.Name}, t.Synonyms...) {
			if strings.Contains(words, " "+record.Fold(n)+" ") && len(n) > longest {
				named, longest = t, len(n)
			}
		}
	}
	return named
}

// explain says why no table can be read from headings, and what would be right.
func (f *fit) explain() (wrong, right string) {
	if f.headings == nil {
		return "no row of it names the columns of a record table", "name the columns in one row, for placements: " + strings.Join(requiredOf(record.Placements), ", ")
	}
	if f.complete() {
		return fmt.Sprintf("only %s is known of its columns", strings.Join(f.columns(), " and ")), "name the file or sheet after its table: jobs, placements, loads, delays, labor, costs or visits"
	}
	noun := "columns"
	if len(f.lacks) == 1 {
		noun = "column"
	}
	return fmt.Sprintf("nearest to %s, but without the %s %s", f.table.Name, noun, strings.Join(f.lacks, ", ")),
		"add what is missing; a table of " + f.table.Name + " needs " + strings.Join(requiredOf(f.table), ", ")
}

// columns names the columns that the headings mean.
func (f *fit) columns() []string {
	var names []string
	for i, m := range f.meanings {
		if name := f.table.Columns[m.column].Name; f.known[i] && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

func requiredOf(t *record.Table) []string {
	var names []string
	for _, c := range t.Columns {
		if c.Required {
			names = append(names, c.Name)
		}
	}
	return names
}
