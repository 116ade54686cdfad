package out

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/jedib0t/go-pretty/v6/text"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
	"pourback/report/page"
)

func visitedHistories(t testing.TB) map[string]*analysis.Factors {
	return map[string]*analysis.Factors{
		"empty":   trial.Visited(t, record.Set{}),
		"three":   trial.Visited(t, trial.Pours(3)),
		"pours":   trial.Visited(t, trial.Pours(400)), // a job log, with callbacks and no visits
		"surveys": trial.Visited(t, trial.Surveys(60)),
		"company": trial.Visited(t, trial.Company(t)),
	}
}

var visitSlugs = []string{"visits", "early", "callbacks", "slabs", "seen", "warranty"}

func TestVisitPagesAnswerFirst(t *testing.T) {
	for name, f := range visitedHistories(t) {
		for _, units := range []string{"us", "si"} {
			pages := page.Pages(f, page.Options{Units: units})
			for _, slug := range visitSlugs {
				p := pageOf(t, pages, slug)
				if !strings.HasSuffix(p.Answer, ".") || strings.Contains(p.Answer, "..") || strings.TrimSpace(p.Answer) == "." {
					t.Errorf("%s, %s: the answer is %q", name, slug, p.Answer)
				}
				for _, w := range words(p) {
					if trial.NoNumber.MatchString(w) {
						t.Errorf("%s, %s: %q", name, slug, w)
					}
				}
				for _, e := range p.Exhibits {
					if len(e.Table.Rows) == 0 || len(e.Table.Rows) > page.MostRows {
						t.Errorf("%s, %s: %s has %d rows", name, slug, e.Title, len(e.Table.Rows))
					}
					for _, row := range e.Table.Rows {
						if len(row) != len(e.Table.Columns) {
							t.Errorf("%s, %s: a row of %d cells under %d heads", name, slug, len(row), len(e.Table.Columns))
						}
					}
				}
			}
		}
	}
}

// On the invented company every page has something to show.
func TestVisitPagesAreAlive(t *testing.T) {
	pages := page.Pages(visitedHistories(t)["company"], page.Options{})
	charts := 0
	for _, slug := range visitSlugs {
		p := pageOf(t, pages, slug)
		if len(p.Exhibits) == 0 || len(p.Method) == 0 && slug != "slabs" {
			t.Errorf("%s: %d exhibits, %d lines of method", slug, len(p.Exhibits), len(p.Method))
		}
		for _, e := range p.Exhibits {
			if e.Chart != nil {
				charts++
				if d := e.Chart.Drawing(); len(d.Shapes) < 10 {
					t.Errorf("%s: %d shapes are drawn", e.Chart.ID, len(d.Shapes))
				}
			}
		}
	}
	if charts < 4 {
		t.Errorf("%d charts", charts)
	}
}

func TestVisitsConformToTheSchema(t *testing.T) {
	s := factorsSchema(t)
	for name, f := range visitedHistories(t) {
		doc := factorsJSON(t, f)
		if doc["visits"] == nil {
			t.Fatalf("%s: no visits", name)
		}
		for i, wrong := range s.check(name, doc) {
			if i == 20 {
				t.Fatal("and more")
			}
			t.Error(wrong)
		}
	}
}

// The default answers know nothing of visits: what rests on events alone is
// answered only where it is asked for.
func TestVisitsAreAnsweredOnlyWhereAsked(t *testing.T) {
	set := trial.Company(t)
	if f := trial.FactorsOf(t, set, setting.Options{}); f.Visits != nil || len(f.Findings) == 0 {
		t.Errorf("visits %v, %d findings", f.Visits, len(f.Findings))
	}
	if f := trial.FactorsOf(t, trial.Company(t), setting.Options{Visits: setting.VisitOptions{Asked: true}}); f.Visits == nil || len(f.Findings) == 0 || f.Margin == nil {
		t.Error("asked for beside the others, the others are missing")
	}
	if f := trial.Visited(t, trial.Company(t)); f.Visits == nil || f.Margin != nil {
		t.Error("asked for alone")
	}
}

func TestVisitsFitATerminal(t *testing.T) {
	f := visitedHistories(t)["company"]
	var b bytes.Buffer
	if err := Terminal(&b, page.VisitPages(f, page.Options{}), 80, false); err != nil {
		t.Fatal(err)
	}
	for l := range strings.SplitSeq(b.String(), "\n") {
		if n := text.StringWidthWithoutEscSequences(l); n > 80 {
			t.Errorf("%d columns: %s", n, l)
		}
	}
	if head := strings.SplitN(b.String(), "\n", 4); !strings.HasPrefix(head[2], "Visit these ") {
		t.Errorf("the first words are %q", head[2])
	}
}

// The story of one slab is told by its name, in any letter case; another
// placement's is not.
func TestStoryOfOneSlab(t *testing.T) {
	set := trial.Company(t)
	at := slices.IndexFunc(set.Visits, func(v record.Visit) bool { return v.Callback() })
	v := set.Visits[at]
	asked := strings.ToLower(v.JobNo) + "/" + v.Placement
	f := trial.FactorsOf(t, set, setting.Options{Topics: []string{"visits"}, Visits: setting.VisitOptions{Slab: asked}})
	if n := len(f.Visits.Stories); n != 1 || f.Visits.Stories[0].JobNo != v.JobNo {
		t.Fatalf("%d stories for %s", n, asked)
	}
	p := page.VisitPages(f, page.Options{Units: "si"})[0]
	said := strings.Join(words(p), "\n")
	for _, want := range []string{v.JobNo, v.SeenOn.String(), "Poured: air", "Callback: "} {
		if !strings.Contains(said, want) {
			t.Errorf("the story lacks %q:\n%s", want, said)
		}
	}
	if !strings.Contains(tableHeads(p), "mm") {
		t.Errorf("widths in SI stand under %q", tableHeads(p))
	}
	f = trial.FactorsOf(t, set, setting.Options{Topics: []string{"visits"}, Visits: setting.VisitOptions{Slab: "no/such"}})
	if len(f.Visits.Stories) != 0 || !strings.HasSuffix(page.VisitPages(f, page.Options{})[0].Answer, ".") {
		t.Error("a slab that is not on record has a story")
	}
}

// Records that mean harm stay text on the visit pages too.
func TestHostileVisits(t *testing.T) {
	set := trial.HostileRecords()
	for i, p := range set.Placements {
		h := trial.Hostile[i%len(trial.Hostile)]
		set.Visits = append(set.Visits, record.Visit{JobNo: p.JobNo, Placement: p.Placement, SeenOn: p.PlacedOn + 9, Why: "callback", Finding: "crack", CrackKind: h, WidthIn: record.Some(0.01), Note: h},
			record.Visit{JobNo: p.JobNo, Placement: p.Placement, SeenOn: p.PlacedOn + 40, Why: "planned", Finding: h, Note: h})
	}
	f := trial.Visited(t, set)
	pages := page.Pages(f, page.Options{})
	html := single(t, pages)
	for _, tag := range []string{"<script>alert", "<img", "\x1b", "\x00", "\u202e"} {
		if strings.Contains(html, tag) {
			t.Errorf("%q stands in the page", tag)
		}
	}
	if n := strings.Count(html, "<script>"); n != 1 {
		t.Errorf("%d scripts that run", n)
	}
	bare := onTerminal(t, append(pages, page.VisitPages(f, page.Options{})...), 80, false)
	if strings.ContainsFunc(bare, func(r rune) bool { return r < ' ' && r != '\n' || r == 0x7f || r >= 0x80 && r < 0xa0 }) {
		t.Error("control codes in plain output")
	}
}

func tableHeads(p page.Page) string {
	var heads []string
	for _, e := range p.Exhibits {
		for _, c := range e.Table.Columns {
			heads = append(heads, c.Head)
		}
	}
	return strings.Join(heads, " ")
}
