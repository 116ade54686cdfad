package say

import (
	"maps"
	"slices"
	"strings"
)

// language holds what a language says for each message, which is known by its
// English.
type language struct {
	code     string
	messages map[string]string                // by the English message; what is not in it is said in English
	made     func(english string) string      // makes a message up, in place of messages
	single   func(n int) bool                 // whether so many things are said in the first of two forms
	signs    map[string]string                // signs of units that it writes otherwise, by the English
	ones     map[string]string                // of these signs those that are others behind a 1
	joined   func(words, value string) string // the words before a value, as they are said before it; nil where all are said alike

	unreviewed bool // by anybody who speaks it from home
}

// of is a message in the language.
func (l *language) of(english string) string {
	if l.made != nil {
		return l.made(english)
	}
	if said, ok := l.messages[english]; ok {
		return said
	}
	return english
}

// sign is the sign of a unit, "sq ft", as the language writes it.
func (l *language) sign(english string) string {
	if said, ok := l.signs[english]; ok {
		return said
	}
	return english
}

func oneAlone(n int) bool { return n == 1 }

// languages are those that can be asked for by their code.
var languages = map[string]*language{
	"en": {code: "en", single: oneAlone},
	"es": {code: "es", single: oneAlone, messages: joinedWords(spanish, spanishClock, spanishClockSheet, spanishPapers, spanishWords, spanishFrame, spanishProblems,
		spanishBacktest, spanishBid, spanishBidMoney, spanishBidProblem, spanishBidShape, spanishBids, spanishMoney,
		spanishCallbacks, spanishCracks, spanishCracksMore, spanishCrews, spanishFindings, spanishMargin, spanishPump, spanishSeen, spanishSteel, spanishVisits, spanishWaste, spanishWeather, spanishSite, spanishSiteBids, spanishBidThings,
		spanishColumns, spanishSiteDrop, spanishSiteEntry, spanishSitePours, spanishSiteQueue, spanishSiteRecords, spanishSiteVisit),
		signs: spanishSigns, ones: spanishOnes, joined: beforeInSpanish, unreviewed: true},
}

// pseudo says every message in letters that no English has, between marks. What
// it leaves in plain letters was never handed to it: a test runs every output
// in it.
var pseudo = &language{code: "qps", single: oneAlone, made: disguised}

// joinedWords are all messages of a language, which may be kept in several lists.
func joinedWords(lists ...map[string]string) map[string]string {
	all := map[string]string{}
	for _, l := range lists {
		maps.Copy(all, l)
	}
	return all
}

// languageOf is the language of a code, English where there is none such.
func languageOf(code string) *language {
	if code == pseudo.code {
		return pseudo
	}
	if l, ok := languages[code]; ok {
		return l
	}
	return languages["en"]
}

// languageCodes are the codes that can be asked for, in order.
func languageCodes() []string { return slices.Sorted(maps.Keys(languages)) }

// disguised is a message in other letters, its names in braces and its commands
// between backquotes as they are.
func disguised(english string) string {
	var b strings.Builder
	inName, inCommand := false, false
	for _, r := range english {
		switch {
		case r == '`':
			inCommand = !inCommand
		case r == '{':
			inName = true
		case r == '}':
			inName = false
		case inName || inCommand:
		case r >= 'a' && r <= 'z':
			r += 'ａ' - 'a'
		case r >= 'A' && r <= 'Z':
			r += 'Ａ' - 'A'
		}
		b.WriteRune(r)
	}
	return b.String()
}
