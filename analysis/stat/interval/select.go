package interval

import (
	"math"
	"slices"
)

// ascending sorts ranks and drops repeats.
func ascending(ranks []int) []int {
	slices.Sort(ranks)
	return slices.Compact(ranks)
}

// selectRanks reorders xs so that each of ranks (ascending, in range) holds
// the value that a full sort would put there. Ranks split the work: the
// middle one is selected, then each side sees only its own ranks.
func selectRanks(xs []float64, ranks []int) {
	selectWithin(xs, 0, len(xs)-1, ranks)
}

func selectWithin(xs []float64, left, right int, ranks []int) {
	for len(ranks) > 0 && left < right {
		if right-left < smallRange {
			insertionSort(xs[left : right+1])
			return
		}
		mid := len(ranks) / 2
		k := ranks[mid]
		floydRivest(xs, left, right, k)
		selectWithin(xs, left, k-1, ranks[:mid])
		left, ranks = k+1, ranks[mid+1:]
	}
}

const (
	smallRange  = 24  // below this a sort is as quick as a selection
	sampleRange = 600 // above this a sample brackets the rank first
)

// floydRivest brings the k-th smallest of xs[left..right] to k, the smaller
// ones before it and the larger after: algorithm SELECT of Floyd & Rivest
// (1975), Comm. ACM 18:165 and 173. Steps that fail to halve the range are
// counted, and past a few the range is sorted, so that no input is quadratic.
func floydRivest(xs []float64, left, right, k int) {
	for slow := 0; left < right; {
		if slow > 8 {
			slices.Sort(xs[left : right+1])
			return
		}
		size := right - left
		if size > sampleRange {
			lo, hi := bracket(left, right, k)
			floydRivest(xs, lo, hi, k)
		}
		i, j := partition(xs, left, right, k)
		if j < k {
			left = i
		}
		if k < i {
			right = j
		}
		if right-left > size/2 {
			slow++
		}
	}
}

// bracket returns the part of left..right around k whose own k-th value is
// likely to lie close to that of the whole.
func bracket(left, right, k int) (lo, hi int) {
	n, i := float64(right-left+1), float64(k-left+1)
	z := math.Log(n)
	s := 0.5 * math.Exp(2*z/3)
	sd := 0.5 * math.Sqrt(z*s*(n-s)/n) * sign(i-n/2)
	lo = max(left, int(float64(k)-i*s/n+sd))
	hi = min(right, int(float64(k)+(n-i)*s/n+sd))
	return lo, hi
}

func sign(x float64) float64 {
	if x < 0 {
		return -1
	}
	return 1
}

// partition splits xs[left..right] about the value at k: afterwards
// xs[left..j] ≤ pivot, xs[i..right] ≥ pivot and what lies between equals it.
// Values equal to the pivot are exchanged, which keeps ties balanced.
func partition(xs []float64, left, right, k int) (i, j int) {
	pivot := xs[k]
	i, j = left, right
	for i <= j {
		for xs[i] < pivot {
			i++
		}
		for xs[j] > pivot {
			j--
		}
		if i <= j {
			xs[i], xs[j] = xs[j], xs[i]
			i++
			j--
		}
	}
	return i, j
}

func insertionSort(xs []float64) {
	for i := 1; i < len(xs); i++ {
		x := xs[i]
		j := i
		for ; j > 0 && xs[j-1] > x; j-- {
			xs[j] = xs[j-1]
		}
		xs[j] = x
	}
}
