package say

import (
	"slices"
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
	"pourback/ingest/record"
)

// Words of the crew's pages: the pours of today, and a pour.

func (s Site) TodayTitle() string     { return s.text("Today") }
func (s Site) TodayPours() string     { return s.text("Today's pours") }
func (s Site) YesterdayPours() string { return s.text("Poured yesterday") }
func (s Site) NextPours() string      { return s.text("Next pours") }

// TodayAnswer says what a crew has to do with today: how many pours of today there are, and
// how many of yesterday have no saw cut on record.
func (s Site) TodayAnswer(day record.Date, today, uncut int) string {
	said := s.say("{day}: {pours}.", with{"day": s.Day(day), "pours": s.plural(today, "1 pour|{n} pours", nil)})
	if today == 0 {
		said = s.say("{day}: no pour is planned for today.", with{"day": s.Day(day)})
	}
	if uncut > 0 {
		said += " " + s.plural(uncut, "1 pour of yesterday has no saw cut on record.|{n} pours of yesterday have no saw cut on record.", nil)
	}
	return said
}

// CameToday names what came in of a pour today.
func (s Site) CameToday() string { return s.text("Came in today") }

// CameStart is the entry that started a pour.
func (s Site) CameStart() string { return s.text("Started") }

// Came is an entry in a line: when it came in, in UTC where no zone is set, by whom, "" where
// nobody is named, and what.
func (s Site) Came(at, who, what string) string {
	values := with{"time": at, "who": s.Person(who), "what": what}
	if t, utc, err := s.thereAt(at); err == nil && utc {
		values["time"] = s.say("{time} UTC", with{"time": t.Format("15:04")})
	} else if err == nil {
		values["time"] = s.ClockOf(record.MomentOf(record.DayOf(t), 3600*t.Hour()+60*t.Minute()))
	}
	if who == "" {
		return s.say("{time}: {what}", values)
	}
	return s.say("{time}, {who}: {what}", values)
}
func (s Site) NoSawCut() string { return s.text("The saw cut is not on record yet.") }

// PourName names a pour on a list: its job and what it is.
func (s Site) PourName(job, what string) string {
	if job == "" {
		return Capital(what)
	}
	return s.say("{job}: {what}", with{"job": Clean(job, ShortName), "what": what})
}

// NoJobNo says why a bid has no page to write on.
func (s Site) NoJobNo() string {
	return s.text("It has no job number yet. Ask the office, or start it below.")
}
func (s Site) OtherPour() string   { return s.text("A pour that is not listed") }
func (s Site) OtherPourDo() string { return s.text("Start this pour") }
func (s Site) SizeHint() string    { return s.text("Or length and width, below") }

// PourOf heads the page of a pour.
func (s Site) PourOf(job, use string) string {
	if use == "" {
		return s.PourTitle(job)
	}
	return s.PourName(job, s.Word(use))
}

// PourSoFar is how far a pour is, by what is on record.
// It is placed once the trucks are known to be empty, and else delivered.
func (s Site) PourSoFar(yd float64, placed bool, planned record.Number, trucks, clogs int) string {
	if trucks == 0 && !planned.OK {
		return s.text("No truck is on record yet.")
	}
	if trucks == 0 {
		return s.say("No truck is on record yet. Planned: {yards}.", with{"yards": s.Yards(planned.V)})
	}
	said := s.plural(trucks, "1 truck|{n} trucks", nil)
	if clogs > 0 {
		said += ", " + s.plural(clogs, "1 clog|{n} clogs", nil)
	}
	values := with{"yards": s.Yards(yd), "some": s.YardsBare(yd), "planned": s.Yards(planned.V), "trucks": said}
	switch {
	case placed && planned.OK:
		return s.say("{some} of {planned} placed, {trucks}.", values)
	case placed:
		return s.say("{yards} placed, {trucks}.", values)
	case planned.OK:
		return s.say("{some} of {planned} delivered, {trucks}.", values)
	}
	return s.say("{yards} delivered, {trucks}.", values)
}

// PourFacts are the day on which a pour was placed, and its size.
func (s Site) PourFacts(placed record.Date, area, thickness record.Number) string {
	var parts []string
	if placed != 0 {
		parts = append(parts, s.say("Placed on {day}", with{"day": s.Day(placed)}))
	}
	if area.OK {
		parts = append(parts, s.Area(area.V))
	}
	if thickness.OK {
		parts = append(parts, s.say("{thick} thick", with{"thick": s.Inches(thickness.V)}))
	}
	return strings.Join(parts, " · ")
}

func (s Site) WithoutSignal() string { return s.text("Without signal") }
func (s Site) BackToPour() string    { return s.text("Back to the pour") }

// PourWhere is what a bid calls its job, and where that is.
func (s Site) PourWhere(b *bid.Bid) string {
	var parts []string
	for _, part := range []string{b.Spec.Name, b.Spec.Site} {
		if part != "" {
			parts = append(parts, Clean(part, LongName))
		}
	}
	return strings.Join(parts, ", ")
}

func (s Site) PourParts() string { return s.text("Placements of this job") }
func (s Site) OnRecord() string  { return s.text("On record") }
func (s Site) OpenAgain() string { return s.text("Fill in more") }
func (s Site) KeepIt() string    { return s.text("Keep") }
func (s Site) NowButton() string { return s.text("Now") }
func (s Site) TakeCare() string  { return s.text("Take care") }
func (s Site) OnlyReads() string {
	return s.text("You may read here. Crews and the owner write.")
}

// NotBegun says that nothing tells what is poured.
func (s Site) NotBegun() string {
	return s.text("Nothing tells what this pour is: no bid is for it, and nobody has started it.")
}
func (s Site) NotBegunDo() string { return s.text("Start it first: its use, size and thickness.") }

// PourNew says of a job that nothing is known of it, to who may start a pour of it.
func (s Site) PourNew() string {
	return s.text("Nothing is known of this job yet. Check its number, or start the pour here.")
}

// Names of the forms, as they stand on the big buttons.

func (s Site) FormTruck() string    { return s.text("Truck") }
func (s Site) FormClog() string     { return s.text("Clog") }
func (s Site) FormDelay() string    { return s.text("Other delay") }
func (s Site) FormWeather() string  { return s.text("Temperatures and wind") }
func (s Site) FormProbes() string   { return s.text("Thickness, probed") }
func (s Site) FormHours() string    { return s.text("Hours worked") }
func (s Site) FormLeftover() string { return s.text("Left over") }
func (s Site) FormSaw() string      { return s.text("Saw cut") }
func (s Site) FormCuring() string   { return s.text("Curing") }
func (s Site) FormNote() string     { return s.text("Note") }
func (s Site) FormBegin() string    { return s.text("Another placement of this job") }

// FormAgain names a form that is open on what is on record.
func (s Site) FormAgain(form, what string) string {
	return s.say("{form}: {what}", with{"form": form, "what": Clean(what, ShortName)})
}

// TruckMore names what of a truck is asked for more seldom.
func (s Site) TruckMore() string { return s.text("More: pour times, slump, water") }

// Hints beside fields.

func (s Site) LikeHours() string { return s.text("Such as 9 + 8.5 + 8.5") }
func (s Site) WindHint() string  { return s.text("At the slab, knee high") }
func (s Site) FinishedHint(last record.Moment) string {
	if last == 0 {
		return ""
	}
	return s.say("If empty: from the end of the last load, {time}.", with{"time": s.ClockOf(last)})
}

// ClockOf is a time of day: "8:15", "1:40 pm".
func (s Site) ClockOf(m record.Moment) string {
	return Bid(s).Time(clock.Time{Clock: m.String()[11:16]})
}

// What cannot be taken.

func (s Site) StopMissing() string { return s.text("How long it took is missing") }
func (s Site) StopMissingDo() string {
	return s.text("tap “Now” when it ends, or write the minutes")
}
func (s Site) StopBefore() string    { return s.text("it ends before it began") }
func (s Site) StopBeforeDo() string  { return s.text("check both times") }
func (s Site) NothingSaid() string   { return s.text("nothing is filled in") }
func (s Site) NothingSaidDo() string { return s.text("fill in at least one value") }
func (s Site) HalfHours() string     { return s.text("People and hours belong together") }
func (s Site) HalfHoursDo() string {
	return s.text("write both, or each person's hours added up")
}
func (s Site) NoTime() string     { return s.text("no time of day") }
func (s Site) NoTimeDo() string   { return s.text("write 6:30, 6:30am or 18:30") }
func (s Site) NoFinish() string   { return s.text("no time to count from") }
func (s Site) NoFinishDo() string { return s.text("write when finishing was done") }
func (s Site) NoSize() string     { return s.text("the size is missing") }
func (s Site) NoSizeDo() string   { return s.text("write the area, or length and width") }
func (s Site) SawTooSoon() string { return s.text("the cut comes before that") }

// entryName names a column, or a field of a form: crews call some otherwise than the
// office does.
func (s Site) entryName(column string) string {
	switch column {
	case "yards":
		return s.text("On the ticket")
	case "ticket_no":
		return s.text("Ticket number")
	case "pour_start":
		return s.text("Pour starts")
	case "pour_end":
		return s.text("Pour ends")
	case "air_temp_f":
		return s.text("Air")
	case "spot":
		return s.text("Where the clog was")
	case "cause":
		return s.text("Cause")
	case "minutes":
		return s.text("Minutes lost")
	case "leftover_yd":
		return s.text("Left over")
	case "joint_cut":
		return s.text("How joints were cut")
	case "joint_depth_in":
		return s.text("Depth of the cut")
	case "use":
		return s.text("What it is")
	case "thickness_in", "measured_thickness_in":
		return s.text("Thickness")
	}
	if name := s.fieldName(column); name != "" {
		return name
	}
	return Capital(s.columnName(column))
}

// fieldName names the fields of forms that are no columns.
func (s Site) fieldName(field string) string {
	switch field {
	case "started_at":
		return s.text("Began")
	case "stopped_at":
		return s.text("Ended")
	case "or_minutes":
		return s.text("Or minutes lost")
	case "people":
		return s.text("People")
	case "each":
		return s.text("Hours each")
	case "by_person":
		return s.text("Or each person's hours, added up")
	case "probe":
		return s.text("Each probe")
	case "where":
		return s.text("Where it went")
	case "saw_on":
		return s.text("Day of the first cut")
	case "saw_at":
		return s.text("First cut at")
	case "finished_at":
		return s.text("Finishing was done at")
	case "length":
		return s.text("Length")
	case "width":
		return s.text("Width")
	}
	return ""
}

// EntryField labels a field with the unit in which a bare number is read.
func (s Site) EntryField(c *record.Column) string {
	name := s.entryName(c.Name)
	if c.Unit == nil || slices.Contains([]*record.Unit{record.Hour, record.Minute}, c.Unit) {
		return name
	}
	unit := s.unitLabel(c.Unit)
	if s.Units.Si {
		unit = c.Unit.SI
	}
	return s.say("{column}, {unit}", with{"column": name, "unit": unit})
}
