package say

// What came of what somebody said at the forms for crews.

// EntryBefore is of an entry that has arrived before.
func (s Site) EntryBefore() string { return s.text("This came in before. It is on record.") }

// EntryWrong says what is wrong with a value.
func (s Site) EntryWrong(column, wrong string) string {
	return s.say("{what}: {wrong}", with{"what": s.entryName(column), "wrong": wrong})
}

// EntryClash says of a value that somebody else wrote otherwise meanwhile.
func (s Site) EntryClash(column, is, yours string) string {
	return s.say("{what}: on record is {is}, you entered {yours}.", with{"what": s.entryName(column), "is": is, "yours": yours})
}

// EntryClashes says what becomes of such values.
func (s Site) EntryClashes() string {
	return s.text("Somebody else wrote it otherwise meanwhile. Both are kept, and the office settles it.")
}
