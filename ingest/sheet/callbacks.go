package sheet

import (
	"regexp"
	"strings"

	"pourback/ingest/record"
)

// callback is what a cell says about a call back: crack 8/12/25, 4/3/25 - crack,
// yes - scaling, no.
type callback struct {
	on   record.Date
	kind string
	none bool // nobody called
	yes  bool // somebody did
}

var (
	noCallback  = regexp.MustCompile(`^(?:n|no|none|nope|never|nil|0|nada|ninguno|ninguna|no callbacks?|no calls?|ok|all good|good|clean|so far so good|not yet|no issues?|no problems?|n/a|sin quejas?|bien)$`)
	yesCallback = regexp.MustCompile(`^(?:y|yes|si|x|1|called|yep)$`)
	dateWithin  = regexp.MustCompile(`(?i)\d{4}-\d{1,2}-\d{1,2}|\b\d{1,2}([-/.])\d{1,2}[-/.](?:\d{4}|\d{2})\b|\b(?:jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec|ene|abr|ago|dic)[a-z]*\.? \d{1,2}(?:st|nd|rd|th)?,? '?(?:\d{4}|\d{2})\b|\b\d{1,2}[- ](?:jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec|ene|abr|ago|dic)[a-z]*\.?[-, ]+'?(?:\d{4}|\d{2})\b`)
)

// dateInside finds the one date that stands among other words, and what is left
// of them.
func dateInside(text string, cal calendar) (record.Date, string, bool) {
	at := dateWithin.FindAllStringIndex(text, 2)
	if len(at) != 1 {
		return 0, "", false
	}
	var ignored remarks
	d, ok := parseDay(text[at[0][0]:at[0][1]], cal, &ignored)
	return d.date, strings.Trim(text[:at[0][0]]+" "+text[at[0][1]:], " -–:,;()."), ok
}

// parseCallback is false where a cell says nothing that can be understood.
func parseCallback(text string, cal calendar, say *remarks) (c callback, either, ok bool) {
	s := strings.TrimSpace(plainSigns(text))
	folded := strings.ToLower(s)
	if noCallback.MatchString(folded) {
		return callback{none: true}, false, true
	}
	if yesCallback.MatchString(folded) {
		return callback{yes: true}, false, true
	}
	words := s
	if at := dateWithin.FindAllStringIndex(s, 2); len(at) == 1 {
		d, ok := parseDay(s[at[0][0]:at[0][1]], cal, say)
		if !ok {
			return callback{}, false, false
		}
		c.on, c.yes, either = d.date, true, d.either
		words = strings.Trim(s[:at[0][0]]+" "+s[at[0][1]:], " -–:,;().")
	} else if len(at) == 0 {
		var ignored remarks
		if d, ok := parseDay(s, cal, &ignored); ok {
			*say = append(*say, ignored...)
			return callback{on: d.date, yes: true}, d.either, true
		}
	} else {
		return callback{}, false, false // two dates: which was the call is not said
	}
	if words == "" {
		return c, either, true
	}
	c.kind = foundIn(words)
	if c.kind == "sound" {
		c.kind = ""
	}
	c.yes = c.yes || c.kind != ""
	return c, either, c.on != 0 || c.kind != ""
}
