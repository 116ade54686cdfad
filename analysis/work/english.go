package work

import "fmt"

// Times goes once the rooms that still say it hand over counts.
func Times(n int) string {
	switch n {
	case 0:
		return "no times"
	case 1:
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}
