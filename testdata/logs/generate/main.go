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
	"fmt"
	"os"
	"path/filepath"
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

func writeAll(folder string) error {
	jobs := jobsOfA()
	a, b, c := officeBook(jobs), bilingualLog(), tabsBySeason()
	h, i := oldDatabase(), threeTabs()
	loads, statement := plantStatement(jobs)
	costs, ledger := costLedger(jobs)
	at := func(name string) string { return filepath.Join(folder, name) }
	for _, write := range []func() error{
		func() error { return a.spoiled(3) },
		func() error { return b.spoiled(2) },
		func() error { return c.spoiled(2) },
		func() error { return h.spoiled(1) },
		func() error { return i.spoiled(1) },
		func() error { return writeXLSX(at("a-office-book.xlsx"), a.sheets) },
		func() error { return writeJSON(at("a-office-book.truth.json"), a.truth) },
		func() error { return writeCSV(at("b-bitacora.csv"), b.sheets[0].rows, ',', true) },
		func() error { return writeJSON(at("b-bitacora.truth.json"), b.truth) },
		func() error { return writeXLSX(at("c-by-season.xlsx"), c.sheets) },
		func() error { return writeJSON(at("c-by-season.truth.json"), c.truth) },
		func() error { return writeCSV(at("h-pourfile.csv"), h.sheets[0].rows, '\t', false) },
		func() error { return writeJSON(at("h-pourfile.truth.json"), h.truth) },
		func() error { return writeXLSX(at("i-three-tabs.xlsx"), i.sheets) },
		func() error { return writeJSON(at("i-three-tabs.truth.json"), i.truth) },
		func() error { return writeCSV(at("plant-statement.csv"), statement, ',', false) },
		func() error { return writeJSON(at("plant-statement.loads.json"), loads) },
		func() error { return writeCSV(at("ledger.csv"), ledger, ',', false) },
		func() error { return writeJSON(at("ledger.costs.json"), costs) },
	} {
		if err := write(); err != nil {
			return err
		}
	}
	return nil
}

func writeJSON(path string, v any) error {
	text, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(path, append(text, '\n'), 0o644)
}
