package say

import "pourback/ingest/record"

// What came of what somebody said at the forms for crews.

// EntryBefore is of an entry that has arrived before.
func (s Site) EntryBefore() string { return s.text("This came in before. It is on record.") }

// EntryWrong says what is wrong with a value.
func (s Site) EntryWrong(column, wrong string) string {
	return s.say("{what}: {wrong}", with{"what": s.entryName(column), "wrong": wrong})
}

// EntryProblem says what is wrong with a value that somebody has just written into a form,
// in fewer words than of a row of a file; "" where these will do.
func (s Site) EntryProblem(p record.Problem) string {
	value := with{"value": Clean(p.Value, ShortName)}
	switch p.Code {
	case "missing-value":
		return s.text("fill it in")
	case "amount-unknown":
		return s.text("write the area, or length and width")
	case "not-a-number", "wrong-unit":
		return s.say("“{value}” is no number here; write it like 4.5", value)
	case "not-a-time", "time-without-day", "day-without-time":
		return s.say("“{value}” is no time of day; write 6:30, 6:30am or 18:30", value)
	case "not-a-date", "impossible-date":
		return s.say("“{value}” is no day; write it like 2026-07-14", value)
	case "unknown-word", "not-understood":
		return s.say("“{value}” is not understood", value)
	case "times-out-of-order":
		return s.text("before an earlier time of this truck; check both")
	case "future-load", "future-pour", "future-work", "future-visit":
		return s.text("that lies in the future")
	case "cut-through":
		return s.text("deeper than the slab is thick")
	case "leftover-over-delivered":
		return s.text("more than was delivered")
	}
	return ""
}

// EntryClash says of a value that somebody else wrote otherwise meanwhile.
func (s Site) EntryClash(column, is, yours string) string {
	return s.say("{what}: on record is {is}, you entered {yours}.", with{"what": s.entryName(column), "is": is, "yours": yours})
}

// EntryClashes says what becomes of such values.
func (s Site) EntryClashes() string {
	return s.text("Somebody else wrote it otherwise meanwhile. Both are kept, and the office settles it.")
}
