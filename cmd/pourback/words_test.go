package main

import (
	"html"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// readers are the two ways in which the demo's words are kept: what is read in
// American units and dollars, and what in metric ones and euros.
var readers = []struct{ name, units, currency string }{{"us", "us", "$"}, {"si", "si", "€"}}

// TestWordsOfTheDemo holds what people read of the demo to golden files, on the
// terminal and in the report, so that each sentence that changes is looked at.
func TestWordsOfTheDemo(t *testing.T) {
	golden := goldenFolder(t, "words")
	inDemo(t)
	for _, reader := range readers {
		read := func(args ...string) string {
			r := callWith(t, []string{"POURBACK_CURRENCY=" + reader.currency}, append(args, "--as-of", "2026-03-31", "--units", reader.units)...)
			r.want(t, exitDone)
			return r.stdout
		}
		for _, c := range demoCalls {
			if slices.Contains(c.args, "factors") && len(c.args) > 1 {
				continue // the same pages by another door
			}
			golden.compare(t, c.file+"."+reader.name+".txt", read(c.args...))
		}
		read("report", "--single", "report.html")
		page, err := os.ReadFile("report.html")
		if err != nil {
			t.Fatal(err)
		}
		golden.compare(t, "report."+reader.name+".txt", textOfPage(string(page)))
	}
}

var (
	unread  = regexp.MustCompile(`(?s)<(script|style|svg|head)\b.*?</(?:script|style|svg|head)>|<!--.*?-->`)
	cellEnd = regexp.MustCompile(`\s*</t[dh]>\s*`)
	inCell  = regexp.MustCompile(`</?(?:td|th|br|a|abbr|data|b|bdi|code|em|i|small|span|strong|sub|sup|time|wbr)(?:\s[^>]*)?>`)
	anyTag  = regexp.MustCompile(`<[^>]*>`)
	spoken  = regexp.MustCompile(`<[^>]*\b(?:title|aria-label|alt)="([^"]*)"[^>]*>`)
)

// textOfPage is what a reader of a page reads: a line for each block and each
// row of a table, and for what a tag says where it is pointed at or read aloud.
func textOfPage(page string) string {
	s := strings.Join(strings.Fields(unread.ReplaceAllString(page, "\n")), " ")
	s = spoken.ReplaceAllString(s, "[$1] ")
	s = cellEnd.ReplaceAllString(s, " | ")
	s = inCell.ReplaceAllString(s, "")
	s = html.UnescapeString(anyTag.ReplaceAllString(s, "\n"))
	var lines []string
	for line := range strings.Lines(s) {
		if line = strings.Join(strings.Fields(line), " "); line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n") + "\n"
}
