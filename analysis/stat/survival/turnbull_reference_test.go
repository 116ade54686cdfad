package survival

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/floats"
)

var inf = math.Inf(1)

// breastRetraction reads testdata/turnbull.csv: months to breast retraction
// after radiotherapy alone (arm 1), and with chemotherapy (arm 2), of
// Finkelstein & Wolfe (1985, Biometrics 41, 933-945) as the R package KMsurv
// ships them, with the estimate that the R package npsurv makes of them;
// testdata/turnbull.R made it.
func breastRetraction(t *testing.T, arm string) (rows, at []Interval, mass []float64, logLik float64) {
	t.Helper()
	file, err := os.Open("testdata/turnbull.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	for _, l := range lines[1:] {
		switch kind := l[1]; {
		case l[0] != arm:
		case kind == "row":
			rows = append(rows, Interval{number(l[2]), number(l[3])})
		case kind == "mass":
			at, mass = append(at, Interval{number(l[2]), number(l[3])}), append(mass, number(l[4]))
		case kind == "loglik":
			logLik = number(l[4])
		}
	}
	return rows, at, mass, logLik
}

func TestTurnbullBreastRetraction(t *testing.T) {
	for arm, n := range map[string]int{"1": 46, "2": 49} {
		rows, at, mass, logLik := breastRetraction(t, arm)
		if len(rows) != n || len(mass) < 8 {
			t.Fatalf("arm %s: %d rows, %d masses", arm, len(rows), len(mass))
		}
		fit, err := TurnbullNPMLE(rows)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "log likelihood", fit.LogLik, logLik, 1e-8)
		ours := map[Interval]float64{}
		for j, i := range fit.At {
			ours[i] = fit.Mass[j]
		}
		for j, i := range at {
			near(t, "mass", ours[i], mass[j], 1e-6)
		}
		if !fit.Converged || math.Abs(floats.Sum(mass)-1) > 1e-9 {
			t.Errorf("arm %s: %+v", arm, fit)
		}
	}
}
