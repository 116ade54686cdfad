package say

import (
	"math"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// Crews says what hours to plan, and which crew needs fewer or more.
type Crews struct{ *Voice }

func (c Crews) Title() string { return c.text("Crew hours") }

// Answer says what hours to plan for the reference job, and who differs.
func (c Crews) Answer(l *work.Labor) string {
	if l == nil || !l.Reference.Known() {
		return c.text("The records do not say yet what hours to plan: no placement has its area, thickness and labor hours.")
	}
	s := c.say("Plan {hours} for {job}.", with{"hours": c.personHours(l.Reference), "job": c.Job(l.ReferenceJob)})
	if len(l.Apart) == 0 {
		return s + " " + c.text("On the same job no crew stands out.")
	}
	parts := make([]string, len(l.Apart))
	for i, crew := range l.Apart {
		parts[i] = c.apart(crew)
	}
	return s + " " + c.say("Hours on the same job, against an average crew: {crews}.", with{"crews": c.List(parts)})
}

// apart says how a crew's hours differ: "Heron 9% fewer".
func (c Crews) apart(crew work.Crew) string {
	ratio, name := crew.HoursVsAverage.Value, c.Named(crew.Crew)
	if ratio < 1 {
		return c.say("{crew} {share} fewer", with{"crew": name, "share": c.At(Percent, 1-ratio)})
	}
	return c.say("{crew} {share} more", with{"crew": name, "share": c.At(Percent, ratio-1)})
}

func (c Crews) personHours(f figure.Figure) string {
	return c.Long(Measure{Factor: 1, Digits: Round}.As("{value} person-hours"), f)
}

// Job is the job on which crews are compared: "400 sq ft of driveway, 4 in thick, …".
func (c Crews) Job(j work.HoursJob) string {
	values := with{"use": c.Word(j.Use), "area": c.Area(j.AreaSqft), "thickness": c.Inches(j.ThicknessIn), "warm": c.Degrees(work.WarmF)}
	if j.Use == "" || j.Use == "other" {
		delete(values, "use")
		return c.filled(c.text("{area}, {thickness} thick, by chute, no steel, {warm} or cooler"), values)
	}
	return c.filled(c.text("{area} of {use}, {thickness} thick, by chute, no steel, {warm} or cooler"), values)
}

// Change says a ratio of hours: "9% fewer hours".
func (c Crews) Change(ratio float64) string {
	if ratio < 1 {
		return c.say("{share} fewer hours", with{"share": c.At(Percent, 1-ratio)})
	}
	return c.say("{share} more hours", with{"share": c.At(Percent, ratio-1)})
}

// Will is what the page will say once there are records, Takes what it takes.
func (c Crews) Will() string { return c.text("how many hours to plan, and which crew needs fewer") }
func (c Crews) Takes() string {
	return c.text("the crew, the area and the labor hours of each placement")
}

func (c Crews) Nothing() string {
	return c.text("The records cannot say how fast the crews work: no placement has both its area and its labor hours.")
}

// Notes say what to bear in mind.
func (c Crews) Notes(l *work.Labor) []string {
	notes := []string{
		c.text("A crew that is always sent to the hard jobs looks slower than it is. These figures cannot tell it from a slow crew."),
		c.text("Crew size is left out of the comparison, because bigger jobs usually get bigger crews."),
	}
	if l != nil && (len(l.Uses) == 0 || !l.Heat.Known()) { // else it stands beside the kinds of work
		notes = append(notes, c.Heat(l.Heat))
	}
	return notes
}

// Heat says what heat does to the hours of a job.
func (c Crews) Heat(heat figure.Figure) string {
	if !heat.Known() {
		return c.say("Too early to say what heat does to the hours: {why}.", with{"why": c.Reason(heat.Why)})
	}
	values := with{"step": c.DegreesApart(10), "warm": c.Degrees(work.WarmF), "change": c.Change(heat.Value), "low": c.Change(heat.Low), "high": c.Change(heat.High)}
	if heat.Low <= 1 && heat.High >= 1 {
		delete(values, "change")
		return c.filled(c.text("Too close to call whether heat costs hours. For each {step} of air above {warm}, anything from {low} to {high} fits your records."), values)
	}
	return c.filled(c.text("For each {step} of air above {warm} the same job takes {change} ({low} to {high})."), values)
}

// Method says how it was worked out, with the sources.
func (c Crews) Method(l *work.Labor) []string {
	method := []string{
		c.say("“On the same job” comes from a model of hours by area, thickness, steel, pump and crew. Each crew borrows from the others ({sources}). Crew size is left out, because it follows the size of the job.", with{"sources": "Box & Tiao 1973; Gelman 2006"}),
		c.say("A new crew's hours fall by the same share each time its placements double, until it has done {learned} ({source}).", with{"learned": Count(work.Learned), "source": "Wright 1936"}),
		c.say("“As worked” is all the area a crew placed over all its labor hours, whatever the jobs were. Its range is that of a ratio of totals ({source}). A labor hour is one person for an hour.", with{"source": "Cochran 1977, §6.4"}),
		c.text("Hours lost to delay are delay minutes times the size of the crew, added up."),
	}
	if l != nil && len(l.Assumptions.Mean) > 0 {
		method = append(method, c.beliefs(l.Assumptions))
	}
	return method
}

// beliefs are what is held likely before the records.
func (c Crews) beliefs(p work.HoursPriors) string {
	names := []string{c.text("hours of the job above (log)"), c.text("area (log)"), c.Word("pump"), c.Word("mesh"), c.Word("rebar"), c.Word("fiber"),
		c.text("thickness (log)"), c.text("learning"), c.text("heat")}
	var said []string
	for i, n := range names[:min(len(names), len(p.Mean), len(p.SD))] {
		said = append(said, n+" "+plainNumber(p.Mean[i])+" ± "+plainNumber(p.SD[i]))
	}
	return c.say("Assumed before any record: {beliefs}. Kinds of work: 0 ± {uses}. Spread of jobs: {sigma}, as from {nu} placements; spread of crews: {scale} of it. The more placements, the less that counts.",
		with{"beliefs": strings.Join(said, ", "), "uses": plainNumber(p.UseSD), "sigma": plainNumber(p.Sigma), "nu": plainNumber(p.Nu), "scale": plainNumber(p.RScale)})
}

// plainNumber is a setting to the hundredth: some of them are logarithms.
func plainNumber(v float64) string {
	n := record.Some(math.Round(v*100) / 100)
	return record.FieldText(&n)
}

// SameTitle and what follows are the words around the comparison on one job.
func (c Crews) SameTitle() string { return c.text("On the same job") }
func (c Crews) SameSay() string {
	return c.text("The hours each crew needs where an average crew needs 100.")
}
func (c Crews) SameCaption() string { return c.text("Crews on one and the same job") }
func (c Crews) SameAxis() string    { return c.text("hours, times those of an average crew") }
func (c Crews) Average() string     { return c.text("average") }
func (c Crews) SameChart() string {
	return c.text("Each crew's hours over those of an average crew on the same job, with the range. Left of the line is faster.")
}
func (c Crews) HeadCrew() string       { return c.text("Crew") }
func (c Crews) HeadAgainst() string    { return c.text("Hours where an average crew needs 100") }
func (c Crews) HeadPlacements() string { return c.text("Placements") }

func (c Crews) HeadSpeed() string {
	if c.Units.Si {
		return c.text("m² per person-hour")
	}
	return c.text("ft² per person-hour")
}

// Tip says a crew against the average one.
func (c Crews) Tip(crew string, ratio float64) string {
	return c.say("{crew}: {change} than an average crew", with{"crew": c.Named(crew), "change": c.Change(ratio)})
}

// Name is a crew's, marked where its first placement is in the records.
func (c Crews) Name(crew string, isNew bool) string {
	if isNew {
		return c.say("{crew}, new", with{"crew": c.Named(crew)})
	}
	return c.Named(crew)
}

// WorkedTitle and what follows are the words around what each crew placed.
func (c Crews) WorkedTitle() string { return c.text("As worked, and the hours lost to delays") }
func (c Crews) WorkedSay() string {
	return c.text("This does not rank the crews: one that gets the small or awkward jobs looks slow, and a new one is still learning.")
}
func (c Crews) WorkedCaption() string { return c.text("What each crew placed") }
func (c Crews) HeadArea() string      { return c.say("Area, {unit}", with{"unit": c.sign(c.Units.Area)}) }
func (c Crews) HeadHours() string     { return c.text("Labor hours") }
func (c Crews) HeadLost() string      { return c.text("Hours lost to delay") }
func (c Crews) HeadLostCost() string  { return c.text("What they cost") }
