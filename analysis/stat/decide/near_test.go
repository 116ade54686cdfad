package decide

import (
	"math"
	"testing"
)

func near(t testing.TB, name string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g", name, got, want)
	}
}
