package out

import (
	"regexp"
	"strings"
	"testing"
)

// TestNewStylesHaveOldOnesToFallBackOn: what not every browser in use knows stands
// where a browser without it still shows a page that can be read. A color that is
// mixed of variables would else leave nothing (CSS Variables 1, invalid at
// computed-value time); a selector that is not known drops its whole rule, so it
// stands in a rule of its own.
func TestNewStylesHaveOldOnesToFallBackOn(t *testing.T) {
	all := style + letterStyle + pourDayStyle
	guarded := regexp.MustCompile(`(?s)@supports \(color: color-mix\([^{]*\{(?:[^{}]*\{[^{}]*\})*[^{}]*\}`)
	if found := guarded.FindAllString(all, -1); len(found) != 1 {
		t.Fatalf("%d rules are kept for browsers that mix colors, want 1", len(found))
	}
	if strings.Contains(guarded.ReplaceAllString(all, ""), "color-mix") {
		t.Error("a color is mixed where a browser that cannot would show none")
	}
	for _, rule := range regexp.MustCompile(`[^{}]*(?::has\(|::details-content)[^{}]*\{`).FindAllString(all, -1) {
		for selector := range strings.SplitSeq(strings.TrimSuffix(rule, "{"), ",") {
			if !strings.Contains(selector, ":has(") && !strings.Contains(selector, "::details-content") {
				t.Errorf("%q falls with what not every browser knows beside it", strings.TrimSpace(selector))
			}
		}
	}
}
