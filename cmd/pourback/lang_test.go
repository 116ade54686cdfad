package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pourback/ingest/store"
)

const unreviewedSpanish = "Traducción sin revisar por hablante nativo."

// TestLanguageOfEveryCommand: each command that shows something to read shows it in
// the language that is set, by flag, environment or settings file, and says once
// that no native speaker has reviewed it.
func TestLanguageOfEveryCommand(t *testing.T) {
	inDemo(t)
	if err := os.WriteFile("es.yaml", []byte("lang: es\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ args, says string }{
		{"factors waste overage", ""}, // no such topic: a usage error, in English
		{"factors overage", "Desperdicio"},
		{"visits", "obras"},
		{"bid bid.yaml --dry-run", "Pedir"},
		{"bids", "cotizaciones"},
		{"backtest", "factores"},
		{"balance --bid 9 --placed-yd 6 --covered 50%", "último viaje"},
	} {
		args := append(strings.Fields(c.args), "--as-of", "2026-03-31")
		if c.says == "" {
			call(t, append(args, "--lang", "es")...).want(t, exitUsage, "no topic", "want one of")
			continue
		}
		byFlag := call(t, append(args, "--lang", "es")...)
		byFlag.want(t, exitDone, c.says)
		if n := strings.Count(byFlag.stdout, unreviewedSpanish); n != 1 {
			t.Errorf("%s says %d times that nobody has reviewed it, want once", c.args, n)
		}
		if byEnv := callWith(t, []string{"POURBACK_LANG=es"}, args...); byEnv.stdout != byFlag.stdout {
			t.Errorf("%s by POURBACK_LANG differs", c.args)
		}
		if byFile := call(t, append(args, "--config", "es.yaml")...); byFile.stdout != byFlag.stdout {
			t.Errorf("%s by the settings file differs", c.args)
		}
		if english := callWith(t, []string{"POURBACK_LANG=es"}, append(args, "--lang", "en")...); strings.Contains(english.stdout, unreviewedSpanish) || english.stdout == byFlag.stdout {
			t.Errorf("%s: the flag does not weigh more than the environment", c.args)
		}
	}
}

// TestFilesInSpanish: reports, letters, workbooks, sheets and calendars follow the
// language too, and so does what says where they are.
func TestFilesInSpanish(t *testing.T) {
	inDemo(t)
	es := []string{"--as-of", "2026-03-31", "--lang", "es"}
	call(t, append([]string{"report", "--out", "reporte", "--letter", "carta.html", "--xlsx", "tablas.xlsx"}, es...)...).want(t, exitDone, "El reporte está en", "La carta está en", "Las tablas están en")
	call(t, append([]string{"bid", "bid.yaml", "--dry-run", "--out", "bid.html", "--pour-day", "dia.html"}, es...)...).want(t, exitDone, "La hoja de costos está en", "La hoja del día del colado está en", "A dry run")
	call(t, append([]string{"visits", "--ics", "visitas.ics"}, es...)...).want(t, exitDone, "Wrote")
	for _, file := range []string{"reporte/index.html", "reporte/waste.html", "reporte/bids.html", "carta.html", "bid.html", "dia.html"} {
		text, err := os.ReadFile(filepath.FromSlash(file))
		if err != nil {
			t.Error(err)
		}
		for _, says := range []string{`<html lang="es">`, unreviewedSpanish} {
			if n := strings.Count(string(text), says); n != 1 {
				t.Errorf("%s has %q %d times, want once", file, says, n)
			}
		}
	}
	call(t, append([]string{"demo", "--jobs", "20", "--dir", "demostracion"}, es...)...).want(t, exitDone, "sus registros son inventados", "Su próxima cotización: Pedir", unreviewedSpanish, "Invented 20 jobs")
	if ics, err := os.ReadFile("visitas.ics"); err != nil || !strings.Contains(string(ics), "SUMMARY:Ver ") && !strings.Contains(string(ics), "SUMMARY:Revisar ") {
		t.Errorf("the calendar is not in Spanish (%v): %.400s", err, ics)
	}
}

func TestUnknownLanguage(t *testing.T) {
	inFolder(t, map[string]string{"fr.yaml": "lang: fr\n"})
	for _, c := range [][]string{{"factors", "--lang", "fr"}, {"demo", "--lang", "spanish"}, {"config", "--config", "fr.yaml"}} {
		call(t, c...).want(t, exitUsage, "lang is ", "want one of en, es")
	}
	callWith(t, []string{"POURBACK_LANG=ES"}, "config").want(t, exitUsage, `lang is "ES" by environment POURBACK_LANG: want one of en, es`)
	call(t, "bid", "--use", "patio", "--length", "9000", "--width", "9000", "--thickness", "4", "--lang", "es").want(t, exitFailed, "no bid can be made", "more than any job has; at most 5,000")
	callWith(t, []string{"POURBACK_LANG=es"}, "config").want(t, exitDone, "environment POURBACK_LANG", "language of what is read")
}

// TestNumbersAreTheSameInEveryLanguage: of the JSON only sentences follow the
// language, and a bid is kept alike whatever it was read in.
func TestNumbersAreTheSameInEveryLanguage(t *testing.T) {
	inDemo(t)
	for _, c := range demoCalls {
		english, spanish := jsonOf(t, c.args, "us"), jsonOf(t, append(slices.Clone(c.args), "--lang", "es"), "us")
		if scalars(english, isNumber) != scalars(spanish, isNumber) {
			t.Errorf("%v: the numbers or keys of the JSON change with the language", c.args)
		}
	}
	for _, lang := range []string{"en", "es"} {
		call(t, "bid", "bid.yaml", "--as-of", "2026-03-31", "--lang", lang).want(t, exitDone)
	}
	st, err := store.Open(t.Context(), "pourback.db", store.Options{Existing: true})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	all, err := st.Bids(t.Context())
	if err != nil || len(all) < 2 {
		t.Fatal(len(all), "bids", err)
	}
	english, err1 := st.Bid(t.Context(), all[len(all)-2].ID)
	spanish, err2 := st.Bid(t.Context(), all[len(all)-1].ID)
	if err1 != nil || err2 != nil || english.Result != spanish.Result || english.Factors != spanish.Factors {
		t.Errorf("a bid made in Spanish is kept otherwise than in English: %v, %v", err1, err2)
	}
}

// TestSpanishOfTheDemo holds what is read in Spanish on the terminal, and one page,
// to golden files.
func TestSpanishOfTheDemo(t *testing.T) {
	golden := goldenFolder(t, "words")
	inDemo(t)
	es := []string{"--as-of", "2026-03-31", "--lang", "es"}
	for _, c := range demoCalls[3:] {
		r := call(t, append(slices.Clone(c.args), es...)...)
		r.want(t, exitDone)
		golden.compare(t, c.file+".es.txt", r.stdout)
	}
	call(t, append([]string{"report"}, es...)...).want(t, exitDone)
	page, err := os.ReadFile(filepath.Join("report", "month.html"))
	if err != nil {
		t.Fatal(err)
	}
	golden.compare(t, "month.es.txt", textOfPage(string(page)))
}
