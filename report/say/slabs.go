package say

import (
	"strings"

	"pourback/analysis/visits"
	"pourback/ingest/record"
)

// Slabs tells of slabs from the pour to the data date.
type Slabs struct{ *Voice }

// Title is that of the page.
func (s Slabs) Title() string { return s.text("Slabs to watch") }

// WillSay is what the page will say once there are records.
func (s Slabs) WillSay() string {
	return s.text("the whole story of each slab that was looked at or called about")
}

// Takes is what the page takes to say anything.
func (s Slabs) Takes() string {
	return s.text("visits to finished slabs, or callbacks with their dates")
}

// Name is the name of a slab: where it is, if that may be named.
func (s Slabs) Name(t *visits.SlabStory) string { return s.at(t.Site, slab(t.JobNo, t.Placement)) }

// OneTitle is the title of the story of one slab.
func (s Slabs) OneTitle(t *visits.SlabStory) string {
	return s.say("The story of {slab}", with{"slab": s.Name(t)})
}

// OneAnswer says how one slab stands.
func (s Slabs) OneAnswer(t *visits.SlabStory) string {
	return s.say("{slab}: {stands}.", with{"slab": s.Name(t), "stands": s.stands(&t.Stands)})
}

// Answer names the slab to look at first.
func (s Slabs) Answer(d *visits.Visits) string {
	if len(d.Stories) == 0 {
		return s.text("No slab has a finding or a callback on record.")
	}
	first := &d.Stories[0]
	name, stands := with{"slab": s.Name(first)}, s.say("{stands}.", with{"stands": Capital(s.stands(&first.Stands))})
	if first.Worth.Value > 0 {
		return s.plural(d.WithStory, "{slab} is the only slab with a finding or a callback.|{slab} has the most at stake of {n} slabs with a finding or a callback.", name) + " " + stands
	}
	return s.plural(d.WithStory, "{slab} is the only slab with a finding or a callback, and nothing is left at stake.|None of the {n} slabs with a finding or a callback has anything left at stake. {slab} comes first.", name) + " " + stands
}

// Notes say where the others are told.
func (s Slabs) Notes(d *visits.Visits) []string {
	notes := []string{s.text("Any slab: `pourback visits --slab JOB/PLACEMENT`.")}
	if s.OnSite {
		notes[0] = s.text("Any slab: find its job under “Records”.")
	}
	if n := d.WithStory - len(d.Stories); n > 0 {
		notes = append(notes, s.plural(n, "1 more slab is not shown here.|{n} more slabs are not shown here.", nil))
	}
	return notes
}

// Method says in what order slabs come.
func (s Slabs) Method() []string {
	return []string{
		s.text("Slabs on which a visit found something, or which a customer called about. First come those with most at stake in the days to come, then those that have cost most."),
		s.text("Opened is the change since the measurement before. Visits note the widest crack, which need not be the same one each time."),
	}
}

// stands says how a slab stands.
func (s Slabs) stands(t *visits.Standing) string {
	return s.say("{stands}; {warranty}", with{"stands": s.state(t), "warranty": s.warrantyOf(t)})
}

func (s Slabs) state(t *visits.Standing) string {
	values := with{"kind": s.Word(t.Kind), "day": s.Day(t.On)}
	switch t.Code {
	case visits.StandOpen:
		return s.say("a callback ({kind}) has been open since {day}", values)
	case visits.StandLogged:
		return s.say("called about ({kind}); a job log does not say when that was closed", with{"kind": values["kind"]})
	case visits.StandUnclosed:
		return s.say("a callback ({kind}) of {day} has no closing day on record", values)
	case visits.StandClosed:
		return s.plural(t.Calls, "called about once ({kind}), and nothing is open|called about {n} times (last: {kind}), and nothing is open", with{"kind": values["kind"]})
	case visits.StandCracked:
		return s.say("a crack was seen on {day}, and nobody has called", with{"day": values["day"]})
	}
	return s.text("nothing is open")
}

func (s Slabs) warrantyOf(t *visits.Standing) string {
	if t.DaysLeft > 0 {
		return s.warrantyLeft(t.DaysLeft)
	}
	return s.say("its warranty ended on {day}", with{"day": s.Day(t.WarrantyEnds)})
}

// Caption says what a slab is: its use, size and reinforcement.
func (s Slabs) Caption(t *visits.SlabStory) string {
	return s.say("{slab}: {what}", with{"slab": slab(t.JobNo, t.Placement), "what": s.what(t)})
}

func (s Slabs) what(t *visits.SlabStory) string {
	what := []string{s.Word(s.Named(t.Use))}
	if t.AreaSqft.OK && t.ThicknessIn.OK {
		what = append(what, s.say("{area}, {thick} thick", with{"area": s.Area(t.AreaSqft.V), "thick": s.Inches(t.ThicknessIn.V)}))
	}
	if t.Reinforcement != "" {
		what = append(what, s.steel(t.Reinforcement))
	}
	return strings.Join(what, ", ")
}

// Card says what a slab is and how it stands, in a line or two.
func (s Slabs) Card(t *visits.SlabStory) string {
	return s.say("{slab}. {stands}.", with{"slab": Capital(s.what(t)), "stands": s.Now(t)})
}

// Story names what is folded under a card.
func (f Frame) Story() string { return f.text("The story") }

// Now says how a slab stands, what it cost and what is at stake.
func (s Slabs) Now(t *visits.SlabStory) string {
	said := []string{Capital(s.stands(&t.Stands))}
	if t.Cost.Known() {
		said = append(said, s.say("callbacks cost {cost} so far", with{"cost": s.Value(s.Cash(), t.Cost)}))
	}
	if t.Worth.Known() && t.Worth.Value > 0 {
		said = append(said, s.say("{cost} at stake in the days to come", with{"cost": s.Short(s.About(), t.Worth)}))
	}
	return strings.Join(said, "; ")
}

// Look says what a visit found.
func (s Slabs) Look(l *visits.StoryLook) string {
	what := []string{s.Word(l.Finding)}
	if l.Kind != "" {
		what = append(what, s.Word(l.Kind))
	}
	switch l.AtJoint {
	case record.Yes:
		what = append(what, s.text("in a joint"))
	case record.No:
		what = append(what, s.text("not in a joint"))
	}
	if l.Length.OK {
		what = append(what, s.say("{length} long", with{"length": s.Feet(l.Length.V)}))
	}
	said := []string{s.say("{why}: {what}", with{"why": Capital(s.Word(l.Why)), "what": strings.Join(what, ", ")})}
	if l.Resolved != 0 {
		said = append(said, s.say("closed {day}", with{"day": l.Resolved.String()}))
	} else if l.Why == "callback" {
		said = append(said, s.text("no closing day on record"))
	}
	if l.Note != "" {
		said = append(said, Clean(l.Note, ShortName))
	}
	return Clean(strings.Join(said, "; "), LongText)
}
