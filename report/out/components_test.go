package out

import (
	"bytes"
	"fmt"
	"html/template"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pourback/analysis/figure"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

// A component is what pages are built of, in the states in which it is met.
type component struct {
	name   string
	states []state
}

// state is a component as it stands on a page of nothing else, or a text of its
// own template.
type state struct {
	name string
	page page.Page
	html template.HTML // "" where the page says it all
}

var stateNames = []string{"empty", "few", "many", "hostile", "metric"}

// hostileText is at once long, broken, of another direction and a tag.
var hostileText = say.Clean("<b>patio</b> עגורן "+strings.Repeat("W", 60)+" {{.}}", say.LongName)

// inStates makes a component whose states differ by how much there is of it: a
// number of things, named by a text, said in a voice.
func inStates(name string, of func(n int, text string, v *say.Voice) page.Page) component {
	us, si := say.New("", "", ""), say.New("", "si", "")
	c := component{name: name}
	for i, s := range []struct {
		n    int
		text string
		v    *say.Voice
	}{{0, "", us}, {2, "Lot 14, Mesquite Lane", us}, {14, "Lot 14, Mesquite Lane", us}, {3, hostileText, us}, {3, "Lot 14, Mesquite Lane", si}} {
		p := of(s.n, s.text, s.v)
		p.Voice, p.Slug, p.Title = s.v, "part-"+strings.ReplaceAll(name, " ", "-")+"-"+stateNames[i], name+", "+stateNames[i]
		c.states = append(c.states, state{name: stateNames[i], page: p})
	}
	return c
}

func times[T any](n int, of func(i int) T) (all []T) {
	for i := range n {
		all = append(all, of(i))
	}
	return all
}

// yards is a figure of concrete in a voice's own unit.
func yards(v *say.Voice, i int) say.Cell {
	return v.Known(v.Units.Volume, trial.Bounded(float64(i)+8.25, float64(i)+7.5, float64(i)+9.75))
}

// partTable is a table of n rows; wide is of so many columns that a phone makes
// cards of its rows.
func partTable(n int, text string, v *say.Voice, wide bool) *page.Table {
	rows := times(n, func(i int) int { return i })
	columns := []page.ColumnOf[int]{{Head: "Job", Cell: func(i int) say.Cell {
		c := say.Word(fmt.Sprint(i+1, " ", text))
		c.Below = text
		return c
	}},
		{Head: "Concrete", Number: true, Cell: func(i int) say.Cell {
			if i == 1 {
				return v.Cell(v.Units.Volume, figure.Figure{Why: figure.TooFew{}})
			}
			return yards(v, i)
		}}}
	if wide {
		columns = append(columns, page.ColumnOf[int]{Head: "Poured on", Cell: func(i int) say.Cell { d := trial.AsOf - record.Date(i); return say.Dated(d.String(), d) }},
			page.ColumnOf[int]{Head: "Cost", Number: true, Cell: func(i int) say.Cell { return v.MoneyCell(record.Cents(412_500 + 100*i)) }},
			page.ColumnOf[int]{Head: "Why", Cell: func(int) say.Cell { return say.Cell{Text: "Two callbacks, and the warranty ends soon: " + text} }})
	}
	t := page.TableOf("Jobs at "+text, rows, columns...)
	if n > 12 {
		t.More, t.Find = v.MoreRows(7), say.FrameOf(v).Find(n)
	}
	return t
}

// shadedTable crosses n rows with four columns.
func shadedTable(n int, text string) *page.Table {
	rows := times(n, func(i int) string { return fmt.Sprint(i+1, " ", text) })
	return page.Matrix("Cracked within a year, in 100 slabs", "Reinforcement", rows, []int{0, 1, 2, 3}, func(r string) string { return r },
		func(c int) string { return fmt.Sprintf("%d to %d ft", 6+2*c, 8+2*c) }, func(r string, c int) say.Cell {
			x := float64((len(r) + 5*c + slices.Index(rows, r)) % 21)
			return page.Shaded(say.Cell{Text: fmt.Sprint(x), Value: fmt.Sprint(x), Below: "40 slabs"}, x, 21)
		})
}

// components are all parts of pages but charts and the letter, which have lists
// of their own.
func components() []component {
	lone := func(t *page.Table) page.Page { return page.Page{Exhibits: []page.Exhibit{{Title: "Jobs", Table: t}}} }
	return []component{
		inStates("tile", func(n int, text string, v *say.Voice) page.Page {
			if n == 0 {
				return page.Page{Tiles: []page.Tile{{Slug: "part", Title: "What to order", Big: "Too early to say", Says: "It takes 5 placements or more."}}}
			}
			return page.Page{Tiles: times(n, func(i int) page.Tile {
				t := page.Tile{Slug: "part", Title: "Order for " + text, Big: yards(v, i).Text, Says: "Covers 9 jobs in 10 at " + text + ".", Hero: i < 3}
				if i%2 == 0 {
					t.Picture = smallKinds()[i/2%len(smallKinds())].Chart()
				} else {
					t.Lines = times(3, func(int) page.TileLine { return page.TileLine{What: text, Much: "$1,200"} })
				}
				return t
			})}
		}),
		inStates("answer", func(n int, text string, v *say.Voice) page.Page {
			if n == 0 {
				return page.Page{Answer: "No records yet."}
			}
			return page.Page{Answer: strings.Join(times(n, func(i int) string { return "Order " + yards(v, i).Text + " for " + text + "." }), " "), Basis: "From " + text + ".", Reading: v.Reading(.9)}
		}),
		inStates("left out line", func(n int, text string, v *say.Voice) page.Page {
			return page.Page{LeftOut: times(min(n, 4), func(int) string { return "Left out: 400 yd at " + text + ". Mend it by `pourback fix`." })}
		}),
		inStates("what to do", func(n int, text string, v *say.Voice) page.Page {
			return page.Page{Do: times(n, func(i int) string { return "Order " + yards(v, i).Text + " for " + text + ", by `pourback bid`." })}
		}),
		inStates("caution", func(n int, text string, v *say.Voice) page.Page {
			return page.Page{Cautions: times(min(n, 4), func(int) page.Caution {
				return page.Caution{Text: "Never look into a plugged hose at " + text + ".", Source: text}
			}), Decides: v.CautionsEnd()}
		}),
		inStates("table", func(n int, text string, v *say.Voice) page.Page { return lone(partTable(n, text, v, false)) }),
		inStates("cards", func(n int, text string, v *say.Voice) page.Page { return lone(partTable(n, text, v, true)) }),
		inStates("shaded table", func(n int, text string, v *say.Voice) page.Page { return lone(shadedTable(n, text)) }),
		inStates("details", func(n int, text string, v *say.Voice) page.Page {
			led := page.Exhibit{Title: "Jobs", Says: text, Chart: chart.Undrawn("part-led-"+fmt.Sprint(n, len(text), v.Units.Volume.Unit), "No chart is drawn: 2 jobs."), Table: partTable(n, text, v, false), Leads: true}
			return page.Page{Exhibits: []page.Exhibit{led}}
		}),
		inStates("pictures", func(n int, text string, v *say.Voice) page.Page {
			story := page.Exhibit{Title: "The story of " + text, Table: partTable(2, text, v, true)}
			story.Thumbs = times(min(n, 6), func(i int) page.Thumb {
				return page.Thumb{JPEG: smallPicture(40+80*(i%4), 120), Alt: "Picture of " + text, Says: "2025-06-03; crack, drying; " + text}
			})
			if n > 6 {
				story.ThumbsLeft = say.Slabs{Voice: v}.MorePictures(n - 6)
			}
			return page.Page{Exhibits: []page.Exhibit{story}}
		}),
		inStates("notes and method", func(n int, text string, v *say.Voice) page.Page {
			return page.Page{Notes: times(n, func(int) string { return "Ask for `pourback factors` at " + text + "." }), Method: times(n, func(int) string { return "Used over neat, less one: " + text })}
		}),
	}
}

// smallPicture is a JPEG of one gray.
func smallPicture(w, h int) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, w, h)), &jpeg.Options{Quality: 1}); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// navigation is the head of a page in each state: its groups, and the pages of
// the one it stands in.
func navigation() component {
	c := component{name: "navigation"}
	for i, pages := range [][]page.Page{{}, somePages(2, "Money"), somePages(14, "After the pour"), somePages(4, hostileText)} {
		href := func(slug string) string { return "#" + slug }
		var b bytes.Buffer
		current := page.Page{}
		if len(pages) > 0 {
			current = pages[len(pages)-1]
		}
		s := sheet{Words: say.FrameOf(nil).Words(), Company: "Saltgrass Flatwork", Nav: nav(pages, current, href)}
		s.Words.Pages += ", " + stateNames[i]
		if err := templates.ExecuteTemplate(&b, "nav", s); err != nil {
			panic(err)
		}
		c.states = append(c.states, state{name: stateNames[i], html: template.HTML(b.String())})
	}
	return c
}

func somePages(n int, group string) []page.Page {
	return append([]page.Page{{Slug: page.IndexSlug}}, times(n, func(i int) page.Page {
		return page.Page{Slug: fmt.Sprint("p", i), Title: fmt.Sprint(group, " ", i), Group: fmt.Sprint(group, " ", i/3)}
	})...)
}

// charts are one of each kind, large and small, and one that is not drawn.
func charts(t testing.TB) component {
	c := component{name: "charts"}
	for _, k := range append(kindsOfChart(t), chart.Undrawn("kind-undrawn", "No chart is drawn: 1 month, and it takes 8 or more.")) {
		c.states = append(c.states, state{name: k.ID, page: page.Page{Slug: "of-" + k.ID, Title: k.ID, Exhibits: []page.Exhibit{{Title: k.ID, Chart: k}}}})
	}
	return c
}

// markup is a state as a page holds it.
func (s state) markup(t testing.TB) template.HTML {
	t.Helper()
	if s.html != "" {
		return s.html
	}
	var b bytes.Buffer
	if err := templates.ExecuteTemplate(&b, "topic", view(s.page, func(slug string) string { return "#" + slug })); err != nil {
		t.Fatal(err)
	}
	return template.HTML(b.String())
}

var componentsTemplate = template.Must(template.Must(templates.Clone()).Parse(`{{define "components"}}{{template "head" .}}
<body><header><p>{{.Company}}</p>{{template "nav" .}}</header><main id="answer">{{range .Parts}}
<article>{{.}}</article>{{end}}</main>{{template "end" .}}</body></html>{{end}}`))

// drawing is a chart in markup.
var drawing = regexp.MustCompile(`(?s)<svg.*?</svg>`)

// componentsDocument is a page that has components in every state.
func componentsDocument(t testing.TB, all ...component) []byte {
	t.Helper()
	s := newSheet(nil, "Components")
	s.Words, s.Company, s.Policy = say.FrameOf(nil).Words(), "Saltgrass Flatwork", policy(hash(boot))
	s.Nav = []linkView{{Link: page.Link{Title: "Components"}, Href: "#part", Current: "page"}}
	var parts []template.HTML
	for _, c := range all {
		for _, one := range c.states {
			html := one.markup(t)
			if one.html != "" {
				html = template.HTML("<h1>"+c.name+", "+one.name+"</h1>") + html
			}
			parts = append(parts, html)
		}
	}
	var b bytes.Buffer
	if err := componentsTemplate.ExecuteTemplate(&b, "components", struct {
		sheet
		Parts []template.HTML
	}{s, parts}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// letters are the month's letter in each state: documents of their own, whose
// parts are what its style is for.
func letters(t testing.TB) component {
	t.Helper()
	c := inStates("letter", func(int, string, *say.Voice) page.Page { return page.Page{} })
	for i, n := range []int{0, 2, 6, 3, 3} {
		v, text := c.states[i].page.Voice, []string{"", "Lot 14", "Lot 14", hostileText, "Lot 14"}[i]
		w := say.Letter{Voice: v}
		line := func(k int) string { return "Order " + yards(v, k).Text + " for " + text + "." }
		l := page.Letter{Voice: v, Words: w.Words(), Company: "Saltgrass Flatwork " + text, Title: w.Title("October 2026"), Written: w.Written("2026-10-31"), Answer: "No records yet.", Risks: []string{w.NoRisk()}, RestsOn: times(n, line)}
		if n > 0 {
			l.Answer, l.Why, l.WhySays, l.Changes, l.Risks, l.Months = line(0), partTable(n, text, v, false), line(1), times(n, line), times(n, line), controlKind().Chart()
		}
		var b bytes.Buffer
		if err := WriteLetter(&b, l); err != nil {
			t.Fatal(err)
		}
		c.states[i].html = template.HTML(b.String())
	}
	return c
}

var head = regexp.MustCompile(`(?s)^.*</head>`)

// TestComponents holds each component, in every state, against its golden file. A
// chart's drawing is looked at in the browser, so its file has but its words.
func TestComponents(t *testing.T) {
	for _, c := range append(components(), navigation(), letters(t)) {
		var b bytes.Buffer
		for _, s := range c.states {
			fmt.Fprintf(&b, "<!-- %s, %s -->\n%s\n", c.name, s.name, drawing.ReplaceAllString(head.ReplaceAllString(string(s.markup(t)), ""), "<svg …></svg>"))
		}
		golden(t, "components/"+strings.ReplaceAll(c.name, " ", "-")+".html", b.Bytes())
	}
}

// componentsWritten is the page of all components on a disk, with one of each by
// itself, and the letters.
func componentsWritten(t testing.TB) (folder string, names []string) {
	t.Helper()
	dir, all := t.TempDir(), append(components(), navigation(), charts(t))
	files := map[string][]byte{"components": componentsDocument(t, all...)}
	for _, c := range all {
		name := "part-" + strings.ReplaceAll(c.name, " ", "-")
		files[name], names = componentsDocument(t, c), append(names, name)
	}
	for _, l := range letters(t).states {
		name := "letter-" + l.name
		files[name], names = []byte(l.html), append(names, name)
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name+".html"), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return "file://" + dir, names
}

// TestComponentsInABrowser: every component, in every state, can be read and used
// on a phone, a tablet and a desk, light, dark and printed. What axe says of
// colors here holds for the reports, which are built of the same parts.
func TestComponentsInABrowser(t *testing.T) {
	t.Parallel()
	folder, _ := componentsWritten(t)
	v := open(t, browser(t), folder+"/components.html", screen{width: 1200, height: 844})
	v.drawn(len(kindsOfChart(t)))
	for _, c := range []sheetCase{{"components", 1200, "print"}, {"components", 768, "light"}, {"components", 390, "dark"}} {
		v.as(c)
		v.legible(c)
		if c.look == "light" {
			for _, x := range v.violationsOf("color-contrast") {
				t.Errorf("%s: axe: %s: %q", c, x.Help, x.Nodes)
			}
		}
	}
	v.accessible()
	v.quiet(folder)
	for i, l := range letters(t).states {
		v := open(t, browser(t), folder+"/letter-"+l.name+".html", screen{width: 390, height: 844})
		for _, c := range []sheetCase{{"letter, " + l.name, 390, []string{"light", "dark"}[i%2]}, {"letter, " + l.name, 768, "print"}} {
			v.as(c)
			v.legible(c)
		}
		if l.name == "hostile" {
			v.accessible()
		}
	}
}
