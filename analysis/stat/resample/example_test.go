package resample_test

import (
	"fmt"

	"pourback/analysis/stat"
	"pourback/analysis/stat/resample"
)

// Six slabs of three jobs: slabs of a job crack together, so jobs are drawn,
// not slabs.
func ExampleBootstrap() {
	cracked := []float64{1, 1, 0, 0, 1, 0}
	job := []int{101, 101, 102, 102, 103, 103}
	share := func(out, weights []float64) error {
		var sum, n float64
		for i, w := range weights {
			sum += w * cracked[i]
			n += w
		}
		if n == 0 {
			return stat.ErrNoData
		}
		out[0] = sum / n
		return nil
	}
	plan := resample.Plan{Rows: len(cracked), Clusters: job, Draws: 999, Seed: 1}
	s, err := resample.Bootstrap(plan, resample.Stateless(share))
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := s.Percentile(0, 0.9)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f (%.2f to %.2f), %d jobs, %s\n", e.Value, e.Low, e.High, e.N, e.Method)
	// Output: 0.50 (0.17 to 0.83), 3 jobs, bootstrap percentile, 999 draws
}
