package report

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pourback/analysis"
)

func folder(t testing.TB, pages []Page) map[string]string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "a", "report")
	if err := Write(dir, pages); err != nil {
		t.Fatal(err)
	}
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

func single(t testing.TB, pages []Page) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteSingle(&b, pages); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// withoutLibrary is the markup that is ours.
func withoutLibrary(t testing.TB, html string) string {
	t.Helper()
	lib, err := library()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Replace(html, lib, "", 1)
}

func TestFolder(t *testing.T) {
	pages := Pages(factorsOf(t, company(t), analysis.Options{}), Options{Company: "Saltgrass Flatwork"})
	texts := folder(t, pages)
	if len(texts) != len(pages)+1 || texts[libraryName] == "" {
		t.Fatalf("%d files for %d pages and the library", len(texts), len(pages))
	}
	links := regexp.MustCompile(`(?:href|src)="([^"]*)"`)
	for _, p := range pages {
		html := texts[p.Slug+".html"]
		for _, m := range links.FindAllStringSubmatch(html, -1) {
			if to := m[1]; texts[to] == "" && to != "data:," && to != "#answer" {
				t.Errorf("%s links to %s, which is not there", p.Slug, to)
			}
		}
		if at := strings.Index(html, `class="answer"`); at < 0 || at > strings.Index(html+"<figure>", "<figure>") || at > strings.Index(html+"<table>", "<table>") {
			t.Errorf("%s: the answer does not come first", p.Slug)
		}
		if strings.Count(html, `aria-current="page"`) != 1 {
			t.Errorf("%s: the page is not marked in its list of pages", p.Slug)
		}
	}
}

func TestNothingIsFetched(t *testing.T) {
	pages := Pages(factorsOf(t, company(t), analysis.Options{}), Options{})
	texts := folder(t, pages)
	delete(texts, libraryName)
	texts["single"] = withoutLibrary(t, single(t, pages))
	for name, html := range texts {
		if m := regexp.MustCompile(`(?i)https?:|//[a-z0-9-]+\.|@import|url\(|<(link|iframe|object|embed|base)\b[^>]*`).FindAllString(html, -1); len(m) != 1 || !strings.HasPrefix(m[0], `<link rel="icon" href="data:,"`) {
			t.Errorf("%s: %q", name, m)
		}
	}
}

// TestPolicyNamesTheScripts: the hashes of the policy are those of the style
// and of the scripts that run, and of nothing else.
func TestPolicyNamesTheScripts(t *testing.T) {
	pages := Pages(factorsOf(t, pours(60), analysis.Options{}), Options{})
	texts := folder(t, pages)
	delete(texts, libraryName)
	texts["single"] = single(t, pages)
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
			if strings.Contains(withoutLibrary(t, html), attribute) {
				t.Errorf("%s: an attribute%s that the policy forbids", name, attribute)
			}
		}
	}
}

func TestSingleFileIsSmall(t *testing.T) {
	html := single(t, Pages(factorsOf(t, company(t), analysis.Options{}), Options{}))
	if len(html) > 2_000_000 {
		t.Errorf("%d bytes, want under 2 MB", len(html))
	}
}

func TestSameInputSameBytes(t *testing.T) {
	write := func() (map[string]string, string) {
		pages := Pages(factorsOf(t, company(t), analysis.Options{}), Options{})
		return folder(t, pages), single(t, pages)
	}
	texts, one := write()
	again, other := write()
	for name := range texts {
		if texts[name] != again[name] {
			t.Errorf("%s differs", name)
		}
	}
	if one != other {
		t.Error("the single file differs")
	}
}

func TestHostileTextStaysText(t *testing.T) {
	pages := Pages(factorsOf(t, hostileRecords(), analysis.Options{}), Options{Company: hostile[0] + hostile[4]})
	html := withoutLibrary(t, single(t, pages))
	for _, tag := range []string{"<script>alert", "<img", "\x1b", "\x00", "\u202e", "\u2066"} {
		if strings.Contains(html, tag) {
			t.Errorf("%q stands in the page", tag)
		}
	}
	if n := strings.Count(html, "<script>"); n != 2 {
		t.Errorf("%d scripts that run, want the library and our own", n)
	}
	for _, shown := range []string{"=HYPERLINK(", "__f__alert(1)__f__", "&lt;script&gt;alert(1)&lt;/script&gt;", "{{.Answer}}", "WWW…"} {
		if !strings.Contains(html, shown) {
			t.Errorf("%q is not shown as it was written", shown)
		}
	}
}

func TestAPageThatCannotBeDrawnIsNotWritten(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "report")
	broken := []Page{{Slug: IndexSlug, Title: "t"}, {Slug: "x", Exhibits: []Exhibit{{Chart: &Chart{ID: "c", draw: func() *board {
		b := sideways(nil, "")
		b.YAxisList[0].Data = []any{func() {}}
		return b
	}}}}}}
	if err := Write(dir, broken); err == nil || !strings.Contains(err.Error(), "page x: chart c") {
		t.Errorf("%v", err)
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("a folder was made all the same")
	}
	path := filepath.Join(t.TempDir(), "one.html")
	if err := WriteFile(path, broken); err == nil {
		t.Error("a single file was written")
	}
}

func TestWritingTakesThePlaceOfAnOlderReport(t *testing.T) {
	pages := Pages(factorsOf(t, pours(20), analysis.Options{}), Options{})
	dir := t.TempDir()
	path := filepath.Join(dir, "one.html")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := WriteFile(path, pages); err != nil {
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
	if err := WriteFile(filepath.Join(dir, "no", "such", "folder.html"), pages); err == nil {
		t.Error("no error for a folder that is not there")
	}
	if err := Write(path, pages); err == nil {
		t.Error("no error for a folder that is a file")
	}
}

// TestEveryTemplateIsExecuted: each is one of the documents, which other tests
// write, or is called by another.
func TestEveryTemplateIsExecuted(t *testing.T) {
	var source strings.Builder
	for _, name := range []string{"templates/page.html", "templates/topic.html", "templates/drawing.html", "templates/pourday.html"} {
		source.WriteString(mustRead(name))
	}
	documents := []string{"page", "single", "bid", "pourday"}
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

func BenchmarkWrite(b *testing.B) {
	for _, n := range []int{1_000, 100_000} {
		f := factorsOf(b, pours(n), analysis.Options{})
		b.Run(count(n), func(b *testing.B) {
			dir := b.TempDir()
			for b.Loop() {
				if err := Write(dir, Pages(f, Options{})); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
