package record

// Nearest is the candidate that takes the fewest changes to reach from what
// was written, and how many; "" where there are no candidates. It serves every
// "did you mean".
func Nearest(written string, candidates []string) (nearest string, changes int) {
	for i, c := range candidates {
		if d := distance([]rune(Fold(written)), []rune(Fold(c))); i == 0 || d < changes {
			nearest, changes = c, d
		}
	}
	return nearest, changes
}

// distance counts the letters to insert, delete, replace or swap with their
// neighbour to turn a into b (optimal string alignment).
func distance(a, b []rune) int {
	before, last := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row := make([]int, len(b)+1)
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last = last, row
	}
	return last[len(b)]
}
