// Command generate writes the invented job logs and papers of testdata/logs, each with its truth beside it.
//
// Log and truth come of the same invented facts (facts.go); each owner's file (log_a.go, log_b.go and so on) holds
// that owner's habits and says, cell by cell, what an attentive clerk reads. The seeds are fixed: a second run writes
// the same logs. Everything is invented: jobs, people, firms and prices.
//
//	go run ./testdata/logs/generate testdata/logs
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: generate FOLDER")
		os.Exit(2)
	}
	if err := writeAll(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// A log is one owner's, with how it is saved and how many of its rows nobody could use.
type log struct {
	name string
	*book
	unusable int
	save     func(path string, sheets []*sheet) error
}

func writeAll(folder string) error {
	jobs := jobsOfA()
	for _, l := range []log{
		{"a-office-book.xlsx", officeBook(jobs), 3, writeXLSX},
		{"b-bitacora.csv", bilingualLog(), 2, parted(',', true)},
		{"c-by-season.xlsx", tabsBySeason(), 2, writeXLSX},
		{"d-tab-a-crew.xlsx", tabsByCrew(), 1, writeXLSX},
		{"e-few-letters.csv", fewLetters(), 1, writeSemicolons},
		{"f-accounts.xlsx", accountsBook(), 1, writeXLSX},
		{"g-metric-years.xlsx", metricYears(), 1, writeXLSX},
		{"h-pourfile.csv", oldDatabase(), 1, parted('\t', false)},
		{"i-three-tabs.xlsx", threeTabs(), 1, writeXLSX},
		{"j-office-form.xlsx", officeForm(), 1, writeXLSX},
		{"k-phone-notes.csv", phoneNotes(), 1, parted(',', false)},
		{"l-jan-to-dec.xlsx", tabsByMonth(), 1, writeXLSX},
	} {
		if err := l.write(folder); err != nil {
			return err
		}
	}
	return writePapers(folder, jobs)
}

func (l log) write(folder string) error {
	if err := l.spoiled(l.unusable); err != nil {
		return err
	}
	path := filepath.Join(folder, l.name)
	if err := l.save(path, l.sheets); err != nil {
		return err
	}
	return writeJSON(strings.TrimSuffix(path, filepath.Ext(path))+".truth.json", l.truth)
}

// parted saves a log's one sheet as text.
func parted(comma rune, mark bool) func(string, []*sheet) error {
	return func(path string, sheets []*sheet) error { return writeCSV(path, sheets[0].rows, comma, mark) }
}

func writePapers(folder string, jobs []*job) error {
	loads, statement := plantStatement(jobs)
	costs, ledger := costLedger(jobs)
	at := func(name string) string { return filepath.Join(folder, name) }
	return errors.Join(
		writeCSV(at("plant-statement.csv"), statement, ',', false),
		writeJSON(at("plant-statement.loads.json"), loads),
		writeCSV(at("ledger.csv"), ledger, ',', false),
		writeJSON(at("ledger.costs.json"), costs))
}

func writeJSON(path string, v any) error {
	text, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(path, append(text, '\n'), 0o644)
}
