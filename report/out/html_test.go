package out

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pourback/analysis/setting"
	"pourback/ingest/outfile"
	"pourback/report/chart"
	"pourback/report/internal/trial"
	"pourback/report/page"
)

func folder(t testing.TB, pages []page.Page) map[string]string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "a", "report")
	if err := writeFolderOf(dir, pages); err != nil {
		t.Fatal(err)
	}
	return filesIn(t, dir)
}

// companyTexts are the files of the invented company's report, without the
// single one, and the single one.
func companyTexts(t testing.TB) (pages []page.Page, texts map[string]string, single string) {
	t.Helper()
	if err := writeCompany(); err != nil {
		t.Fatal(err)
	}
	texts = filesIn(t, companyFolder)
	single = texts[singleName]
	delete(texts, singleName)
	delete(texts, outfile.ListName)
	return companyPages(trial.CompanyFactors(t)), texts, single
}

func filesIn(t testing.TB, dir string) map[string]string {
	t.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	for _, f := range files {
		b, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		texts[f.Name()] = string(b)
	}
	return texts
}

func single(t testing.TB, pages []page.Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteSingle(&b, pages); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestFolder(t *testing.T) {
	pages, texts, _ := companyTexts(t)
	if len(texts) != len(pages) {
		t.Fatalf("%d files for %d pages", len(texts), len(pages))
	}
	links := regexp.MustCompile(`(?:href|src)="([^"]*)"`)
	for _, p := range pages {
		html := texts[p.Slug+".html"]
		for _, m := range links.FindAllStringSubmatch(html, -1) {
			if to := m[1]; texts[to] == "" && to != "data:," && to != "#answer" {
				t.Errorf("%s links to %s, which is not there", p.Slug, to)
			}
		}
		if at := strings.Index(html, `class="answer"`); p.Slug == page.IndexSlug {
			if big := strings.Index(html, `class="big"`); big < 0 || big > strings.Index(html, "<svg") {
				t.Error("the overview does not say its answers first")
			}
		} else if at < 0 || at > strings.Index(html+"<figure>", "<figure>") || at > strings.Index(html+"<table>", "<table>") {
			t.Errorf("%s: the answer does not come first", p.Slug)
		}
		if strings.Count(html, `aria-current="page"`) != 1 {
			t.Errorf("%s: the page is not marked in its list of pages", p.Slug)
		}
	}
}

func TestNothingIsFetched(t *testing.T) {
	_, texts, single := companyTexts(t)
	texts["single"] = single
	for name, html := range texts {
		if m := regexp.MustCompile(`(?i)https?:|//[a-z0-9-]+\.|@import|url\(|<(link|iframe|object|embed|base)\b[^>]*`).FindAllString(html, -1); len(m) != 1 || !strings.HasPrefix(m[0], `<link rel="icon" href="data:,"`) {
			t.Errorf("%s: %q", name, m)
		}
	}
}

// TestPolicyNamesTheScripts: the hashes of the policy are those of the style
// and of the scripts that run, and of nothing else.
func TestPolicyNamesTheScripts(t *testing.T) {
	_, texts, single := companyTexts(t)
	texts["single"] = single
	for name, html := range texts {
		policy := regexp.MustCompile(`Content-Security-Policy" content="([^"]*)"`).FindStringSubmatch(html)
		if policy == nil {
			t.Fatalf("%s has no policy", name)
		}
		said := strings.NewReplacer("&#39;", "'", "&#43;", "+").Replace(policy[1])
		for _, m := range regexp.MustCompile(`(?s)<(script|style)>(.*?)</(?:script|style)>`).FindAllStringSubmatch(html, -1) {
			if !strings.Contains(said, hash(m[2])) {
				t.Errorf("%s: the policy does not know a %s of %d bytes", name, m[1], len(m[2]))
			}
			said = strings.Replace(said, hash(m[2]), "", 1)
		}
		if strings.Contains(said, "sha256") || strings.Contains(said, "unsafe") || !strings.HasPrefix(said, "default-src 'none'; script-src ") {
			t.Errorf("%s: %s", name, said)
		}
		for _, attribute := range []string{" style=", " onload=", " onclick="} {
			if strings.Contains(html, attribute) {
				t.Errorf("%s: an attribute%s that the policy forbids", name, attribute)
			}
		}
	}
}

// TestPagesAreSmall: a page comes over a slow line in the time of a look, and the
// whole report fits into a mail.
func TestPagesAreSmall(t *testing.T) {
	_, texts, html := companyTexts(t)
	if len(html) > 1_500_000 {
		t.Errorf("the single file has %d bytes, want under 1.5 MB", len(html))
	}
	all := 0
	for name, text := range texts {
		most := 150_000
		if name == "slabs.html" { // which holds the story of each
			most = 500_000
		}
		if all += len(text); len(text) > most {
			t.Errorf("%s has %d bytes, want under %d", name, len(text), most)
		}
	}
	if all > 2_500_000 {
		t.Errorf("the folder has %d bytes, want under 2.5 MB", all)
	}
}

// TestSameInputSameBytes: whatever was drawn before, and on however many
// machines, the same records make the same file.
func TestSameInputSameBytes(t *testing.T) {
	write := func() string {
		return single(t, page.Pages(trial.FactorsOf(t, trial.Pours(300), setting.Options{}), page.Options{}))
	}
	one := write()
	if other := write(); one != other {
		t.Error("the single file differs")
	}
	pages, texts, _ := companyTexts(t)
	again := folder(t, pages)
	for name := range texts {
		if texts[name] != again[name] {
			t.Errorf("%s differs", name)
		}
	}
}

func TestHostileTextStaysText(t *testing.T) {
	pages := page.Pages(trial.FactorsOf(t, trial.HostileRecords(), setting.Options{}), page.Options{Company: trial.Hostile[0] + trial.Hostile[4]})
	html := single(t, pages)
	for _, tag := range []string{"<script>alert", "<img", "\x1b", "\x00", "\u202e", "\u2066"} {
		if strings.Contains(html, tag) {
			t.Errorf("%q stands in the page", tag)
		}
	}
	if n := strings.Count(html, "<script>"); n != 1 {
		t.Errorf("%d scripts that run, want our own", n)
	}
	for _, shown := range []string{"=HYPERLINK(", "__f__alert(1)__f__", "&lt;script&gt;alert(1)&lt;/script&gt;", "{{.Answer}}", "WWW…"} {
		if !strings.Contains(html, shown) {
			t.Errorf("%q is not shown as it was written", shown)
		}
	}
}

// TestAChartThatIsNotDrawnLeavesItsTable: the page says why, and no other chart
// suffers.
func TestAChartThatIsNotDrawnLeavesItsTable(t *testing.T) {
	pages := fixedPages()
	sound := pages[1].Exhibits[0]
	why := "No chart is drawn: it takes 3 groups <b>or</b> more."
	pages[1].Exhibits = []page.Exhibit{{Title: "Broken", Chart: chart.Undrawn("broken", why), Table: sound.Table}, sound}
	html := single(t, pages)
	if !strings.Contains(html, `<p class="undrawn">No chart is drawn: it takes 3 groups &lt;b&gt;or&lt;/b&gt; more.</p>`) {
		t.Error("the page does not say why a chart is not drawn")
	}
	if n := strings.Count(html, "<table"); n != 2 {
		t.Errorf("%d tables, want 2", n)
	}
	if n := strings.Count(html, "<svg"); n != 1 {
		t.Errorf("%d drawings of the sound chart, want 1", n)
	}
}

func TestWritingTakesThePlaceOfAnOlderReport(t *testing.T) {
	pages := fixedPages()
	dir := t.TempDir()
	path := filepath.Join(dir, "one.html")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := writeFile(path, pages); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil || string(got) != single(t, pages) {
		t.Error("not what was to be written", err)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if err := writeFile(filepath.Join(dir, "no", "such", "folder.html"), pages); err == nil || !strings.Contains(err.Error(), "does not exist; make it first") {
		t.Errorf("the error for a folder that is not there: %v", err)
	}
	if err := writeFolderOf(path, pages); err == nil {
		t.Error("no error for a folder that is a file")
	}
}

// TestEveryTemplateIsExecuted: each is one of the documents, which other tests
// write, or is called by another.
func TestEveryTemplateIsExecuted(t *testing.T) {
	var source strings.Builder
	for _, name := range []string{"templates/page.html", "templates/topic.html", "templates/drawing.html", "templates/pourday.html", "templates/proposal.html", "templates/letter.html"} {
		source.WriteString(mustRead(name))
	}
	documents := []string{"page", "single", "bid", "pourday", "proposal", "letter"}
	for _, tmpl := range templates.Templates() {
		name := tmpl.Name()
		if name == "" || strings.HasSuffix(name, ".html") || slices.Contains(documents, name) {
			continue
		}
		if !strings.Contains(source.String(), `{{template "`+name+`"`) {
			t.Errorf("nothing executes the template %q", name)
		}
	}
}
