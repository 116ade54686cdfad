package say

import (
	"time"

	"pourback/ingest/record"
)

// Words of handing a file in, of looking it over and of keeping it.

func (s Site) DropAnswer() string {
	return s.text("Hand in your job log as it is: CSV or XLSX. You see how it was read before anything is kept.")
}
func (s Site) DropLabel() string  { return s.text("Drop the file here, or choose it") }
func (s Site) DropDo() string     { return s.text("Read it") }
func (s Site) DropBusy() string   { return s.text("Reading the file…") }
func (s Site) DropNoFile() string { return s.text("No file was chosen.") }
func (s Site) DropNoFileDo() string {
	return s.text("Choose one CSV or XLSX file, then press the button again.")
}
func (s Site) DropOneFile() string { return s.text("More than one file came in at once.") }
func (s Site) DropOneFileDo() string {
	return s.text("Hand them in one after the other, jobs before loads and costs.")
}
func (s Site) DropNotYet() string { return s.text("The file cannot be read, so nothing was kept.") }
func (s Site) DropFull() string   { return s.text("Too many files wait to be kept.") }
func (s Site) DropFullDo() string { return s.text("Keep or drop the files that wait, then try again.") }
func (s Site) NoRoom() string     { return s.text("The disk is full, so nothing was kept.") }
func (s Site) NoRoomDo() string {
	return s.text("Make room on the disk that holds the records, then send the form again.")
}
func (s Site) DropGone() string {
	return s.text("This file does not wait any more: it was kept, dropped, or left for too long.")
}
func (s Site) DropGoneDo() string {
	return s.text("Look at what was taken in, or hand the file in again.")
}
func (s Site) DropElse() string {
	return s.text("Somebody else has answered about this file meanwhile. Your answers were not kept.")
}
func (s Site) DropElseDo() string { return s.text("Open the file again and look at it as it is now.") }

// DropTooLarge says it before the file is sent at all.
func (s Site) DropTooLarge(most int64) string {
	return s.say("The file is over {most} MB. Split it, by year for instance.", with{"most": Count(int(most >> 20))})
}

// The files that wait.
func (s Site) WaitTitle() string { return s.text("Not kept yet") }
func (s Site) WaitSays(days int) string {
	return s.plural(days, "Files read and not kept. After 1 day without a touch they are dropped.|Files read and not kept. After {n} days without a touch they are dropped.", nil)
}
func (s Site) WaitSince(at, who string) string {
	return s.say("{when}, by {who}", with{"when": at, "who": s.Person(who)})
}
func (s Site) DropIt() string     { return s.text("Drop it") }
func (s Site) SeeBatches() string { return s.text("What was taken in so far") }

// Moment is a moment, kept in UTC, by the clock of the voice's zone.
func (s Site) Moment(at string) string {
	t, utc, err := s.thereAt(at)
	if err != nil {
		return Clean(at, ShortName)
	}
	if utc {
		return s.say("{day}, {time} UTC", with{"day": s.Day(record.DayOf(t)), "time": t.Format("15:04")})
	}
	return s.say("{day}, {time}", with{"day": s.Day(record.DayOf(t)), "time": t.Format("15:04")})
}

// thereAt is a moment as the database holds it, by the clock on the wall there; utc says
// that nobody has said which zone that is in.
func (s Site) thereAt(at string) (t time.Time, utc bool, err error) {
	t, err = time.Parse("2006-01-02T15:04:05Z", at)
	if err != nil || s.Zone == nil || s.Zone == time.UTC {
		return t, true, err
	}
	return t.In(s.Zone), false, nil
}

// Looking a file over.

// LookAnswer says what would come of a file: how many rows are new or changed or on
// record as they are, and how many are to be fixed.
func (s Site) LookAnswer(in, same, fix, asked int) string {
	first := s.plural(in, "1 row is ready to come in.|{n} rows are ready to come in.", nil)
	if in == 0 && same > 0 {
		first = s.plural(same, "1 row is on record already.|{n} rows are on record already.", nil)
	}
	switch {
	case in == 0 && same > 0 && asked+fix == 0:
		return s.plural(same, "The one row of this file is on record already.|All {n} rows of this file are on record already.", nil)
	case asked > 0:
		return s.sentences(first, s.plural(asked, "1 heading is not clear yet.|{n} headings are not clear yet.", nil))
	case fix > 0:
		return s.sentences(first, s.plural(fix, "1 row needs a fix.|{n} rows need a fix.", nil))
	}
	return s.sentences(first, s.text("Nothing needs a fix."))
}

// LookBlocked says that no row can be read before headings are clear.
func (s Site) LookBlocked() string {
	return s.text("Some headings have to be clear before a row can be read.")
}

// LookRefused says that the file is not taken.
func (s Site) LookRefused() string { return s.text("This file cannot be taken as it is.") }

// LookSame says that the same file came in before.
func (s Site) LookSame(batch int64, at string) string {
	return s.say("This very file was taken in before, as batch {batch} on {when}.", with{"batch": Count(int(batch)), "when": s.Moment(at)})
}
func (s Site) LookSameNothing() string {
	return s.text("All of it is on record already: keeping it again changes nothing.")
}
func (s Site) LookNothing() string {
	return s.text("Nothing of this file can come in yet. Fix its rows first.")
}
func (s Site) LookChanged() string {
	return s.text("The records or your answers changed, so this was worked out anew. Look again, then keep.")
}

// LookComes says what the records get: how many pours of how many jobs, and when
// those were.
func (s Site) LookComes(placements, jobs int, first, last record.Date) string {
	values := with{"placements": s.Placements(placements), "jobs": s.Jobs(jobs), "first": s.Day(first), "last": s.Day(last)}
	if first == last {
		return s.say("{placements} of {jobs}, poured on {first}.", with{"placements": values["placements"], "jobs": values["jobs"], "first": values["first"]})
	}
	return s.say("{placements} of {jobs}, poured {first} to {last}.", values)
}

// LookRows says it of other tables.
func (s Site) LookRows(table string, n int) string {
	return s.plural(n, "{table}: 1 row|{table}: {n} rows", with{"table": s.RecordTable(table)})
}
func (s Site) LookInTitle() string     { return s.text("What would come in") }
func (s Site) LookNew() string         { return s.text("New") }
func (s Site) LookChangedRows() string { return s.text("Changed") }
func (s Site) LookSameRows() string    { return s.text("As on record") }
func (s Site) LookAside() string       { return s.text("To fix") }
func (s Site) LookEmpty() string       { return s.text("With a cell left empty") }
func (s Site) LookLeft() string        { return s.text("Left out by you") }
func (s Site) LookWarned() string      { return s.text("With odd values") }
func (s Site) LookRead() string        { return s.text("Rows read") }
func (s Site) KeepDo() string          { return s.text("Keep") }
func (s Site) KeepSays() string {
	return s.text("Rows to fix are set aside with it, and can be fixed later. All of it can be undone.")
}
func (s Site) CheckDo() string { return s.text("Check again") }

// Questions about headings.
func (s Site) AskTitle() string { return s.text("What do these headings mean?") }
func (s Site) AskSays() string {
	return s.text("Your answers are remembered for the next file once this one is kept.")
}
func (s Site) AskWhat(heading string) string {
	return s.say("What is “{heading}”?", with{"heading": Clean(heading, LongName)})
}
func (s Site) AskSuch(samples []string) string {
	var shown []string
	for _, sample := range samples {
		shown = append(shown, Clean(sample, ShortName))
	}
	if len(shown) == 0 {
		return s.text("Nothing stands below it.")
	}
	return s.say("Below it: {samples}", with{"samples": s.List(shown)})
}
func (s Site) AskOpen() string  { return s.text("Not sure: leave it out this time") }
func (s Site) AskNone() string  { return s.text("Of no use: kept with the row as written") }
func (s Site) AskOther() string { return s.text("Something else") }

// How the file was read.
func (s Site) ReadTitle() string { return s.text("How it was read") }

// ReadTab says what a tab is read as.
func (s Site) ReadTab(sheets []string, table string) string {
	if len(sheets) == 0 {
		return s.say("Read as: {table}", with{"table": s.RecordTable(table)})
	}
	var names []string
	for _, name := range sheets {
		names = append(names, Clean(name, ShortName))
	}
	return s.say("{sheets}, read as: {table}", with{"sheets": s.List(names), "table": s.RecordTable(table)})
}
func (s Site) ReadHeading() string { return s.text("Heading") }
func (s Site) ReadMeans() string   { return s.text("Read as") }
func (s Site) ReadSuch() string    { return s.text("Such as") }
func (s Site) ReadUnsure() string  { return s.text("not sure") }
func (s Site) ReadNot() string     { return s.text("not used") }
func (s Site) ReadEach() string {
	return s.text("Hours of each person, times the people of the row")
}

// ReadIgnored says that a sheet is not used.
func (s Site) ReadIgnored(why string) string {
	return s.say("Not used: {why}", with{"why": Clean(New("", "", "").inWords(why), LongText)})
}
func (s Site) ReadWrong() string  { return s.text("Something is read wrong") }
func (s Site) ReadWhich() string  { return s.text("Heading") }
func (s Site) ReadAs() string     { return s.text("It means") }
func (s Site) ReadChange() string { return s.text("Read it so") }
func (s Site) ReadChoose() string { return s.text("Choose") }
func (s Site) ReadUnfit() string  { return s.text("This meaning is one of another kind of record.") }
func (s Site) ReadUnfitDo() string {
	return s.text("Choose a meaning that fits the tab the heading stands on.")
}
func (s Site) ReadAlso() string { return s.text("Also noticed") }

// What is wrong with cells.
func (s Site) FixTitle(n int) string {
	return s.plural(n, "1 row to fix|{n} rows to fix", nil)
}
func (s Site) FixSays() string {
	return s.text("Write the right value into the marked cell, then press “Check again”.")
}
func (s Site) OddTitle(n int) string {
	return s.plural(n, "1 row with odd values|{n} rows with odd values", nil)
}
func (s Site) OddSays() string {
	return s.text("These come in as they stand. Mend what is wrong, or say that it is right.")
}

// RowName is a row of a sheet by its number there.
func (s Site) RowName(sheet string, row int) string {
	if sheet == "" {
		return s.say("Row {row}", with{"row": Count(row)})
	}
	return s.say("{sheet}, row {row}", with{"sheet": Clean(sheet, ShortName), "row": Count(row)})
}

// CellName is a cell for who does not see it.
func (s Site) CellName(heading string, row int) string {
	return s.say("{heading}, row {row}", with{"heading": Clean(heading, ShortName), "row": Count(row)})
}
func (s Site) LeaveRow() string  { return s.text("Leave this row out") }
func (s Site) LeaveCell() string { return s.text("Leave it empty") }
func (s Site) ItIsRight() string { return s.text("It is right") }
func (s Site) WholeRow() string  { return s.text("The row as a whole") }

// MoreToFix says that a page shows the first rows only.
func (s Site) MoreToFix(n int) string {
	return s.plural(n, "1 more row comes up once these are settled.|{n} more rows come up once these are settled.", nil)
}

// What was settled.
func (s Site) SettledTitle() string { return s.text("What you settled") }
func (s Site) SettledMend(row, heading, was, now string) string {
	return s.say("{row}, {heading}: “{was}” is now “{now}”", with{"row": row, "heading": Clean(heading, ShortName), "was": Clean(was, LongName), "now": Clean(now, LongName)})
}
func (s Site) SettledRight(row, heading string) string {
	return s.say("{row}, {heading}: right as it is", with{"row": row, "heading": Clean(heading, ShortName)})
}
func (s Site) SettledLeft(row, heading string) string {
	return s.say("{row}, {heading}: left", with{"row": row, "heading": Clean(heading, ShortName)})
}
func (s Site) SettledAnswer(heading, means string) string {
	return s.say("“{heading}” means: {means}", with{"heading": Clean(heading, ShortName), "means": means})
}
func (s Site) SettledBack() string { return s.text("Take back") }

// Not used columns that may be missed, and headings that were left.
func (s Site) NoteUnused(heading string) string {
	return s.say("“{heading}” is not used, and it speaks of figures. Say above what it is.", with{"heading": Clean(heading, LongName)})
}
func (s Site) NoteMore(code string, n int) string {
	return s.plural(n, "{code}: 1 more|{code}: {n} more", with{"code": Records(s).Code(code)})
}
