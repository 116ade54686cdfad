package sheet

import "math"

// assign gives each row its own column so that the sum of points is the largest
// there is: the assignment problem, by shortest augmenting paths (Jonker and
// Volgenant 1987), in O(rows² × columns). points must have at least as many
// columns as rows.
func assign(points [][]float64) (columns []int, sum float64) {
	columns, sum, _ = assignDual(points)
	return columns, sum
}

// assignDual is [assign] with, for each row, the least that the whole loses where
// the row is given any other column (a lower bound, from the dual prices).
func assignDual(points [][]float64) (columns []int, sum float64, least []float64) {
	n := len(points)
	if n == 0 {
		return nil, 0, nil
	}
	m := len(points[0])
	u, v := make([]float64, n+1), make([]float64, m+1)
	rowOf, way := make([]int, m+1), make([]int, m+1)
	for i := 1; i <= n; i++ {
		rowOf[0] = i
		augment(points, u, v, rowOf, way)
	}
	columns = make([]int, n)
	for j := 1; j <= m; j++ {
		if rowOf[j] > 0 {
			columns[rowOf[j]-1] = j - 1
		}
	}
	least = make([]float64, n)
	for i, j := range columns {
		sum += points[i][j]
		least[i] = math.Inf(1)
		for k, p := range points[i] {
			if k != j {
				least[i] = math.Min(least[i], -p-u[i+1]-v[k+1])
			}
		}
	}
	return columns, sum, least
}

// augment brings the row that waits at column 0 in, along the cheapest path.
func augment(points [][]float64, u, v []float64, rowOf, way []int) {
	m := len(v) - 1
	least, used := make([]float64, m+1), make([]bool, m+1)
	for j := range least {
		least[j] = math.Inf(1)
	}
	at := 0
	for rowOf[at] != 0 {
		used[at] = true
		i, delta, next := rowOf[at], math.Inf(1), 0
		for j := 1; j <= m; j++ {
			if used[j] {
				continue
			}
			if c := -points[i-1][j-1] - u[i] - v[j]; c < least[j] {
				least[j], way[j] = c, at
			}
			if least[j] < delta {
				delta, next = least[j], j
			}
		}
		for j := 0; j <= m; j++ {
			if used[j] {
				u[rowOf[j]] += delta
				v[j] -= delta
			} else {
				least[j] -= delta
			}
		}
		at = next
	}
	for at != 0 {
		rowOf[at] = rowOf[way[at]]
		at = way[at]
	}
}
