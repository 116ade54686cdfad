package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// mostRounds bounds how often a file is looked at anew: an answer about one
// heading may raise a doubt about another.
const mostRounds = 4

// ask shows how a file is understood, before anything of it is kept, and asks
// about what is not sure. A file in the record form is taken as it is.
func (u *understanding) ask(a *app, path string) error {
	left := map[string]bool{} // asked about, and left open
	for range mostRounds {
		r := a.readings([]string{path}, u.options(a))[0]
		if r.err != nil || len(left) == 0 && ingest.SelfEvident(r.Reading) {
			return nil // what is wrong with the file is said when it is taken in
		}
		open := slices.DeleteFunc(ingest.Questions(r.Reading), func(q ingest.Question) bool { return left[q.Key()] })
		if len(left) == 0 || len(open) > 0 {
			printReading(a.stderr, r)
		}
		if len(open) == 0 {
			return nil
		}
		for i, q := range open {
			answer, settled, err := question{q}.put(a, i+1, len(open))
			if err != nil {
				return err
			}
			left[q.Key()] = true
			if settled {
				u.said = slices.Insert(u.said, 0, answer)
			}
		}
	}
	return nil
}

// question is one that is put to a person.
type question struct{ ingest.Question }

// put puts the question until the answer is one. It is not settled where the
// person leaves it open.
func (q question) put(a *app, n, of int) (answer sheet.Answer, settled bool, err error) {
	choices := q.Offers()
	fmt.Fprintf(a.stderr, "\nQuestion %d of %d: what is %q (%s)?\n", n, of, record.Shown(q.Heading), samplesOf(q.HeadingReading))
	for i, c := range choices {
		fmt.Fprintf(a.stderr, "  %d  %-20s %s\n", i+1, meansText(c), docOf(c))
	}
	for {
		fmt.Fprintf(a.stderr, "Number or column; Enter leaves it out this time; q stops and keeps nothing: ")
		line, err := a.readLine()
		if err != nil && !errors.Is(err, io.EOF) {
			return answer, false, err
		}
		switch line = strings.TrimSpace(line); {
		case line == "":
			return answer, false, nil
		case strings.EqualFold(line, "q"):
			return answer, false, errors.New("stopped: nothing was kept")
		}
		column := line
		if i, err := strconv.Atoi(line); err == nil {
			if i < 1 || i > len(choices) {
				fmt.Fprintf(a.stderr, "There are choices 1 to %d.\n", len(choices))
				continue
			}
			column = choices[i-1]
		} else if answer, err := sheet.ParseAnswer("x=" + line); err != nil {
			fmt.Fprintf(a.stderr, "%v\n", err)
			continue
		} else {
			column = answer.Column
		}
		if answer, fits := q.Answer(column); fits {
			return answer, true, nil
		}
		fmt.Fprintf(a.stderr, "%s is no column of %s, which this is read as.\n", column, q.Table)
	}
}

// readLine reads a line of standard input, byte by byte, so that none of what
// follows is lost.
func (a *app) readLine() (string, error) {
	var line []byte
	for b := make([]byte, 1); len(line) < 1000; {
		n, err := a.stdin.Read(b)
		if n > 0 && b[0] == '\n' {
			return string(line), nil
		}
		line = append(line, b[:n]...)
		if err != nil {
			return string(line), err
		}
	}
	return string(line), nil
}
