package steel

import (
	"fmt"
	"math"
)

// Chances are said in whole numbers, and never as certain. It goes once the
// findings are said by the report.
func Chances(p float64) string {
	return fmt.Sprintf("%.0f times in 100", min(99, max(1, math.Round(p))))
}
