package sheet

import (
	"strings"

	"pourback/ingest/record"
)

// callback is what a cell says about a call back: crack 8/12/25, 4/3/25 - crack,
// yes - scaling, no, Called Aug 12 2023, crack clear across. Cost us $575.
type callback struct {
	on   record.Date
	kind string
	cost record.Money
	none bool // nobody called
	yes  bool // somebody did
}

var (
	noCallback  = patternOf(`^(?:n|no|none|nope|never|nil|0+|00/00/0+|nada|ninguno|ninguna|no callbacks?|no calls?|ok|all good|good|clean|so far so good|not yet|no issues?|no problems?|n/a|sin quejas?|bien|not? (?:a )?peep|quiet|happy|nothing|fine|sound|no complaints?|never called|not once|not so far|(?:none|nil|nothing|zero) (?:so far|yet|to date)|no (?:crack|problem|complaint|issue)s?(?: (?:so far|yet|to date))?)$`)
	yesCallback = patternOf(`^(?:y|yes|si|x|1|called|yep)$`)
	dateWithin  = patternOf(`(?i)\d{4}-\d{1,2}-\d{1,2}|\b\d{1,2}([-/.])\d{1,2}[-/.](?:\d{4}|\d{2})\b|\b(?:jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec|ene|abr|ago|dic)[a-z]*\.? \d{1,2}(?:st|nd|rd|th)?,? '?(?:\d{4}|\d{2})\b|\b\d{1,2}[- ](?:jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec|ene|abr|ago|dic)[a-z]*\.?[-, ]+'?(?:\d{4}|\d{2})\b`)
	contented   = patternOf(`\b(?:thanks?|thank you|happy|no (?:problems?|issues?|complaints?|calls?|callbacks?|trouble|worries)|peep|compliment\w*|all good|looks? (?:good|great)|satisfied|pleased|loves? it|just to say|never called|nobody called|did(?: not|n't) call|has(?: not|n't) called|wants? (?:a )?(?:quote|price|bid|another)|referr(?:al|ed))\b`)
	called      = patternOf(`\b(?:call(?:ed)?(?: us)?(?: back)?(?: in)?|phoned|rang|complain(?:ed|t)|reported|llamo|llamaron)\b[^\d]{0,12}$`)
	laterOn     = patternOf(`\b(?:fix(?:ed)?|repair(?:ed)?|patch(?:ed)?|ground|grind|done|went (?:back|out)|came back|replaced?|caulked|sealed|paid|again|visit(?:ed)?|looked)\b[^\d]{0,12}$`)
	pouredOn    = patternOf(`\b(?:pour(?:ed)?|placed)\b[^\d]{0,8}$`)
	moneyWithin = patternOf(`[$€£]\s*\d[\d,]*(?:\.\d{1,2})?k?\b|\bcost(?:ing)?(?: us)?:? \d[\d,]*(?:\.\d{1,2})?\b|\b\d[\d,]*(?:\.\d{1,2})? (?:dollars|bucks)\b`)
	moneyFigure = patternOf(`\d[\d,]*(?:\.\d{1,2})?k?`)
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
func parseCallback(text string, cal calendar, h habit, say *remarks) (c callback, either, ok bool) {
	s := strings.TrimSpace(plainSigns(text))
	folded := strings.TrimRight(strings.ToLower(s), ".! ")
	if noCallback.MatchString(folded) {
		return callback{none: true}, false, true
	}
	if yesCallback.MatchString(folded) {
		return callback{yes: true}, false, true
	}
	at := dateWithin.FindAllStringIndex(s, 8)
	if len(at) == 0 {
		var ignored remarks
		if d, ok := parseDay(s, cal, &ignored); ok {
			*say = append(*say, ignored...)
			return callback{on: d.date, yes: true}, d.either, true
		}
	}
	words := moneyWithin.ReplaceAllString(dateWithin.ReplaceAllString(s, " "), " ")
	if c.kind = foundIn(words); c.kind == "sound" {
		if len(at) == 0 {
			return callback{none: true}, false, true
		}
		c.kind = ""
	}
	if c.kind == "" && contented.MatchString(strings.ToLower(words)) {
		return callback{none: true}, false, true
	}
	d, ok := firstCall(s, at, cal, say)
	if !ok {
		return callback{}, false, false
	}
	c.on, c.yes = d.date, d.date != 0 || c.kind != ""
	c.cost = costWithin(s, h)
	return c, d.either, c.yes
}

// firstCall is the day of the first call that a sentence tells of, zero for none.
// It is false where that is not said.
func firstCall(s string, at [][]int, cal calendar, say *remarks) (first day, ok bool) {
	lower := strings.ToLower(s)
	before := 0
	var days, calls []day
	for _, p := range at {
		lead := lower[before:p[0]]
		before = p[1]
		if len(at) > 1 && (pouredOn.MatchString(lead) || laterOn.MatchString(lead)) {
			continue
		}
		d, ok := parseDay(s[p[0]:p[1]], cal, say)
		if !ok {
			return day{}, false
		}
		days = append(days, d)
		if called.MatchString(lead) {
			calls = append(calls, d)
		}
	}
	if len(calls) > 0 {
		days = calls
	}
	for i, d := range days {
		if i == 0 || d.date < first.date {
			first = d
		}
	}
	return first, len(days) > 0 || len(at) == 0
}

// costWithin is the one amount of money that a sentence names.
func costWithin(s string, h habit) record.Money {
	found := moneyWithin.FindAllString(strings.ToLower(s), 3)
	if len(found) != 1 {
		return record.Money{}
	}
	var ignored remarks
	v, ok := parseAmount(moneyFigure.FindString(found[0]), h, &ignored)
	return record.Money{V: v, OK: ok}
}

func (r *cellReader) readCallback(c *column, field any, text string) {
	f := field.(*record.Date)
	*f = 0
	if isMissingWord(strings.ToLower(plainSigns(text))) {
		return
	}
	text, undated := r.callWithoutYear(text, c.cal)
	cb, either, ok := parseCallback(text, c.cal, r.habit, &r.say)
	if !ok {
		if !r.say.failed() {
			r.say.fail(codeNotDate, "not a call back that is understood", "write its day and kind, such as crack 8/12/2025, or no")
		}
		return
	}
	r.countAmbiguous(either && cb.on != 0)
	*f = cb.on
	if cb.kind != "" {
		r.spill("callback_kind", setText(cb.kind))
	}
	if cb.cost.OK {
		r.spill("callback_cost", func(field any) { *field.(*record.Money) = cb.cost })
	}
	if cb.yes && cb.on == 0 && undated {
		r.spilled = true
		return
	}
	if cb.yes && cb.on == 0 {
		r.say.fail(codeNotDate, "a call back without its day", "write its day, such as crack 8/12/2025")
	}
}
