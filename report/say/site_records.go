package say

import "pourback/ingest/record"

// Words of finding a job, of its page, and of changing what is on record.

func (s Site) RecordsLink() string { return s.text("Records") }
func (s Site) FindTitle() string   { return s.text("Find a job") }
func (s Site) FindLabel() string   { return s.text("Site, customer, number, crew or date") }
func (s Site) FindDo() string      { return s.text("Find") }
func (s Site) FindAll() string     { return s.text("All jobs") }
func (s Site) FindNone() string    { return s.text("No job on record fits.") }
func (s Site) FindNoneDo() string {
	return s.text("Try a part of the name, or a date such as 6/3/2025.")
}
func (s Site) FindNothing() string { return s.text("No job is on record yet.") }
func (s Site) FindNameless() string {
	return s.text("Names are switched off, so sites and customers are not searched.")
}

// FindAnswer says how many jobs fit.
func (s Site) FindAnswer(n, all int) string {
	if n == all {
		return s.plural(all, "1 job on record.|{n} jobs on record.", nil)
	}
	return s.plural(n, "1 of {all} fits.|{n} of {all} fit.", with{"all": s.Jobs(all)})
}
func (s Site) JobHead() string      { return s.text("Job") }
func (s Site) SiteHead() string     { return s.text("Site") }
func (s Site) CustomerHead() string { return s.text("Customer") }
func (s Site) PouredHead() string   { return s.text("Poured") }
func (s Site) UseHead() string      { return s.text("Use") }
func (s Site) CrewHead() string     { return s.text("Crew") }

// PouredDays are the days of a job's pours.
func (s Site) PouredDays(days []record.Date) string {
	switch len(days) {
	case 0:
		return ""
	case 1:
		return s.Day(days[0])
	}
	return s.to(s.Day(days[0]), s.Day(days[len(days)-1]))
}

func (s Site) NoJob() string   { return s.text("No such job is on record.") }
func (s Site) NoJobDo() string { return s.text("Find it by its site, customer, crew or date.") }
func (s Site) JobTitle(no string) string {
	return s.say("Job {number}", with{"number": Clean(no, ShortName)})
}

// JobAnswer says what is on record of a job.
func (s Site) JobAnswer(placements, other int) string {
	first := s.say("{placements} on record.", with{"placements": s.Placements(placements)})
	if other == 0 {
		return first
	}
	return s.sentences(first, s.plural(other, "1 more row belongs to the job.|{n} more rows belong to the job.", nil))
}
func (s Site) JobEmpty(n int) string {
	return s.plural(n, "1 value is missing|{n} values are missing", nil)
}
func (s Site) JobUnused() string { return s.text("Kept as written, not used") }
func (s Site) ValueHead() string { return s.text("Value") }
func (s Site) IsHead() string    { return s.text("On record") }
func (s Site) FromHead() string  { return s.text("Came from") }

// ValueFrom says where a value came from: the row of a file, or a correction.
func (s Site) ValueFrom(file string, row int) string {
	return s.say("{file}, row {row}", with{"file": file, "row": Count(row)})
}

// PlacementName names a placement of a job by its letter.
func (s Site) PlacementName(name string) string { return s.say("Placement {name}", with{"name": name}) }

// CameIn says by which batch a row came in, when, and who took it in.
func (s Site) CameIn(batch, at, who string) string {
	return s.say("{batch}, {when}, {who}", with{"batch": batch, "when": at, "who": who})
}

// ValueWritten says that a value was mended before it came in.
func (s Site) ValueWritten(text string) string {
	return s.say("written “{text}” and mended", with{"text": Clean(text, LongName)})
}
func (s Site) ValueRight() string { return s.text("said to be right") }

// Changing a value.
func (s Site) ChangeTitle() string { return s.text("Change a value") }
func (s Site) ChangeWhich() string { return s.text("Which value") }
func (s Site) ChangeTo() string    { return s.text("The right value") }
func (s Site) ChangeWhy() string   { return s.text("Why") }
func (s Site) ChangeDo() string    { return s.text("Change it") }
func (s Site) ChangeSays() string {
	return s.text("The same value again says that it is right. Nothing at all makes it missing.")
}
func (s Site) ChangeNone() string   { return s.text("No value was chosen.") }
func (s Site) ChangeNoneDo() string { return s.text("Choose which value to change.") }
func (s Site) HistoryTitle() string { return s.text("Earlier values") }
func (s Site) PutBack() string      { return s.text("Put back") }
func (s Site) PutBackWhy(batch int64) string {
	return s.say("put back as it was before batch {batch}", with{"batch": Count(int(batch))})
}
func (s Site) PutBackName(column, value string) string {
	return s.say("Put back {column}: {value}", with{"column": column, "value": value})
}

// A change that could not be made as it was asked for.
func (s Site) ClashAnswer() string {
	return s.text("Somebody changed this record while you were at it. Nothing of yours was kept yet.")
}
func (s Site) ClashNow(at, who string) string {
	return s.say("Changed on {when} by {who}.", with{"when": s.Moment(at), "who": s.Person(who)})
}
func (s Site) ClashTheirs() string { return s.text("On record now") }
func (s Site) ClashYours() string  { return s.text("Yours") }
func (s Site) ClashMine() string   { return s.text("Keep mine") }
func (s Site) ClashLeave() string  { return s.text("Leave it as it is now") }
func (s Site) UnfitAnswer() string {
	return s.text("This value cannot be kept as it is. Nothing was changed.")
}
func (s Site) RecordGone() string { return s.text("This record is not there any more.") }
func (s Site) RecordGoneDo() string {
	return s.text("Its batch may have been undone: look at what was taken in.")
}
func (s Site) BackToJob() string { return s.text("Back to the job") }
func (s Site) Yes() string       { return s.text("yes") }
func (s Site) No() string        { return s.text("no") }
