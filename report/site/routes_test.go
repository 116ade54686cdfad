package site

import "testing"

// TestRoutesAreWhole: each route has a handler, somebody it is for, and a place of its own.
func TestRoutesAreWhole(t *testing.T) {
	met := map[string]bool{}
	for _, r := range Routes() {
		at := r.Method + " " + r.Pattern
		if met[at] {
			t.Errorf("%s is there twice", at)
		}
		met[at] = true
		if r.Do == nil || r.For == 0 {
			t.Errorf("%s is for nobody or does nothing", at)
		}
		if writes := r.Kind != Shows; writes != (r.Method == "POST") {
			t.Errorf("%s: what is changed is changed by a POST, and nothing else is", at)
		}
	}
	if len(met) < 20 {
		t.Fatalf("only %d routes", len(met))
	}
}
