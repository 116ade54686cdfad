package sheet

import (
	"slices"
	"strings"

	"pourback/ingest/record"
)

// shortsOf finds out what the short words of a column stand for that no key of
// the file explains: where the column's short words among themselves leave one
// reading.
func (u *insight) shortsOf(i int, name string, words *lexicon) map[string]string {
	if !slices.Contains(codedColumns, name) {
		return nil
	}
	var unknown []string
	known := map[string]string{}
	for _, text := range u.cols[i].texts {
		code := codeKey(text)
		if code == "" || isMissingWord(code) {
			continue
		}
		meaning := u.cols[i].codes.of(text)
		if term := termOfColumn(name, words, meaning); term != "" && len(code) <= 2 {
			known[code] = term
		} else if term == "" && len(code) <= 2 && strings.Trim(code, "0123456789") != "" && !slices.Contains(unknown, code) {
			unknown = append(unknown, code)
		}
	}
	if len(known)+len(unknown) < 2 {
		return nil
	}
	return guessCodes(unknown, known, codeWords[name])
}

// codedColumns are those whose words people shorten to a letter or two.
var codedColumns = []string{"use", "method", "joint_cut", "reinforcement"}

// termOfColumn is the term of a column that words mean; those of steel are read
// as they stand.
func termOfColumn(name string, words *lexicon, meaning string) string {
	if meaning == "" {
		return ""
	}
	folded := foldWords(meaning)
	switch name {
	case "use":
		return termIn(words, folded)
	case "method":
		return methodIn(words, folded)
	case "joint_cut":
		if term, ok := words.terms[folded]; ok {
			return term
		}
		var ignored remarks
		if j, ok := parseJoints(meaning, ownUnit(record.Foot), habit{mark: '.'}, &ignored); ok {
			return strings.Join(j.cuts, "+")
		}
		return ""
	}
	if _, ok := parseSteel(meaning, habit{mark: '.'}); ok {
		return meaning
	}
	return ""
}

// codeWords are the words that people shorten, by column, with what each means.
var codeWords = map[string]map[string]string{
	"use": {"driveway": "driveway", "walkway": "walkway", "walk": "walkway", "sidewalk": "walkway", "patio": "patio", "shed": "shed slab", "garage": "garage slab", "apron": "apron", "approach": "apron",
		"curb": "curb", "steps": "steps", "stoop": "steps", "stairs": "steps"},
	"method":        {"chute": "chute", "truck": "chute", "tailgate": "chute", "direct": "chute", "pump": "pump", "boom": "pump", "line": "pump", "buggy": "buggy", "barrow": "barrow", "wheelbarrow": "barrow", "conveyor": "conveyor"},
	"joint_cut":     {"saw": "saw", "cut": "saw", "tooled": "tooled", "hand": "tooled", "groover": "tooled", "green": "early-entry", "early": "early-entry", "softcut": "early-entry", "none": "none"},
	"reinforcement": {"mesh": "mesh", "wire": "mesh", "fiber": "fiber", "rebar": "rebar", "bar": "rebar", "none": "none", "plain": "none", "mesh fiber": "mesh + fiber", "rebar fiber": "rebar + fiber", "steel": "rebar", "sheets": "mesh"},
}

// guessCodes finds what unexplained codes stand for: each can be the words that it
// begins, less those that another code of the column can alone be. What is left
// open stays so.
func guessCodes(codes []string, known, words map[string]string) map[string]string {
	can := map[string][]string{}
	taken := map[string]bool{}
	for _, term := range known {
		taken[term] = true
	}
	for _, code := range codes {
		for word, term := range words {
			if begins(code, word) && !slices.Contains(can[code], term) {
				can[code] = append(can[code], term)
			}
		}
	}
	for range codes {
		for _, code := range codes {
			if len(can[code]) == 1 {
				taken[can[code][0]] = true
				continue
			}
			can[code] = slices.DeleteFunc(can[code], func(term string) bool { return taken[term] })
		}
	}
	found := map[string]string{}
	for code, terms := range can {
		if len(terms) == 1 {
			found[code] = terms[0]
		}
	}
	return found
}

// begins says whether a code is a word's first letters, its first and a later
// consonant, or the first letters of two words.
func begins(code, word string) bool {
	if a, b, two := strings.Cut(word, " "); two {
		return len(code) == 2 && (code == a[:1]+b[:1] || code == b[:1]+a[:1])
	}
	return strings.HasPrefix(word, code) || len(code) == 2 && code[0] == word[0] && strings.IndexByte(word[1:], code[1]) >= 0 && !strings.ContainsAny(code[1:], "aeiou")
}
