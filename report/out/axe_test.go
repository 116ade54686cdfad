package out

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"pourback/report/internal/browse"
)

func TestVendoredScriptsAreThoseOfTheirVersions(t *testing.T) {
	checker, err := browse.Axe()
	if err != nil {
		t.Fatal(err)
	}
	for file, text := range map[string]string{"testdata/axe/VERSIONS": checker} {
		versions, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256([]byte(text))
		if !strings.Contains(string(versions), "sha256 of the unpacked file "+hex.EncodeToString(sum[:])) {
			t.Errorf("%s is about another file than lies beside it", file)
		}
	}
}

// violation is a rule that a page breaks, and where.
type violation struct {
	ID    string
	Help  string
	Nodes []string
}

// violations are all that axe finds: every rule it has, its advice on good
// practice included.
func (v *visit) violations() []violation { return v.violationsOf() }

// violationsOf are those of some rules, or of all where none is named.
func (v *visit) violationsOf(rules ...string) []violation {
	v.t.Helper()
	only := ""
	if len(rules) > 0 {
		only = fmt.Sprintf("runOnly: %q, ", rules)
	}
	finds, err := browse.AxeViolations(only)
	if err != nil {
		v.t.Fatal(err)
	}
	found, err := chromedp.Run(v.ctx, chromedp.Evaluate[[]violation](finds, chromedp.EvalAwaitPromise))
	if err != nil {
		v.t.Fatal(err)
	}
	return found
}

// accessible holds a page to every rule of axe.
func (v *visit) accessible() {
	v.t.Helper()
	for _, x := range v.violations() {
		v.t.Errorf("axe: %s: %s\n\t%s", x.ID, x.Help, strings.Join(x.Nodes, "\n\t"))
	}
}

// TestAxeFindsWhatIsWrong: a check that cannot fail is none.
func TestAxeFindsWhatIsWrong(t *testing.T) {
	t.Parallel()
	v := open(t, browser(t), "data:text/html,"+`<html lang=en><title>t</title><main><h1>h</h1><img src="data:,"><p style="color:%23aaa">faint</p></main>`, screen{width: 600, height: 400})
	var ids []string
	for _, x := range v.violations() {
		ids = append(ids, x.ID)
	}
	for _, want := range []string{"image-alt", "color-contrast"} {
		if !strings.Contains(strings.Join(ids, " "), want) {
			t.Errorf("axe found %v and not %s", ids, want)
		}
	}
}
