package say

import (
	"strings"

	"pourback/analysis/bid"
	"pourback/ingest/record"
)

// Problem is something wrong or unwise in a spec, in words.
type Problem struct {
	Where  string // the placement, the field and its value
	Wrong  string
	Right  string // what to write, "" where Wrong says it
	Source string // who says so, "" where nobody need
}

// Matter is what is wrong, what would be right, and who says so.
func (w Bid) Matter(p Problem) string {
	s := p.Wrong
	if p.Right != "" {
		s = w.say("{wrong}; {right}", with{"wrong": s, "right": p.Right})
	}
	if p.Source != "" {
		s = w.say("{matter} ({source})", with{"matter": s, "source": p.Source})
	}
	return s
}

// Line is a problem in a line:
//
//	placement B, thickness_in 1: thinner than any slab on ground; 4 in (ACI 302.1R, from memory)
func (w Bid) Line(p bid.Problem) string {
	said := w.Problem(p)
	return w.say("{where}: {matter}", with{"where": said.Where, "matter": w.Matter(said)})
}

// Lines are all problems, one a line.
func (w Bid) Lines(ps bid.Problems) string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = w.Line(p)
	}
	return strings.Join(lines, "\n")
}

// Problem says a problem. What the spec holds is said in the spec's own units,
// which are those of its fields.
func (w Bid) Problem(p bid.Problem) Problem {
	said := w.problem(p)
	said.Where = Clean(strings.TrimSpace(p.Field+" "+p.Value), LongName)
	if p.Placement != "" {
		said.Where = w.say("placement {name}, {where}", with{"name": Clean(p.Placement, ShortName), "where": said.Where})
	}
	return said
}

func (w Bid) problem(p bid.Problem) Problem {
	for _, of := range []func(bid.Problem) (Problem, bool){w.ofJob, w.ofShape, w.ofGeometry, w.ofSlab, w.ofSteel, w.ofJoints, w.ofPump} {
		if said, ok := of(p); ok {
			return said
		}
	}
	return Problem{Wrong: w.text("cannot be used")}
}

// ofJob says what is wrong with the job as a whole, or with any number.
func (w Bid) ofJob(p bid.Problem) (said Problem, ok bool) {
	a := p.Amounts
	switch p.What {
	case bid.NameTwice:
		return Problem{Wrong: w.text("two placements have this name"), Right: w.text("give each its own")}, true
	case bid.NoNumber:
		return Problem{Wrong: w.text("below 0, or not a number"), Right: w.text("0 or more; leave it out if you don't know it")}, true
	case bid.TooMuch:
		return Problem{Wrong: w.text("more than any job has"), Right: w.say("at most {most}", with{"most": trimmed(a.Most, 2)})}, true
	case bid.WrongCount:
		return Problem{Wrong: w.text("a bid needs at least one placement"), Right: w.say("1 to {most}, each with its area and thickness", with{"most": trimmed(a.Most, 0)})}, true
	case bid.NoDay:
		return Problem{Wrong: w.text("neither a day nor a month"), Right: w.say("write {day}, {month} or {number}", with{"day": "2026-07-14", "month": "2026-07", "number": "7"})}, true
	case bid.Percentage:
		return Problem{Wrong: w.text("a share above 1"), Right: w.say("did you mean {share}?", with{"share": trimmed(a.Usual, 4)})}, true
	case bid.NoTarget:
		return Problem{Wrong: w.text("not a share between 0 and 1"), Right: w.say("the share of the price to keep, such as {share}", with{"share": "0.25"})}, true
	case bid.NoCertainty:
		return Problem{Wrong: w.text("not a share between 0 and 1"), Right: w.say("the chance to keep it, such as {share}", with{"share": "0.80"})}, true
	case bid.WrongDraws:
		return Problem{Wrong: w.text("not a number of simulated jobs"), Right: w.say("up to {most}; {usual} if you leave it out", with{"most": trimmed(a.Most, 0), "usual": trimmed(a.Usual, 0)})}, true
	case bid.TooFar:
		return Problem{Wrong: w.text("the time from batching to discharge is over before the truck gets there"),
			Right: w.text("use a nearer plant, or agree a retarder or a delayed set with the plant first"), Source: w.discharge()}, true
	case bid.LongHaul:
		return Problem{Wrong: w.say("leaves {minutes} to empty the truck", with{"minutes": w.Minutes(a.Is)}), Right: w.text("order smaller loads, or agree a retarder with the plant"), Source: w.discharge()}, true
	case bid.NoClock:
		return Problem{Wrong: w.text("not a time of day"), Right: w.say("write {bare}, {half} or {full}", with{"bare": "6:30", "half": "6:30am", "full": "18:30"})}, true
	case bid.NoForecast:
		return Problem{Wrong: w.text("not the air of any day"), Right: w.text("write each hour as 6:00 78F 40% 5mph")}, true
	case bid.EarlyHour:
		return Problem{Wrong: w.text("not after the hour before it"), Right: w.text("write the hours of the day in order")}, true
	case bid.NoTruck:
		return Problem{Wrong: w.text("no truck of a plant"), Right: w.say("what it holds, {least} to {most}", with{"least": w.Yards(a.Least), "most": w.Yards(a.Most)})}, true
	case bid.ForeignAir:
		return Problem{Wrong: w.text("a forecast of one day, and the bid pours on several"), Right: w.text("it is taken for the first of them")}, true
	case bid.PastDay:
		return Problem{Wrong: w.say("before the day of the records, {day}", with{"day": w.dayOf(a.Word)}), Right: w.text("give the day or month to come")}, true
	case bid.UnknownCrew:
		return Problem{Wrong: w.text("no crew on record"), Right: w.say("did you mean {crews}?", with{"crews": w.Either(cleaned(a.Words))})}, true
	case bid.NoDayOfJob:
		return Problem{Wrong: w.text("not a day of the job"), Right: w.text("1 for the first day of pouring, 2 for the second")}, true
	case bid.UnknownWord:
		return Problem{Wrong: w.say("“{word}” is not recognized", with{"word": Clean(a.Word, ShortName)}), Right: w.say("one of {words}", with{"words": strings.Join(a.Words, ", ")})}, true
	case bid.NoUse:
		return Problem{Wrong: w.text("not given, so an average use stands in"), Right: w.say("waste and hours differ by use: {words} …", with{"words": "driveway, walkway, patio"})}, true
	}
	return Problem{}, false
}

// dayOf is a day of a spec in words.
func (v *Voice) dayOf(day string) string {
	d, err := record.ParseDate(day)
	if err != nil {
		return Clean(day, ShortName)
	}
	return v.Day(d)
}

// cleaned are names as they may be shown.
func cleaned(names []string) []string {
	all := make([]string, len(names))
	for i, n := range names {
		all[i] = Clean(n, ShortName)
	}
	return all
}

// discharge cites the limit on the time from batching to discharge.
func (w Bid) discharge() string {
	return w.text("ASTM C94, older editions: discharged within 90 minutes of batching, unless agreed otherwise")
}

// ofShape says what is wrong with the dimensions of a placement.
func (w Bid) ofShape(p bid.Problem) (said Problem, ok bool) {
	a := p.Amounts
	switch p.What {
	case bid.NoArea:
		return Problem{Wrong: w.text("no area"), Right: w.say("write {area}, or {length} and {width}", with{"area": "area_sqft", "length": "length_ft", "width": "width_ft"})}, true
	case bid.NoNotch:
		return Problem{Wrong: w.text("not a corner of this slab"), Right: w.text("both sides of the missing corner, each shorter than the slab's")}, true
	case bid.TwoAreas:
		return Problem{Wrong: w.say("the dimensions come to {area}", with{"area": w.Area(a.Is)}), Right: w.text("give one of the two")}, true
	case bid.ShortSide:
		return Problem{Wrong: w.say("a side shorter than {least}", with{"least": w.Inches(3)}), Right: w.text("give the dimensions in feet")}, true
	case bid.LongSide:
		return Problem{Wrong: w.text("a side longer than any placement has"), Right: w.text("give the dimensions in feet")}, true
	case bid.WrongArea:
		return Problem{Wrong: w.text("not the area of one placement"), Right: w.say("{least} to {most}; split a larger job into placements", with{"least": Grouped(a.Least, 0), "most": w.Area(a.Most)})}, true
	case bid.TooManyPanels:
		return Problem{Wrong: w.text("far too many panels"), Right: w.text("a wider spacing, or several placements")}, true
	case bid.TinyArea:
		return Problem{Wrong: w.text("smaller than a doorstep"), Right: w.text("check the dimensions")}, true
	}
	return Problem{}, false
}
