package survival

import (
	"testing"

	"pourback/analysis/internal/reftest"
)

// Ovarian cancer trial: Edmonson et al. (1979), Cancer Treat. Rep. 63.
func TestReserveOvarian(t *testing.T) {
	r := reftest.Load(t, "ibnr-ovarian")
	ov, _ := reftest.Table(t, "ovarian.csv")
	km, err := KaplanMeier(ov["futime"], flags(ov["fustat"]))
	if err != nil {
		t.Fatal(err)
	}
	res, err := km.Reserve(r.Floats(t, "inputs.ages"), r.Float(t, "inputs.horizon"), r.Float(t, "inputs.mean_cost"), .95)
	if err != nil {
		t.Fatal(err)
	}
	r.CheckAll(t, "remaining_prob", res.Probability)
	r.Check(t, "reserve", res.Value)
}
