package sheet

import (
	"fmt"
	"strings"
	"time"

	"pourback/ingest/record"
)

// yearlessDay is a day of which only month and day are said.
type yearlessDay struct{ month, day int }

// dayWithin finds a day without its year among the words of a call.
var dayWithin = patternOf(`(?:^|[ ,;:(-])(\d{1,2}) ?/ ?(\d{1,2})(?:$|[ ,;:)-])`)

// inchesBehind finds what makes a fraction of inches of it.
var inchesBehind = patternOf(`^\s*(?:in\b|inch)`)

// callWithoutYear takes a day without its year out of what a cell says about a
// call, to wait for the day of the pour: a call is the first such day behind it.
// Fractions beside inches are none, and a cell with another date says it itself.
func (r *cellReader) callWithoutYear(text string, cal calendar) (rest string, found bool) {
	s := plainSigns(text)
	at := dayWithin.FindAllStringSubmatchIndex(s, 2)
	if len(at) != 1 || inchesBehind.MatchString(s[at[0][1]:]) || dateWithin.MatchString(s) || !r.loose || r.table != record.Placements {
		return text, false
	}
	month, day := atoi(submatch(s, at[0], 1)), atoi(submatch(s, at[0], 2))
	if cal.dayFirst {
		month, day = day, month
	}
	if month < 1 || month > 12 || day < 1 || day > 31 {
		return text, false
	}
	rest = strings.TrimSpace(s[:at[0][0]] + " " + s[at[0][1]:])
	if words := moneyWithin.ReplaceAllString(rest, " "); foundIn(words) == "" || foundIn(words) == "sound" {
		return text, false // 1/2 or 5/8 alone
	}
	r.scratch.called = yearlessDay{month, day}
	return rest, true
}

// deriveCall gives a call its year: that of the first such day behind the pour.
func (r *cellReader) deriveCall(p *record.Placement) {
	c := r.scratch.called
	if c.month == 0 || p.CallbackOn != 0 {
		return
	}
	written := fmt.Sprintf("%d/%d", c.month, c.day)
	if p.PlacedOn == 0 {
		r.problems = append(r.problems, r.leaveEmpty(record.Problem{Code: codeNotDate, Column: "callback_on", Value: written, Wrong: "a day without its year", Right: "write the whole date, such as 2025-06-03"}))
		return
	}
	for y := p.PlacedOn.Time().Year(); y <= p.PlacedOn.Time().Year()+1; y++ {
		if !record.ValidDate(y, time.Month(c.month), c.day) {
			continue
		}
		if on := record.DateOf(y, time.Month(c.month), c.day); on > p.PlacedOn {
			p.CallbackOn = on
			r.problems = append(r.problems, record.Problem{Severity: record.Warning, Code: codeYearLeftOut, Column: "callback_on", Value: written, Wrong: "a day without its year", Right: "read as " + on.String() + ", the first behind the pour"})
			return
		}
	}
}

// notOurs finds what makes it doubtful that the call was about this slab.
var notOurs = patternOf(`\?|\b(?:next door|neighbou?r|(?:not?|none of|n't) (?:our|ours)|old (?:slab|walk|drive)|existing|before we)\b`)

// readNote keeps a note as it is written. Where the log has no column for calls
// back, a note that plainly tells of one is listened to: they called us back
// 7/4/25 for a crack.
func (r *cellReader) readNote(c *column, field any, text string) {
	r.readKind(c, field, text)
	if own := r.table.Index("callback_on"); own < len(r.own) && r.own[own] {
		return
	}
	s := plainSigns(text)
	at := dateWithin.FindAllStringIndex(s, 2)
	if lower := strings.ToLower(s); len(at) != 1 || !called.MatchString(lower[:at[0][0]]) || notOurs.MatchString(lower) {
		return
	}
	var ignored remarks
	if cb, _, ok := parseCallback(text, c.cal, r.habit, &ignored); ok && cb.on != 0 && cb.kind != "" {
		r.scratch.told = cb
	}
}

// deriveTold takes up the call that a note tells of, if it came after the pour.
func (r *cellReader) deriveTold(p *record.Placement) {
	cb := r.scratch.told
	if cb.on <= p.PlacedOn || p.PlacedOn == 0 || p.CallbackOn != 0 {
		return
	}
	p.CallbackOn, p.CallbackKind = cb.on, cb.kind
	if cb.cost.OK && !p.CallbackCost.OK {
		p.CallbackCost = cb.cost
	}
}
