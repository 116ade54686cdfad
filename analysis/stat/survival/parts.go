package survival

import "sync"

const (
	manyRows = 1 << 17 // from here on rows are worked on in parts
	rowParts = 4       // fixed, so that no answer depends on the machine
)

// partsOf is in how many parts n rows are worked on.
func partsOf(n int) int {
	if n < manyRows {
		return 1
	}
	return rowParts
}

// inParts runs f on each part of n rows, at once where there are several.
func inParts(n int, f func(part, from, to int)) {
	parts := partsOf(n)
	atOnce(parts, func(p int) { f(p, n*p/parts, n*(p+1)/parts) })
}

// atOnce runs f for 0 … n−1 at the same time, or here where n is 1.
func atOnce(n int, f func(i int)) {
	if n == 1 {
		f(0)
		return
	}
	var wg sync.WaitGroup
	for i := range n {
		wg.Go(func() { f(i) })
	}
	wg.Wait()
}
