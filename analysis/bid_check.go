package analysis

import (
	"fmt"
	"strings"
)

// BidProblem is something wrong or unwise in a spec: the field, what is wrong
// with its value, what would be right, and who says so.
type BidProblem struct {
	Placement string `json:"placement"` // "" where it is about the whole job
	Field     string `json:"field"`
	Value     string `json:"value"`
	Wrong     string `json:"wrong"`
	Right     string `json:"right"`
	Source    string `json:"source"`
	Error     bool   `json:"error"` // no bid can be made; else a caution
}

// String is the problem in a line:
//
//	placement B, thickness_in 1: thinner than any slab; 4 in is usual (ACI 302.1R, from memory)
func (p BidProblem) String() string {
	where := p.Field
	if p.Placement != "" {
		where = "placement " + p.Placement + ", " + where
	}
	if p.Value != "" {
		where += " " + p.Value
	}
	s := where + ": " + p.Wrong
	if p.Right != "" {
		s += "; " + p.Right
	}
	if p.Source != "" {
		s += fmt.Sprintf(" (%s)", p.Source)
	}
	return s
}

// BidProblems are all that is wrong with a spec, in the order of its fields.
type BidProblems []BidProblem

// Fatal are those with which no bid can be made.
func (ps BidProblems) Fatal() BidProblems {
	var out BidProblems
	for _, p := range ps {
		if p.Error {
			out = append(out, p)
		}
	}
	return out
}

// Error is one problem a line.
func (ps BidProblems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// CheckBid finds all that is wrong or unwise in a spec, the fatal and the rest.
func CheckBid(spec BidSpec) BidProblems {
	var ps BidProblems
	if len(spec.Placements) == 0 {
		ps = append(ps, BidProblem{Field: "placements", Wrong: "no placement to bid on", Right: "give at least one with its area and thickness", Error: true})
	}
	return ps
}
