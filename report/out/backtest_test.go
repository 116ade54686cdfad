package out

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"pourback/analysis/backtest"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
	"pourback/report/page"
	"pourback/report/say"
)

// The backtest of a company with a past, and of one without, is what its schema
// says, and fits a terminal of 80 columns.
func TestBacktestIsAsDocumented(t *testing.T) {
	asOf, err := record.ParseDate("2026-03-31")
	if err != nil {
		t.Fatal(err)
	}
	set, _, err := invented.Generate(invented.Options{Seed: 2, Jobs: 90, Until: asOf})
	if err != nil {
		t.Fatal(err)
	}
	for name, s := range map[string]record.Set{"a past": set, "none": {}} {
		b, err := backtest.New(record.NewHistory(asOf, s), setting.Options{})
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := BacktestJSON(&out, b, say.New("", "", "")); err != nil {
			t.Fatal(err)
		}
		var value any
		if err := json.Unmarshal(out.Bytes(), &value); err != nil {
			t.Fatal(err)
		}
		for _, wrong := range schemaIn(t, "backtest.schema.json").check(name, value) {
			t.Error(wrong)
		}
		out.Reset()
		if err := Terminal(&out, []page.Page{page.BacktestPage(b, page.Options{})}, 80, false); err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(out.String(), "\n") {
			if n := len([]rune(line)); n > 80 {
				t.Errorf("%s: a line of %d columns: %s", name, n, line)
			}
		}
	}
}
