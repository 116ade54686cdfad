package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// explainFiles shows how files are understood and keeps nothing of them. It
// fails where one cannot be read, once it has shown the others.
func (a *app) explainFiles(readings []fileReading) (err error) {
	for _, r := range readings {
		switch {
		case r.err != nil:
			a.environment.complain(r.err)
			err = errSaid
		case a.settings.JSON:
			if err := printJSON(a.stdout, r.Reading); err != nil {
				return err
			}
		default:
			printReading(a.stdout, r)
		}
	}
	return err
}

// printReading is the page that shows what each heading is taken for, with
// values from below it. Sheets with the same headings are shown once.
func printReading(w io.Writer, r fileReading) {
	name := record.Shown(filepath.Base(r.path))
	for _, t := range ingest.AlikeTables(r.Reading) {
		where := ""
		if len(t.Sheets) > 0 {
			where = " (" + record.Shown(strings.Join(t.Sheets, ", ")) + ")"
		}
		fmt.Fprintf(w, "%s%s is read as %s:\n", name, where, t.Table)
		printHeadings(w, t.TableReading)
	}
	for _, why := range r.ignored {
		fmt.Fprintf(w, "%s: not used: %s\n", name, record.Shown(why))
	}
}

func printHeadings(w io.Writer, t sheet.TableReading) {
	wide := 0
	for _, h := range t.Headings {
		wide = max(wide, min(28, len([]rune(record.Shown(h.Heading)))))
	}
	for _, h := range t.Headings {
		means, mark := h.Column, " "
		switch {
		case !h.Sure:
			mark, means = "?", couldBe(h)
		case means == "":
			means = "(not used)"
		}
		fmt.Fprintf(w, "%s %-*s  %-22s  %s\n", mark, wide, record.Shown(h.Heading), means, samplesOf(h))
	}
}

// couldBe names what a doubtful heading may be.
func couldBe(h sheet.HeadingReading) string {
	var could []string
	for _, c := range h.Choices {
		if c != "" {
			could = append(could, c)
		}
	}
	if len(could) == 0 {
		return "(what is it?)"
	}
	return strings.Join(could, " or ") + "?"
}

func samplesOf(h sheet.HeadingReading) string {
	var shown []string
	for _, s := range h.Samples {
		r := []rune(record.Shown(s))
		if len(r) > 24 {
			r = append(r[:23], '…')
		}
		shown = append(shown, string(r))
	}
	return strings.Join(shown, " · ")
}
