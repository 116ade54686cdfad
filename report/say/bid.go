package say

import (
	"cmp"
	"math"
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// Bid says a bid: its cost sheet for the office, and what is wrong with the
// spec of one.
type Bid struct{ *Voice }

// Title names the bid, by what is poured where it has no name of its own.
func (w Bid) Title(b *bid.Bid) string { return w.say("Bid: {name}", with{"name": w.Name(b)}) }

// Name is what the bid is called, or what is poured.
func (w Bid) Name(b *bid.Bid) string {
	if b.Spec.Name != "" {
		return Clean(b.Spec.Name, LongName)
	}
	parts := make([]string, 0, len(b.Placements))
	for i := range b.Placements {
		p := &b.Placements[i]
		parts = append(parts, w.say("{area} of {use}", with{"area": w.Area(p.AreaSqft), "use": w.Word(p.Use)}))
	}
	return Clean(w.List(parts), LongName)
}

// Unnamed heads the sheet of a company without a name.
func (w Bid) Unnamed() string { return w.text("Cost sheet") }

// Answer says what to order, what it takes and what to ask. That the concrete would
// come too late goes before all else.
func (w Bid) Answer(b *bid.Bid) string {
	said := make([]string, 0, len(b.Days)+3)
	if road, limit := b.TooFar(); road > 0 {
		said = append(said, w.say("The concrete would come too late: loading and the road take {road}, and a truck has {limit}. Use a nearer plant, or agree a retarder and a longer limit with the plant.",
			with{"road": w.Minutes(float64(road)), "limit": w.Minutes(float64(limit))}))
	}
	for i := range b.Days {
		said = append(said, w.orderOf(&b.Days[i], len(b.Days) > 1))
	}
	return strings.Join(append(said, w.say("Plan {hours} of labor.", with{"hours": w.Hours(b.Labor.Mean.Figure.Value)}),
		w.say("Ask {price}: that keeps {margin} or more {times}.",
			with{"price": w.Asked(b.Price.Asked), "margin": w.Percent(b.Price.Target), "times": w.TimesIn100(b.Price.Certainty)})), " ")
}

// orderOf is what to order for a day.
func (w Bid) orderOf(d *bid.Day, several bool) string {
	day := Count(d.Day)
	first, held := w.Ordered(d.Hold.FirstYd), w.Tenths(d.Hold.HoldYd)
	switch steps := d.TwoSteps(); {
	case steps && several:
		return w.say("Day {day}: order {first} and hold back about {held} for the last load.", with{"day": day, "first": first, "held": held})
	case steps:
		return w.say("Order {first} and hold back about {held} for the last load.", with{"first": first, "held": held})
	case several:
		return w.say("Day {day}: order {all}.", with{"day": day, "all": w.Ordered(d.Order.Yd)})
	}
	return w.say("Order {all}.", with{"all": w.Ordered(d.Order.Yd)})
}

// Tenths is a volume to think of, to a tenth.
func (w Bid) Tenths(yd float64) string { return w.Yards(math.Round(yd*10) / 10) }

// TimesIn100 is a chance as an owner would say it: "4 times in 100".
func (v *Voice) TimesIn100(p float64) string {
	switch {
	case p < 0.005:
		return v.text("less than once in 100")
	case p > 0.995:
		return v.text("more than 99 times in 100")
	}
	return v.plural(int(p*100+0.5), "once in 100|{n} times in 100", nil)
}

// Chance is a chance with its range: "9 times in 100 (5 to 15)".
func (w Bid) Chance(f figure.Figure) Cell {
	c := w.Cell(InHundred, f)
	if _, ends, bounded := strings.Cut(c.Text, " ("); f.Known() && bounded {
		c.Text = w.TimesIn100(f.Value) + " (" + ends
	} else if f.Known() {
		c.Text = w.TimesIn100(f.Value)
	}
	return c
}

// Basis says when the job is poured and what the bid rests on.
func (w Bid) Basis(b *bid.Bid) string {
	s, r := w.when(b), b.Records
	if b.JobNo != "" {
		s = w.say("Job {job}.", with{"job": Clean(b.JobNo, ShortName)}) + " " + s
	}
	if r.Placements == 0 {
		return s + " " + w.text("You have no placements on record yet. Every number below is common practice, a published guide or what you entered.")
	}
	s += " " + w.say("Your records as of {day} hold {placements}: {volumes} with volumes, {hours} with hours, {pumped} pumped ({counted} with clogs counted), and {callbacks}.", with{
		"day": w.AsOf(b.AsOf), "placements": w.plural(r.Placements, "1 placement|{n} placements", nil), "volumes": Count(r.Volumes), "hours": Count(r.Hours),
		"pumped": Count(r.AllPumped), "counted": Count(r.Pumped), "callbacks": w.plural(r.Callbacks, "1 callback|{n} callbacks", nil)})
	if b.Price.Basis.From != bid.FromRecords {
		s += " " + w.text("Too early to bid from your own records alone: this bid rests on common practice, and your crew's hours and yards may well differ.")
	}
	return s
}

// when is the day or the month of the pour.
func (w Bid) when(b *bid.Bid) string {
	if d, err := record.ParseDate(b.On); err == nil {
		return w.say("To pour on {day}.", with{"day": w.Day(d)})
	}
	month := w.MonthName(b.Month)
	if len(b.On) == len("2006-01") {
		month = w.Month(b.On)
	}
	return w.say("To pour in {month}.", with{"month": month})
}

// Reading says how the ranges are to be read.
func (w Bid) Reading() string {
	return w.text("Ranges are 80% ranges, unless one says otherwise: 8 jobs in 10 should land inside.")
}

// Method says how it was computed.
func (w Bid) Method() []string {
	return []string{
		w.text("The order is the cheapest one on average: concrete, disposal of what is left over, short loads, and an extra load if it runs short, each weighed by its chance."),
		w.text("The cost comes from simulated jobs, drawn from what is known of yards, hours, delays and callbacks. The price is the one that keeps the target margin as often as you asked."),
		w.text("Where your records are too few, common practice or a published guide stands in, and the bid says so at each number."),
	}
}

// Notes are what is to be said about the bid as a whole.
func (w Bid) Notes(b *bid.Bid) []string {
	said := make([]string, 0, len(b.Notes))
	for _, n := range b.Notes {
		said = append(said, w.note(n))
	}
	return said
}

func (w Bid) note(n bid.Note) string {
	switch n.Kind {
	case bid.NoteUnknownCrew:
		return w.say("Crew {crew} has no hours on record. An average crew stands in for it.", with{"crew": Clean(n.Name, ShortName)})
	case bid.NoteUnpriced:
		return w.say("Not in this bid: {item}. {jobs} on record paid for it, {each} each on average. If this job has it too, enter it as an item of that name.",
			with{"item": w.Word(n.Name), "jobs": w.plural(n.N, "1 job|{n} jobs", nil), "each": w.Dollars(n.Each)})
	case bid.NoteNewKind:
		like := []string{w.Word(n.Like)}
		if n.AndLike != "" {
			like = append(like, w.Word(n.AndLike))
		}
		return w.say("No {use} is on record yet. It borrows from {like}, most like it in thickness, method and size, and its ranges are wider for it.",
			with{"use": w.Word(n.Name), "like": w.List(like)})
	case bid.NoteNoBasePrice:
		return w.text("Not in this bid: the cost of the base. Your records do not tell it. Enter base_per_sqft or an item.")
	case bid.NoteBare:
		return w.text("An earlier version of this program kept this bid. What it did not keep is left out.")
	case bid.NoteCold:
		return w.cold(n)
	case bid.NoteWaitingInHours:
		return w.text("Your recorded hours include waiting. Its usual share is taken out of the hours and put back under delays, so it counts once.")
	}
	return ""
}

// cold is what the month of the pour asks for.
func (w Bid) cold(n bid.Note) string {
	said := w.say("Pours in {month} may be cold.", with{"month": w.MonthName(n.N)})
	if n.Each != 0 {
		said = w.say("Half of your pours in {month} were at {air} or colder.", with{"month": w.MonthName(n.N), "air": w.Degrees(n.Each)})
	}
	return said + " " + w.say("At {limit} and below ({source}) protect the slab: no frozen ground, a heated mix, blankets until it has its strength. Finishing takes longer, and so does the wait for the saw.",
		with{"limit": w.Degrees(40), "source": "ACI 306R"})
}

// Part names a placement: its use, and its name where there are several.
func (w Bid) Part(b *bid.Bid, p *bid.Part) string {
	if len(b.Placements) > 1 {
		return w.say("{name}, {use}", with{"name": Clean(p.Name, ShortName), "use": w.Word(p.Use)})
	}
	return w.Word(p.Use)
}

// Crew is the crew's name, or an average one.
func (w Bid) crew(name string) string {
	return cmp.Or(Clean(name, ShortName), w.text("an average crew"))
}
