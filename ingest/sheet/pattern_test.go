package sheet

import "testing"

// Patterns compile when they are first asked, so one that cannot be would only be
// found by whoever comes by it.
func TestPatternsCompile(t *testing.T) {
	if len(patterns) < 100 {
		t.Errorf("only %d patterns are known", len(patterns))
	}
	for _, p := range patterns {
		p.MatchString("") // panics where it cannot be compiled
	}
}
