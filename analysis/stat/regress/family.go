package regress

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"

	"pourback/analysis/stat"
)

// family is an exponential family with its canonical link, as functions of the
// linear predictor η. Sizes are trials or exposures; the mean is the expected
// count, and its slope in η is the variance.
type family struct {
	name, sizeName string
	ceiling        bool // an outcome cannot exceed its size
	start          func(y, size float64) float64
	mean           func(eta, size float64) float64
	weigh          func(y, eta, size float64) (variance, residual float64) // residual is y − μ without cancellation
	deviance       func(y, eta, size float64) float64
	logLik         func(y, eta, size float64) float64
}

var binomial = family{
	name: "logistic", sizeName: "trials", ceiling: true,
	start: func(y, size float64) float64 { return math.Log((y + 0.5) / (size - y + 0.5)) },
	mean:  func(eta, size float64) float64 { return size * expit(eta) },
	weigh: func(y, eta, size float64) (variance, residual float64) {
		p, q := shares(eta)
		return size * p * q, y*q - (size-y)*p
	},
	deviance: func(y, eta, size float64) float64 {
		return 2 * (xlogxy(y, size) + xlogxy(size-y, size) - logShares(y, eta, size))
	},
	logLik: func(y, eta, size float64) float64 { return lchoose(size, y) + logShares(y, eta, size) },
}

var poisson = family{
	name: "Poisson", sizeName: "exposure",
	start: func(y, size float64) float64 {
		if size == 0 {
			return 0
		}
		return math.Log((y + 0.1) / size)
	},
	mean: func(eta, size float64) float64 { return size * math.Exp(eta) },
	weigh: func(y, eta, size float64) (variance, residual float64) {
		mu := size * math.Exp(eta)
		return mu, y - mu
	},
	deviance: func(y, eta, size float64) float64 {
		mu := size * math.Exp(eta)
		return 2 * (xlogxy(y, mu) - (y - mu))
	},
	logLik: func(y, eta, size float64) float64 {
		if size == 0 {
			return 0
		}
		factorial, _ := math.Lgamma(y + 1)
		return y*(math.Log(size)+eta) - size*math.Exp(eta) - factorial
	},
}

// check validates outcomes and sizes and counts the rows that have a size.
func (f family) check(x Design, y, size []float64) (int, error) {
	if err := x.Check(len(y)); err != nil {
		return 0, err
	}
	if err := nonNegative("events", y, len(y)); err != nil {
		return 0, err
	}
	if err := nonNegative(f.sizeName, size, len(y)); err != nil {
		return 0, err
	}
	n := 0
	for i, m := range size {
		if m == 0 && y[i] > 0 || f.ceiling && y[i] > m {
			return 0, fmt.Errorf("row %d has %v events in %s of %v: %w", i, y[i], f.sizeName, m, stat.ErrDomain)
		}
		if m > 0 {
			n++
		}
	}
	if n < len(x) {
		return 0, fmt.Errorf("%d rows for %d coefficients: %w", n, len(x), stat.ErrTooFew)
	}
	return n, nil
}

// varied returns an error where no event, or nothing but events, leaves the
// maximum likelihood estimate infinite whatever the columns.
func (f family) varied(y, size []float64) error {
	events, total := floats.Sum(y), floats.Sum(size)
	switch {
	case events == 0:
		return fmt.Errorf("no events in %v %s: %w", total, f.sizeName, stat.ErrNoEvents)
	case f.ceiling && events == total:
		return fmt.Errorf("every one of %v %s is an event: %w", total, f.sizeName, stat.ErrNoVariation)
	}
	return nil
}

// expit is 1/(1+e^−η).
func expit(eta float64) float64 { return 1 / (1 + math.Exp(-eta)) }

// shares returns p = expit(η) and 1−p, neither by subtraction.
func shares(eta float64) (p, q float64) {
	e := math.Exp(-math.Abs(eta))
	if eta < 0 {
		return e / (1 + e), 1 / (1 + e)
	}
	return 1 / (1 + e), e / (1 + e)
}

// logShares is y·log p + (size−y)·log(1−p) at p = expit(η).
func logShares(y, eta, size float64) float64 {
	both := math.Log1p(math.Exp(-math.Abs(eta)))
	return -y*(math.Max(-eta, 0)+both) - (size-y)*(math.Max(eta, 0)+both)
}

// xlogxy is x·log(x/y), zero at x = 0 whatever y.
func xlogxy(x, y float64) float64 {
	if x == 0 {
		return 0
	}
	return x * math.Log(x/y)
}

// lchoose is the logarithm of the binomial coefficient, for real arguments.
func lchoose(n, k float64) float64 {
	a, _ := math.Lgamma(n + 1)
	b, _ := math.Lgamma(k + 1)
	c, _ := math.Lgamma(n - k + 1)
	return a - b - c
}
