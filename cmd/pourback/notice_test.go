package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// top is the top of the tree, as seen from this folder.
var top = filepath.Join("..", "..")

// builtFor are the systems that the program is built for: each may need code
// that the others do without.
var builtFor = []string{"linux/amd64", "linux/arm64", "darwin/arm64", "windows/amd64"}

// textName is how the text of a licence, or of a notice that goes with one, is named.
var textName = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice)`)

// notCode are texts about what is no part of the program.
var notCode = []string{"LICENSE-LOGO", "LICENSE-SQLITE_VEC"}

// foreign is somebody's work within the program, and a text that comes with it.
type foreign struct{ name, file, text string }

// TestNotice works out anew what NOTICE must say of the work of others within
// the program: one text for each licence of each module that is linked on any
// system. -update writes it.
func TestNotice(t *testing.T) {
	want := notice(t, linked(t))
	file := filepath.Join(top, "NOTICE")
	if *update {
		if err := os.WriteFile(file, want, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("NOTICE does not tell whose work is in the program; look at what\n  go test ./cmd/pourback -run TestNotice -update\nchanges in it, and keep that")
	}
}

// linked finds the texts in the folders of all packages that are linked, and in
// the folders above them up to the module's own. A module without one fails.
func linked(t *testing.T) (all []foreign) {
	texts := map[string]foreign{}
	for dir, module := range packages(t) {
		found := false
		for at := dir; strings.HasPrefix(at, module.dir); at = filepath.Dir(at) {
			for _, f := range textsIn(t, module, at) {
				texts[filepath.Join(at, f.file)], found = f, true
			}
		}
		if !found {
			t.Errorf("%s has no text of a licence; ask its makers, or do without it", module.path)
		}
	}
	for _, f := range texts {
		all = append(all, f)
	}
	return all
}

type module struct{ path, dir string }

// packages are the folders of all packages of others, with their modules.
func packages(t *testing.T) map[string]module {
	all := map[string]module{}
	for _, system := range builtFor {
		cmd := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}}|{{.Dir}}|{{$.Dir}}{{end}}", ".")
		goos, goarch, _ := strings.Cut(system, "/")
		cmd.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+goarch, "CGO_ENABLED=0")
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(system, ": ", err)
		}
		for line := range strings.Lines(string(out)) {
			if part := strings.Split(strings.TrimSpace(line), "|"); len(part) == 3 && part[0] != "pourback" {
				all[part[2]] = module{part[0], part[1]}
			}
		}
	}
	if len(all) < 20 {
		t.Fatalf("only %d packages of others", len(all))
	}
	return all
}

func textsIn(t *testing.T, m module, dir string) (found []foreign) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	name := m.path + filepath.ToSlash(strings.TrimPrefix(dir, m.dir))
	for _, e := range entries {
		if textName.MatchString(e.Name()) && filepath.Ext(e.Name()) != ".go" && !e.IsDir() && !slices.Contains(notCode, e.Name()) {
			found = append(found, foreign{name, e.Name(), read(t, filepath.Join(dir, e.Name()))})
		}
	}
	return found
}

func read(t *testing.T, file string) string {
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return strings.ReplaceAll(string(b), "\r\n", "\n")
}

// licences tells a licence by words that stand in it and in none before it.
var licences = []struct{ name, words string }{
	{"MIT and Apache-2.0", "covered by two different licenses: MIT and Apache"},
	{"Apache-2.0", "Version 2.0, January 2004"},
	{"Apache-2.0", "licensed under the Apache License, Version 2.0"},
	{"public domain", "dedicated to the public domain"},
	{"BSD 3-Clause", "Neither the name"},
	{"BSD 3-Clause", "may not be used to endorse"},
	{"BSD 2-Clause", "Redistributions in binary form"},
	{"HPND", "for any purpose and without fee is hereby granted"},
	{"MIT", "Permission is hereby granted, free of charge"},
}

// licence names the licence of a text, or says that it is but a notice.
func licence(t *testing.T, f foreign) string {
	if strings.Contains(f.file, "3RD-PARTY") {
		return "several"
	}
	text := strings.Join(strings.Fields(f.text), " ")
	for _, l := range licences {
		if strings.Contains(text, l.words) {
			return l.name
		}
	}
	if strings.HasPrefix(f.file, "NOTICE") {
		return "notice"
	}
	t.Errorf("%s: %s is of no licence that is known here; see whether it goes with Apache-2.0, and add it", f.name, f.file)
	return "unknown"
}

const noticeHead = `pourback
Copyright 2026 the pourback authors

Licensed under the Apache License, Version 2.0; its text is in LICENSE.

The program holds work of others. Each is named here with its licence, and the
texts follow. Written by: go test ./cmd/pourback -run TestNotice -update

`

// notice is the file: who, under what, and each text once.
func notice(t *testing.T, all []foreign) []byte {
	slices.SortFunc(all, func(a, b foreign) int { return strings.Compare(a.name+" "+a.file, b.name+" "+b.file) })
	var list, texts bytes.Buffer
	number := map[string]int{}
	for _, f := range append([]foreign{{"the Go standard library and runtime", "LICENSE", goLicence(t, all)}}, all...) {
		kind, text := licence(t, f), strings.TrimSpace(f.text)
		name := f.name
		if strings.ContainsAny(f.file, "-_") {
			name += " (" + f.file + ")"
		}
		if kind == "Apache-2.0" && strings.Contains(text, "TERMS AND CONDITIONS") && !strings.Contains(text, "Subcomponents") {
			fmt.Fprintf(&list, "%s: %s, text in LICENSE\n", name, kind)
			continue
		}
		if number[text] == 0 {
			number[text] = len(number) + 1
			fmt.Fprintf(&texts, "\n%s\nText %d\n\n%s\n", strings.Repeat("=", 72), number[text], text)
		}
		fmt.Fprintf(&list, "%s: %s, text %d\n", name, kind, number[text])
	}
	return append(append([]byte(noticeHead), list.Bytes()...), texts.Bytes()...)
}

// goLicence is the licence of Go, which its makers' other modules bear too: an
// installed Go may lack the file.
func goLicence(t *testing.T, all []foreign) string {
	for _, f := range all {
		if f.name == "golang.org/x/sys" {
			return f.text
		}
	}
	t.Fatal("golang.org/x/sys is no longer linked; take the licence of Go from another module of its makers")
	return ""
}
