package main

import (
	"fmt"
	"io"

	"pourback/ingest"
	"pourback/ingest/record"
)

// saying passes problems on as they are found: of each kind so many, and of the
// others their number. What a file of a million bad rows says is bounded so,
// and so is the memory it takes.
type saying struct {
	w     io.Writer
	keep  bool // for JSON, instead of printing
	kept  []record.Problem
	kinds []*kind // in the order in which they came up
	like  map[record.Problem]*kind
}

// kind is problems that are alike: what they have in common, and how many.
type kind struct {
	of    record.Problem
	count int
}

const (
	mostAlike = 100 // problems of one kind that are told one by one
	mostKinds = 500 // kinds that are told apart; a workbook of many sheets has many
)

func newSaying(w io.Writer, keep bool) *saying {
	return &saying{w: w, keep: keep, like: map[record.Problem]*kind{}}
}

// say tells a problem, unless enough of its kind have been told.
func (s *saying) say(p record.Problem) {
	if k := s.kindOf(p); k.count > mostAlike {
		return
	}
	if s.keep {
		s.kept = append(s.kept, p)
		return
	}
	fmt.Fprintf(s.w, "%s: %s\n", p.Severity, p)
}

// kindOf counts a problem with those like it. Once there are too many kinds,
// all further ones of a file and a severity are one.
func (s *saying) kindOf(p record.Problem) *kind {
	of := record.Problem{Severity: p.Severity, Code: p.Code, File: p.File, Sheet: p.Sheet, Column: p.Column}
	k := s.like[of]
	if k == nil && len(s.kinds) >= mostKinds {
		of = record.Problem{Severity: p.Severity, Code: "other kinds", File: p.File}
		k = s.like[of]
	}
	if k == nil {
		k = &kind{of: of}
		s.like[of], s.kinds = k, append(s.kinds, k)
	}
	k.count++
	return k
}

// rest tells how many problems of each kind were not told.
func (s *saying) rest() {
	for _, k := range s.kinds {
		if more := k.count - mostAlike; more > 0 {
			of := k.of
			of.Wrong = fmt.Sprintf("%d more like the last %s, %d in all", more, of.Code, k.count)
			fmt.Fprintf(s.w, "%s: %s\n", of.Severity, of)
		}
	}
}

// problemRow is a problem as JSON has it.
type problemRow struct {
	Severity string `json:"severity"`
	Code     string `json:"code"`
	File     string `json:"file"`
	Sheet    string `json:"sheet,omitempty"`
	Row      int    `json:"row,omitempty"`
	Column   string `json:"column,omitempty"`
	Value    string `json:"value,omitempty"`
	Wrong    string `json:"wrong"`
	Right    string `json:"right,omitempty"`
}

// kindRow is the true number of problems of a kind, where not all are told.
type kindRow struct {
	Severity string `json:"severity"`
	Code     string `json:"code"`
	File     string `json:"file"`
	Sheet    string `json:"sheet,omitempty"`
	Column   string `json:"column,omitempty"`
	Count    int    `json:"count"`
	Told     int    `json:"told"`
}

func printIngestJSON(w io.Writer, results []ingest.Result, said *saying) error {
	out := struct {
		Files    []ingest.Result `json:"files"`
		Problems []problemRow    `json:"problems"`
		More     []kindRow       `json:"more_problems,omitempty"`
	}{Files: results, Problems: make([]problemRow, 0, len(said.kept))}
	for _, p := range said.kept {
		out.Problems = append(out.Problems, problemRow{p.Severity.String(), p.Code, record.Shown(p.File), p.Sheet, p.Row, p.Column, p.Value, p.Wrong, p.Right})
	}
	for _, k := range said.kinds {
		if k.count > mostAlike {
			out.More = append(out.More, kindRow{k.of.Severity.String(), k.of.Code, record.Shown(k.of.File), k.of.Sheet, k.of.Column, k.count, mostAlike})
		}
	}
	return printJSON(w, out)
}
