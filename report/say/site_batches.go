package say

// Words of what was taken in, and of taking it back.

func (s Site) BatchesTitle() string { return s.text("What was taken in") }
func (s Site) BatchesAnswer(n int) string {
	if n == 0 {
		return s.text("Nothing has been taken in yet.")
	}
	return s.plural(n, "1 batch: a file, a correction or a form.|{n} batches: files, corrections and forms, the latest first.", nil)
}
func (s Site) BatchName(id int64) string { return s.say("Batch {n}", with{"n": Count(int(id))}) }
func (s Site) BatchHead() string         { return s.text("Batch") }
func (s Site) BatchWhen() string         { return s.text("When") }
func (s Site) BatchWho() string          { return s.text("Who") }
func (s Site) BatchFile() string         { return s.text("File") }
func (s Site) BatchState() string        { return s.text("State") }
func (s Site) BatchStands() string       { return s.text("stands") }
func (s Site) BatchUndone() string       { return s.text("undone") }
func (s Site) AtTerminal() string        { return s.text("command line") }

// BatchSays says what a batch brought.
func (s Site) BatchSays(b BatchCounts) string {
	isNew, changed := s.plural(b.New, "1 record is new.|{n} records are new.", nil), s.plural(b.Changed, "1 record was changed.|{n} records were changed.", nil)
	switch {
	case b.New > 0 && b.Changed > 0:
		return s.sentences(isNew, changed)
	case b.New > 0:
		return isNew
	case b.Changed > 0:
		return changed
	case b.Form && b.Aside > 0:
		return s.text("Nothing was changed: somebody else had given other values meanwhile.")
	case b.Form:
		return s.text("Nothing was changed: all of it was on record already.")
	}
	return s.text("No value was changed: it says that values are right.")
}

// BatchCounts are the numbers of a batch; Form of one that was said at a form.
type BatchCounts struct {
	New, Changed, Aside int
	Form                bool
}

// LocalOwner is who sits at the computer itself, where nobody signs in.
const LocalOwner = "owner"

// Person names who did something.
func (s Site) Person(who string) string {
	if who == LocalOwner {
		return s.text("the owner")
	}
	return Clean(who, ShortName)
}

// FormFile is what was said at a form, in place of a file; FormBy with who said it.
func (s Site) FormFile(what string) string {
	return s.say("form: {what}", with{"what": Clean(what, LongName)})
}
func (s Site) FormBy(what, who string) string {
	return s.say("form: {what}, by {who}", with{"what": Clean(what, LongName), "who": s.Person(who)})
}

// BatchUndoneOn says when and by whom it was taken back.
func (s Site) BatchUndoneOn(at, who string) string {
	if who == "" {
		return s.say("Undone on {when}.", with{"when": s.Moment(at)})
	}
	return s.say("Undone on {when} by {who}.", with{"when": s.Moment(at), "who": s.Person(who)})
}
func (s Site) BatchSeeReport() string { return s.text("See your figures") }
func (s Site) BatchNext() string      { return s.text("Add another file") }

// Undoing.
func (s Site) UndoTitle() string { return s.text("Undo it") }

// UndoSays says what taking a batch back would do.
func (s Site) UndoSays(removed, restored int) string {
	switch {
	case removed == 0 && restored == 0:
		return s.text("It changed no record. What it said is right would be open again.")
	case restored == 0:
		return s.plural(removed, "1 record would be removed. Its values stay in the change log.|{n} records would be removed. Their values stay in the change log.", nil)
	case removed == 0:
		return s.plural(restored, "1 record would get back the values it had before.|{n} records would get back the values they had before.", nil)
	}
	return s.sentences(s.plural(removed, "1 record would be removed.|{n} records would be removed.", nil),
		s.plural(restored, "1 would get back the values it had before.|{n} would get back the values they had before.", nil))
}

// UndoNothing says that taking a batch back would change no record.
func (s Site) UndoNothing() string { return s.text("It changed no record.") }
func (s Site) UndoDo() string      { return s.text("Undo this batch") }

// UndoFirst says which batches stand on one, the latest first.
func (s Site) UndoFirst(first []int64) string {
	const most = 6
	var names []string
	for _, id := range first[:min(len(first), most)] {
		names = append(names, Count(int(id)))
	}
	if len(first) > most {
		return s.say("Later batches changed its records. Undo them first, in this order: {batches} and {n} more.", with{"batches": s.List(names), "n": Count(len(first) - most)})
	}
	return s.say("Later batches changed its records. Undo them first, in this order: {batches}.", with{"batches": s.List(names)})
}
func (s Site) UndoElse() string {
	return s.text("This batch cannot be undone now, and nothing was changed.")
}
func (s Site) UndoElseDo() string { return s.text("Open it again to see what stands on it.") }
func (s Site) NoBatch() string    { return s.text("There is no such batch.") }
func (s Site) NoBatchDo() string  { return s.text("Choose one from the list.") }

// Rows to fix later.
func (s Site) AsideTitle() string { return s.text("Rows to fix") }

// AsideSays says of how many rows of a table something is left to do; tab is the
// workbook's, "" where there is none.
func (s Site) AsideSays(tab, table string, n int) string {
	if tab != "" {
		return s.plural(n, "{tab}, {table}: 1 row was set aside, or has a cell left empty.|{tab}, {table}: {n} rows were set aside, or have a cell left empty.",
			with{"tab": Clean(tab, ShortName), "table": s.RecordTable(table)})
	}
	return s.plural(n, "{table}: 1 row was set aside, or has a cell left empty.|{table}: {n} rows were set aside, or have a cell left empty.", with{"table": s.RecordTable(table)})
}

// Values that two people have given differently.
func (s Site) ClashesTitle() string { return s.text("Values to settle") }
func (s Site) ClashesSay() string {
	return s.text("Somebody else had changed these values before this form was sent. What was on record stays, until you use what was entered here.")
}
func (s Site) ClashLine(row, label, now, entered string) string {
	return s.say("{row}, {column}: {now} is on record, {entered} was entered.", with{"row": row, "column": label, "now": now, "entered": entered})
}
func (s Site) ClashesSettled() string {
	return s.text("These values are on record as they were entered.")
}
func (s Site) ClashesDo() string { return s.text("Use what was entered") }

// AsideFirst says that only the first rows are kept.
func (s Site) AsideFirst(n int) string {
	return s.plural(n, "The first one is kept here. The others stand only in your file.|The first {n} are kept here. The others stand only in your file.", nil)
}
func (s Site) AsideDo() string { return s.text("Fix them") }

// Of a batch that was undone.
func (s Site) AsideGone() string { return s.text("This batch was undone meanwhile.") }
func (s Site) AsideUndone() string {
	return s.text("To fix them, hand in the file again.")
}
func (s Site) AsideDone(batches []int64) string {
	var names []string
	for _, id := range batches {
		names = append(names, Count(int(id)))
	}
	return s.say("Fixed rows came in later, as batch {batches}.", with{"batches": s.List(names)})
}

// What a batch changed.
func (s Site) ChangesTitle() string { return s.text("What it changed") }
func (s Site) ChangesMore(n int) string {
	return s.plural(n, "And 1 more.|And {n} more.", nil)
}
func (s Site) ChangeRecord() string { return s.text("Record") }
func (s Site) ChangeColumn() string { return s.text("Value") }
func (s Site) ChangeBefore() string { return s.text("Before") }
func (s Site) ChangeAfter() string  { return s.text("After") }

// ChangeDid says what an entry of the change log did.
func (s Site) ChangeDid(did string) string {
	switch did {
	case "changed":
		return s.text("changed")
	case "confirmed":
		return s.text("said to be right")
	case "mended":
		return s.text("mended before it came in")
	case "removed":
		return s.text("removed")
	}
	return did
}
func (s Site) ChangeKind() string { return s.text("What happened") }
func (s Site) Missing() string    { return s.text("missing") }

// Paging through long lists.
func (s Site) Earlier() string { return s.text("Earlier ones") }
func (s Site) Later() string   { return s.text("Later ones") }
