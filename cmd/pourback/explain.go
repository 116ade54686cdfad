package main

import (
	"fmt"
	"path/filepath"

	"pourback/ingest/sheet"
)

// explainFiles shows how files are understood and keeps nothing of them.
func (a *app) explainFiles(paths []string, opt sheet.Options) error {
	for _, path := range paths {
		f, err := sheet.Open(path, opt)
		if err != nil {
			return err
		}
		reading, left := f.Reading(), f.Ignored
		f.Close()
		if a.settings.JSON {
			if err := printJSON(a.stdout, reading); err != nil {
				return err
			}
			continue
		}
		a.printReading(filepath.Base(path), reading, left)
	}
	return nil
}

func (a *app) printReading(name string, r sheet.Reading, left []string) {
	for _, t := range r.Tables {
		fmt.Fprintf(a.stdout, "%s, %s: read as %s\n", name, t.Sheet, t.Table)
		for _, h := range t.Headings {
			sure := ""
			if !h.Sure {
				sure = "?"
			}
			fmt.Fprintf(a.stdout, "  %-24s %s%s  %q\n", h.Heading, h.Column, sure, h.Samples)
		}
	}
	for _, l := range left {
		fmt.Fprintf(a.stdout, "%s: left out: %s\n", name, l)
	}
}
