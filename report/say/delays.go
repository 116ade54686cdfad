package say

import (
	"pourback/analysis/trade"
	"pourback/analysis/work"
)

// Delays says where time went.
type Delays struct{ *Voice }

func (d Delays) Title() string        { return d.text("Where time went, all placements") }
func (d Delays) Caption() string      { return d.text("Delays by cause, the costliest first") }
func (d Delays) HeadCause() string    { return d.text("Cause") }
func (d Delays) SpotsTitle() string   { return d.text("Where clogs sat") }
func (d Delays) SpotsCaption() string { return d.text("Clogs by spot, the costliest first") }
func (d Delays) HeadSpot() string     { return d.text("Spot") }
func (d Delays) HeadMinutes() string  { return d.text("Minutes") }
func (d Delays) HeadShare() string    { return d.text("Share") }
func (d Delays) HeadRunning() string  { return d.text("With those above") }
func (d Delays) HeadTimes() string    { return d.text("Times") }
func (d Delays) HeadEach() string     { return d.text("Minutes each") }
func (d Delays) HeadWait() string     { return d.text("The crew's wait") }
func (d Delays) Axis() string         { return d.text("minutes lost") }

// SpotsSay warns beside the table of spots.
func (d Delays) SpotsSay() string {
	return d.text("A clog in the hose is quick to find; one in the pump itself takes longest. Leave the clearing to the trained operator.")
}

// Most names the causes that come before the others.
func (d Delays) Most(causes []work.DelayCause) string {
	first := causes[0]
	switch {
	case len(causes) == 1:
		return d.say("Every delay on record has one cause: {cause}.", with{"cause": d.Word(first.Name)})
	case first.Name != "other" && first.Name != "unknown":
		return d.say("Most time goes to {cause}: {share} of all minutes lost.", with{"cause": d.Word(first.Name), "share": d.At(Percent, first.Share)})
	}
	next := causes[1]
	return d.say("{share} of all minutes lost fall under “{cause}”: write the cause down at each delay. Next comes {next}, with {part}.",
		with{"share": d.At(Percent, first.Share), "cause": d.Word(first.Name), "next": d.Word(next.Name), "part": d.At(Percent, next.Share)})
}

// Chart describes the chart of causes, Tip one of its bars.
func (d Delays) Chart() string {
	return d.text("A bar for each cause, the costliest first: the minutes lost to it, and on the right the share of all that it adds up to with those above.")
}

func (d Delays) Tip(c work.DelayCause) string {
	return d.say("{cause}: {minutes}, {share} of all", with{"cause": d.Word(c.Name), "minutes": d.Minutes(float64(c.Minutes)), "share": d.At(Percent, c.Share)})
}

func (d Delays) LateTitle() string { return d.text("Loads past the time limit") }
func (d Delays) LateCaption() string {
	return d.text("Pours by whether a load came late, and the callbacks that followed")
}
func (d Delays) HeadPours() string     { return d.text("Pours") }
func (d Delays) HeadNumber() string    { return d.text("Number") }
func (d Delays) HeadCallbacks() string { return d.text("Callbacks") }
func (d Delays) HeadYearly() string    { return d.text("Callbacks a year, on 100 pours") }
func (d Delays) WithLate() string      { return d.text("with a late load") }
func (d Delays) WithoutLate() string   { return d.text("without one") }

// Late says how many loads came late and what followed.
func (d Delays) Late(l *work.LateLoads) string {
	s := d.say("{late} of {loads} with times on record took over {limit} from batching to empty. {source} has long drawn the line there; a buyer may agree otherwise.",
		with{"late": Count(l.Late), "loads": d.plural(l.Known, "1 load|{n} loads", nil), "limit": d.Minutes(trade.DischargeMinutes), "source": "ASTM C94"})
	if l.Late == 0 {
		return s
	}
	s += " " + d.say("Of {late} with such a load, {called} had a callback. Of {others} without one, {rest} did.", with{
		"late": d.plural(l.With.Pours, "1 pour|{n} pours", nil), "called": Count(l.With.Callbacks),
		"others": d.plural(l.Without.Pours, "1 pour|{n} pours", nil), "rest": Count(l.Without.Callbacks)})
	return s + " " + d.followed(l)
}

func (d Delays) followed(l *work.LateLoads) string {
	times := d.Long(Times.As("{value} times as often"), l.Ratio)
	switch l.Verdict() {
	case work.LateMore:
		return d.say("Pours with a late load had callbacks {times} as the others.", with{"times": times})
	case work.LateFewer:
		return d.say("Pours with a late load had fewer callbacks: {times} as the others. That does not make late loads safe.", with{"times": times})
	case work.LateAlike:
		return d.text("The difference could easily be luck.")
	}
	return d.text("Too few to compare.")
}

// Notes say what is odd about the times and the crews behind the delays.
func (d Delays) Notes(w *work.Delays) []string {
	var notes []string
	if w.Late.Share.Known() {
		notes = append(notes, d.say("{share} come late.", with{"share": d.Long(ShareOf(w.Late.Share, "{value} in 100 loads", "{value} in 1,000 loads"), w.Late.Share)}))
	}
	if n := w.Late.Unlikely; n > 0 {
		notes = append(notes, d.plural(n, "1 load took so long that its times may be wrong: check them.|{n} loads took so long that their times may be wrong: check them.", nil))
	}
	if n := w.Assumed; n > 0 {
		notes = append(notes, d.plural(n, "1 delay has no crew size. It counts with your usual crew of {crew}.|{n} delays have no crew size. They count with your usual crew of {crew}.",
			with{"crew": Grouped(w.UsualCrew, 0)}))
	}
	return notes
}
