package pool

import (
	"fmt"
	"math"

	"pourback/analysis/stat"
)

// Credibility is the Bühlmann-Straub shrinkage of group means by their volume.
type Credibility struct {
	Within     float64   // s²: variance within a group at volume one
	Between    float64   // a: variance between groups, at least zero
	Z          []float64 // a·w/(a·w+s²), the credit each group's own mean gets
	Collective float64   // Σz·x̄/Σz; the volume-weighted mean where a is zero
	Premium    []float64 // z·x̄+(1−z)·Collective
	Means      []float64 // x̄, each group's volume-weighted mean
	N          int       // observations of positive volume
	Warnings   []string
}

// BuhlmannStraub shrinks group means: x[i][j] is observation j of group i, with
// volume w[i][j] ≥ 0 (zero: not there) and variance s²/w about the group's level.
// s² = ΣΣw(x−x̄_i)²/Σ(n_i−1), a = max(0, [Σw_i(x̄_i−x̄)²−(k−1)s²]/(w−Σw_i²/w))
// (Bühlmann & Straub 1970; Bühlmann & Gisler 2005, §4.8).
func BuhlmannStraub(x, w [][]float64) (*Credibility, error) {
	groups, err := volumes(x, w)
	if err != nil {
		return nil, err
	}
	c := &Credibility{}
	total, degrees := 0.0, 0
	var volumes []float64
	for _, g := range groups {
		c.Means = append(c.Means, g.mean)
		c.Within += g.scatter
		c.N += g.n
		degrees += g.n - 1
		total += g.volume
		volumes = append(volumes, g.volume)
		c.Collective += g.volume * g.mean
	}
	if degrees == 0 {
		return nil, fmt.Errorf("no group has two observations, so the variance within groups cannot be told: %w", stat.ErrTooFew)
	}
	c.Within /= float64(degrees)
	c.Collective /= total
	for _, g := range groups {
		c.Between += g.volume * (g.mean - c.Collective) * (g.mean - c.Collective)
	}
	c.Between = math.Max(0, (c.Between-float64(len(groups)-1)*c.Within)/unevenness(volumes))
	c.share(groups)
	if err := stat.Finite("premium", append(c.Premium[:len(groups):len(groups)], c.Within, c.Between)...); err != nil {
		return nil, err
	}
	return c, nil
}

// share computes credibilities, the collective they imply, and premiums.
func (c *Credibility) share(groups []volume) {
	sum, weighted := 0.0, 0.0
	for _, g := range groups {
		z := 0.0
		if c.Between > 0 {
			z = c.Between * g.volume / (c.Between*g.volume + c.Within)
		}
		c.Z = append(c.Z, z)
		sum += z
		weighted += z * g.mean
	}
	if sum > 0 {
		c.Collective = weighted / sum
	} else {
		c.Warnings = append(c.Warnings, "the variance between groups is estimated as zero: all take the collective mean")
	}
	for i, g := range groups {
		c.Premium = append(c.Premium, c.Z[i]*g.mean+(1-c.Z[i])*c.Collective)
	}
}

// volume is what a group has: Σw, its mean, Σw(x−mean)² and its observations.
type volume struct {
	volume, mean, scatter float64
	n                     int
}

func volumes(x, w [][]float64) ([]volume, error) {
	if len(x) < 2 {
		return nil, fmt.Errorf("%d groups, two are needed: %w", len(x), stat.ErrTooFew)
	}
	if len(x) != len(w) {
		return nil, fmt.Errorf("%d groups of values for %d of volumes: %w", len(x), len(w), stat.ErrShape)
	}
	var out []volume
	for i := range x {
		g, err := newVolume(x[i], w[i])
		if err != nil {
			return nil, fmt.Errorf("group %d: %w", i, err)
		}
		out = append(out, g)
	}
	return out, nil
}

func newVolume(x, w []float64) (g volume, err error) {
	if len(x) != len(w) {
		return g, fmt.Errorf("%d values for %d volumes: %w", len(x), len(w), stat.ErrShape)
	}
	if err := stat.Finite("value", x...); err != nil {
		return g, err
	}
	if err := nonNegative("volume", w); err != nil {
		return g, err
	}
	for j, v := range w {
		if v > 0 {
			g.n++
			g.volume += v
			g.mean += v * x[j]
		}
	}
	if g.n == 0 {
		return g, fmt.Errorf("no volume: %w", stat.ErrNoData)
	}
	g.mean /= g.volume
	for j, v := range w {
		g.scatter += v * (x[j] - g.mean) * (x[j] - g.mean)
	}
	return g, nil
}

// unevenness is Σw − Σw²/Σw = 2Σ_{i<j}w_iw_j/Σw, the divisor of the moments
// estimates of a variance between groups, summed without cancellation.
func unevenness(w []float64) float64 {
	before, sum := 0.0, 0.0
	for _, v := range w {
		sum += v * before
		before += v
	}
	return 2 * sum / before
}
