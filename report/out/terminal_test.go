package out

import (
	"bytes"
	"strings"
	"testing"

	"github.com/jedib0t/go-pretty/v6/text"

	"pourback/analysis/setting"
	"pourback/report/internal/trial"
	"pourback/report/page"
)

func onTerminal(t *testing.T, pages []page.Page, width int, colour bool) string {
	t.Helper()
	var b bytes.Buffer
	if err := Terminal(&b, pages, width, colour); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestEightyColumnsDo(t *testing.T) {
	for name, f := range trial.Histories(t) {
		for _, units := range []string{"us", "si"} {
			for line := range strings.Lines(onTerminal(t, page.Pages(f, page.Options{Units: units}), 80, false)) {
				if n := text.StringWidthWithoutEscSequences(strings.TrimSuffix(line, "\n")); n > 80 {
					t.Errorf("%s: %d columns: %s", name, n, line)
				}
			}
		}
	}
}

func TestNoControlCodesUnlessAskedFor(t *testing.T) {
	pages := page.Pages(trial.FactorsOf(t, trial.HostileRecords(), setting.Options{}), page.Options{Company: trial.Hostile[9]})
	bare := onTerminal(t, pages, 80, false)
	if strings.ContainsFunc(bare, func(r rune) bool { return r < ' ' && r != '\n' || r == 0x7f || r >= 0x80 && r < 0xa0 }) {
		t.Error("control codes in plain output")
	}
	if codes := strings.Count(onTerminal(t, pages, 80, true), "\x1b["); codes != 2*len(pages) {
		t.Errorf("%d control codes in colour, want two for each of %d titles", codes, len(pages))
	}
}

func TestTerminalSaysWhatThePagesSay(t *testing.T) {
	pages := page.Pages(trial.CompanyFactors(t), page.Options{})
	got := strings.Join(strings.Fields(onTerminal(t, pages, 80, false)), " ")
	for _, p := range pages {
		for _, want := range append([]string{p.Title, p.Answer, p.Basis}, p.Notes...) {
			if !strings.Contains(got, strings.Join(strings.Fields(strings.ReplaceAll(want, "\n", " ")), " ")) {
				t.Errorf("%s: %q is missing", p.Slug, want)
			}
		}
	}
}
