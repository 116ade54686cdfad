package say

import "pourback/ingest/record"

// Words of the form for a visit to a slab.

// SlabName is the name of a slab: where it is, if that may be named.
func (s Site) SlabName(site, job, placement string) string { return s.at(site, slab(job, placement)) }

// VisitTitle is that of the form.
func (s Site) VisitTitle(slab string) string { return s.say("Visit to {slab}", with{"slab": slab}) }

// VisitAnswer says how much of the form is to be filled in.
func (s Site) VisitAnswer() string {
	return s.text("Say what you found. For a sound slab two answers are enough.")
}

func (s Site) RecordVisit() string { return s.text("Record a visit") }
func (s Site) VisitEntry() string  { return s.text("Visit") }
func (s Site) KeepVisit() string   { return s.text("Keep the visit") }
func (s Site) SeenLabel() string   { return s.text("Day of the visit") }
func (s Site) WhyLegend() string   { return s.text("Why were you there?") }
func (s Site) FoundLegend() string { return s.text("What did you find?") }
func (s Site) OfCrack() string     { return s.text("The crack") }
func (s Site) KindLegend() string  { return s.text("What kind of crack?") }
func (s Site) JointLegend() string { return s.text("Does it run in a joint?") }
func (s Site) NotSure() string     { return s.text("Not sure") }
func (s Site) NoteLabel() string   { return s.text("Anything else") }
func (s Site) CostLabel() string   { return s.text("What the visit and its repair cost") }

// WhyWord is a reason for a visit as an answer.
func (s Site) WhyWord(why string) string {
	if why == "callback" {
		return s.text("The customer called")
	}
	return s.text("A planned look")
}

// CalledLabel and what stands below it ask who called, and for nobody's name.
func (s Site) CalledLabel() string { return s.text("Who called") }
func (s Site) CalledHint() string {
	return s.text("As you would note it: the customer, the builder. Leave phone numbers out.")
}

// CalledNote is who called, as it goes into the note.
func (s Site) CalledNote(who string) string { return s.say("called: {who}", with{"who": who}) }

func (s Site) ResolvedLabel() string { return s.text("Closed on") }
func (s Site) ResolvedHint() string {
	return s.text("Leave it empty while something is left to do.")
}

// LengthLabel and WidthLabel ask for the size of a crack in the reader's units.
func (s Site) LengthLabel() string {
	if s.Units.Si {
		return s.text("Length, m")
	}
	return s.text("Length, ft")
}
func (s Site) WidthLabel() string {
	if s.Units.Si {
		return s.text("Width where it is widest, mm")
	}
	return s.text("Width where it is widest, in")
}

// LengthUnit and WidthUnit are what a bare number at a crack's length or width is of, "" in the units
// of the records.
func (s Site) LengthUnit() string { return map[bool]string{true: " m"}[s.Units.Si] }
func (s Site) WidthUnit() string  { return map[bool]string{true: " mm"}[s.Units.Si] }

// CrackCare defers to an engineer.
func (s Site) CrackCare() string {
	return s.text("Leave a wide crack as it is, and one with a side higher than the other or through a footing, a wall or a beam.") + " " +
		s.text("A licensed engineer and local codes decide.")
}

// SpotLegend asks where on the slab.
func (s Site) SpotLegend() string { return s.text("Where on the slab?") }
func (s Site) SpotNowhere() string {
	return s.text("No one place")
}

// PlanSays is what the drawing of a slab shows.
func (s Site) PlanSays(drawn bool) string {
	if drawn {
		return s.text("The drawing of the slab, as it was bid")
	}
	return s.text("A rectangle that stands for the slab")
}

// PlanNote says how a drawing is to be taken, "" where it is as it was bid.
func (s Site) PlanNote(drawn, stretched bool) string {
	switch {
	case !drawn:
		return s.text("No drawing of this slab is on record. Take the lower edge as the one along the street.")
	case stretched:
		return s.text("This is not to scale: the slab is drawn wider than it is, for fingers.")
	}
	return ""
}

// Ninth names one of the nine parts of a drawing, by its row from the top and its
// column from the left.
func (s Site) Ninth(row, column int) string {
	names := [3][3]string{
		{s.text("Top left"), s.text("Top"), s.text("Top right")},
		{s.text("Left"), s.text("In the middle"), s.text("Right")},
		{s.text("Bottom left"), s.text("Bottom"), s.text("Bottom right")},
	}
	return names[row][column]
}

// SpotSays says where a place on the drawing is, by numbers that the page puts in: {x}
// and {y}, of ft or m where its size is known, else in percent.
func (s Site) SpotSays(sized bool) string {
	unit := " %"
	if sized {
		if unit = " ft"; s.Units.Si {
			unit = " m"
		}
	}
	return s.say("{across} from the left, {down} from the top", with{"across": s.unit("{x}", unit), "down": s.unit("{y}", unit)})
}

// SpotMove names the mark on the drawing to who moves it by the keys.
func (s Site) SpotMove() string { return s.text("The spot. The arrow keys move it.") }

// SpotMark says what was found at a place before.
func (s Site) SpotMark(on record.Date, finding string) string {
	return on.String() + ": " + s.Word(finding)
}

// The gauge, on which the width of a crack is read off the screen.
func (s Site) GaugeTitle() string { return s.text("Measure the width on this screen") }
func (s Site) GaugeFit() string {
	return s.text("First show this screen how large it is. Lay one of these on the outline, and make the outline just as large.")
}
func (s Site) GaugeCard() string    { return s.text("A bank card") }
func (s Site) GaugeCoin() string    { return s.text("A US quarter") }
func (s Site) GaugeLarger() string  { return s.text("Larger") }
func (s Site) GaugeSmaller() string { return s.text("Smaller") }
func (s Site) GaugeSize() string    { return s.text("Size of the outline") }
func (s Site) GaugeFits() string    { return s.text("It fits") }
func (s Site) GaugeAgain() string   { return s.text("Fit it again") }
func (s Site) GaugeSays() string {
	return s.text("Hold the screen beside the crack. Tap the line that is as wide.")
}
func (s Site) GaugeFine() string { return s.text("finer than this screen draws") }

// GaugeWidth is a width of in of the gauge as it is written into the form: what a crack
// comparator has, in thousandths of an inch or hundredths of a millimeter.
func (s Site) GaugeWidth(in float64) string {
	if s.Units.Si {
		return Grouped(25.4*in, 2) + " mm"
	}
	return s.unit(Grouped(in, 3), " in")
}

// VisitKept says what a visit put on record.
func (s Site) VisitKept(slab, finding string) string {
	return s.say("{slab}: {finding}, on record.", with{"slab": slab, "finding": s.Word(finding)})
}

// VisitPart says that not all that was said of a visit is on record.
func (s Site) VisitPart(slab string) string {
	return s.say("{slab}: not all of it is on record.", with{"slab": slab})
}

// CallClosed says that a callback was closed.
func (s Site) CallClosed(slab, day string) string {
	return s.say("{slab}: the callback of {day} is closed.", with{"slab": slab, "day": day})
}

// SoundNow is the button that records a planned look at a sound slab, today.
func (s Site) SoundNow() string { return s.text("Looked at it: sound") }

// CloseCall closes a callback.
func (s Site) CloseTitle(on record.Date, finding string) string {
	return s.say("The callback of {day} ({finding}) is open", with{"day": s.AsOf(on.String()), "finding": s.Word(finding)})
}
func (s Site) CloseCall() string { return s.text("Close the callback") }

// EnterTitle heads what may be entered about a slab.
func (s Site) EnterTitle() string { return s.text("What you found") }

// LastEntry says what was entered last, and may be taken back.
func (s Site) LastEntry(moment, who string) string {
	return s.say("The last entry here: {moment}, by {who}.", with{"moment": moment, "who": s.Person(who)})
}
func (s Site) TakeBackEntry() string { return s.text("Take it back") }

// EntryUndo says that an entry cannot be taken back.
func (s Site) EntryUndo() string {
	return s.text("This cannot be taken back now, and nothing was changed.")
}
func (s Site) EntryUndoDo() string {
	return s.text("See the slab for what is on record, or ask the owner.")
}

// NoCall says that there was no callback to be closed.
func (s Site) NoCall() string   { return s.text("No callback of that day is on record.") }
func (s Site) NoCallDo() string { return s.text("See the slab for those that are.") }

// OwnersCost refuses money from who sees none.
func (s Site) OwnersCost() string   { return s.text("only the owner enters it") }
func (s Site) OwnersCostDo() string { return s.text("leave it empty") }

// FindingWord is what was found as an answer.
func (s Site) FindingWord(finding string) string { return Capital(s.Word(finding)) }

// CrackKind is a kind of crack as an answer.
func (s Site) CrackKind(kind string) string {
	if kind == "unknown" {
		return s.NotSure()
	}
	return Capital(s.Word(kind))
}
