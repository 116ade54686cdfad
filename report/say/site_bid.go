package say

import (
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
	"pourback/analysis/concrete"
	"pourback/ingest/record"
)

// Words of the form for a bid.

func (s Site) NewBid() string      { return s.text("New bid") }
func (s Site) TheJob() string      { return s.text("The job") }
func (s Site) MoreOfJob() string   { return s.text("Margin, crew and terms") }
func (s Site) PourDayMore() string { return s.text("Trucks and weather on the day") }
func (s Site) PricesMore() string  { return s.text("Prices of this job") }
func (s Site) ShapeMore() string   { return s.text("Other shapes, thick edges, steps") }
func (s Site) SlabMore() string    { return s.text("Bars, base, finish, mix") }
func (s Site) WorkItOut() string   { return s.text("Work it out") }
func (s Site) KeepBid() string     { return s.text("Keep this bid") }
func (s Site) KeepVersion() string { return s.text("Keep as a new version") }
func (s Site) AddSlab() string     { return s.text("Add another slab") }
func (s Site) DropSlab() string    { return s.text("Take this slab out") }
func (s Site) MoreCosts() string   { return s.text("Any other cost, by its name") }
func (s Site) CostFor() string     { return s.text("What for") }
func (s Site) CostAmount() string  { return s.text("Amount") }
func (s Site) NotSaid() string     { return s.text("not said") }
func (s Site) AverageCrew() string { return s.text("an average crew") }
func (s Site) NotKept() string     { return s.text("Not kept: see what is marked.") }
func (s Site) MendIt() string      { return s.text("No bid can be made yet: see what is marked.") }
func (s Site) BidFollows() string {
	return s.text("The price follows as you type. Nothing is kept until you say so.")
}
func (s Site) FromCommon() string {
	return s.text("A field left empty goes by your records, or by common practice.")
}

// Slab heads the fields of one slab of several.
func (s Site) Slab(n int) string { return s.say("Slab {n}", with{"n": Count(n)}) }

// Needs says what is still missing before a bid can be made.
func (s Site) Needs(fields []string) string {
	return s.say("Still to fill in: {fields}.", with{"fields": s.List(fields)})
}

// IfEmpty says what a field goes by that is left empty.
func (s Site) IfEmpty(value string) string {
	return s.say("If empty: {value}", with{"value": value})
}

// Choice is a word to choose, or several joined by a plus.
func (s Site) Choice(word string) string {
	switch word {
	case "yes":
		return s.text("yes")
	case "no":
		return s.text("no")
	}
	parts := strings.Split(word, "+")
	for i, part := range parts {
		parts[i] = s.Word(part)
	}
	return strings.Join(parts, " + ")
}

// Usually is a word that stands where nothing is chosen.
func (s Site) Usually(word string) string {
	return s.say("{word}, unless you choose", with{"word": word})
}

// NotPriced says which lines of cost a bid leaves out, "" where none.
func (s Site) NotPriced(c *bid.Cost) string {
	if len(c.NotIncluded) == 0 {
		return ""
	}
	names := make([]string, len(c.NotIncluded))
	for i, name := range c.NotIncluded {
		names[i] = Bid(s).Item(bid.CostItem{Item: name})
	}
	return s.say("Not in the price: {lines}. Price what this job has, or say which lines it does not have.", with{"lines": s.List(names)})
}

// GoesBy is a setting that a bid goes by, with what it stands on.
func (s Site) GoesBy(b *bid.Bid, set bid.Setting) string {
	w := Bid(s)
	return s.say("{value} ({from})", with{"value": w.SettingValue(set), "from": Lower(w.From(set.Basis).Text)})
}

// Words of what a bid comes to.

func (s Site) ResultsName() string  { return s.text("What it comes to") }
func (s Site) AskTile() string      { return s.text("Ask") }
func (s Site) OrderTile() string    { return s.text("Order") }
func (s Site) HoursTile() string    { return s.text("Crew hours") }
func (s Site) CostTile() string     { return s.text("Costs you") }
func (s Site) CostLines() string    { return s.text("What it costs, on average") }
func (s Site) OptionsTitle() string { return s.text("Other ways to do it") }
func (s Site) OptionsWay() string   { return s.text("Way") }
func (s Site) OptionsAsk() string   { return s.text("Ask") }
func (s Site) OptionsMore() string  { return s.text("More or less") }
func (s Site) OptionsWhat() string  { return s.text("What changes") }
func (s Site) OptionsAsIs() string  { return s.text("as you have it") }
func (s Site) OptionsNone() string  { return s.text("the cost stays about the same") }
func (s Site) OptionsNotes() string {
	return s.text("Each is a whole bid of its own, with one thing done otherwise for every slab.")
}
func (s Site) OptionsNoRisk() string {
	return s.text("Price is one side: how slabs hold up stands on the report's pages.")
}

// Option names another way to do a job.
func (s Site) Option(o bid.Option) string {
	switch o.Way {
	case bid.OptionNoSteel:
		return s.text("no reinforcement")
	case bid.OptionMesh:
		return s.text("mesh")
	case bid.OptionRebar:
		return s.text("rebar")
	case bid.OptionFiber:
		return s.text("fiber")
	case bid.OptionChute:
		return s.text("off the chute")
	case bid.OptionPump:
		return s.text("with a pump")
	}
	return s.say("joints up to {spacing} apart", with{"spacing": s.Feet(o.SpacingFt)})
}

// Otherwise says which lines of cost an option changes most.
func (s Site) Otherwise(c *bid.Comparison) string {
	if why := (Compared(s)).why(c); why != "" {
		return Capital(why) + "."
	}
	return Capital(s.OptionsNone()) + "."
}

// OrderSaid is what to order on the days of a bid, in a word or two.
func (s Site) OrderSaid(b *bid.Bid) string {
	w := Bid(s)
	if len(b.Days) == 1 && b.Days[0].TwoSteps() {
		d := &b.Days[0]
		return s.say("{first}, then about {held}", with{"first": w.Ordered(d.Hold.FirstYd), "held": w.Tenths(d.Hold.HoldYd)})
	}
	sum := 0.0
	for i := range b.Days {
		sum += b.Days[i].Order.Yd
	}
	return w.Ordered(sum)
}

// BidBar is a bid in a line, for the foot of a phone.
func (s Site) BidBar(b *bid.Bid) string {
	return s.say("{ask} · {order} · {hours}", with{"ask": Bid(s).Asked(b.Price.Asked), "order": s.OrderSaid(b), "hours": s.Hours(b.Labor.Mean.Figure.Value)})
}

// Words of a kept bid.

func (s Site) BidsTitle() string     { return s.text("Bids") }
func (s Site) PapersTitle() string   { return s.text("Papers to print") }
func (s Site) CostSheet() string     { return s.text("Cost sheet, for the office") }
func (s Site) ProposalPaper() string { return s.text("Proposal, for the customer") }
func (s Site) PourDayPaper() string  { return s.text("Pour-day sheet, for the crew") }
func (s Site) BalanceLink() string   { return s.text("Last load, during the pour") }
func (s Site) ReviseIt() string      { return s.text("Revise") }
func (s Site) CopyIt() string        { return s.text("Copy for another job") }
func (s Site) MarkWon() string       { return s.text("Won") }
func (s Site) MarkLost() string      { return s.text("Lost") }
func (s Site) MarkVoid() string      { return s.text("Void") }
func (s Site) MarkOpen() string      { return s.text("Open again") }
func (s Site) VoidMeans() string {
	return s.text("Void: withdrawn or made by mistake. It counts nowhere.")
}
func (s Site) LinkLabelJob() string { return s.text("Job number") }
func (s Site) LinkDo() string       { return s.text("Link") }
func (s Site) LinkMeans() string {
	return s.text("Once the records of this job come in, the bid is held against them.")
}
func (s Site) CompareTitle() string { return s.text("Compare") }
func (s Site) CompareDo() string    { return s.text("Side by side") }
func (s Site) NextTitle() string    { return s.text("What next") }
func (s Site) AllBids() string      { return s.text("All bids") }
func (s Site) HowTheyTurned() string {
	return s.text("How bids turned out")
}

// RevisingTitle heads the form for a new version of a bid.
func (s Site) RevisingTitle(id int64) string {
	return s.say("Revise bid {id}", with{"id": Count(int(id))})
}

// CopiedFrom says what a form was filled in from.
func (s Site) CopiedFrom(id int64) string {
	return s.say("Filled in from bid {id}. It becomes a bid of its own.", with{"id": Count(int(id))})
}

// OldVersion says what keeping a revision does.
func (s Site) OldVersion(id int64) string {
	return s.say("Kept, it takes the place of bid {id}, by today's records.", with{"id": Count(int(id))})
}

// BidNumber names a bid by its number.
func (s Site) BidNumber(id int64) string {
	return s.say("Bid {id}", with{"id": Count(int(id))})
}

// NoBid says that there is no such bid.
func (s Site) NoBid(id string) string {
	return s.say("There is no bid {id}.", with{"id": Clean(id, ShortName)})
}
func (s Site) SeeBids() string { return s.text("See the list of bids.") }

// Replaced says that a bid was replaced, and what to do.
func (s Site) Replaced(id, by int64) string {
	return s.say("Bid {id} was replaced by bid {by}.", with{"id": Count(int(id)), "by": Count(int(by))})
}
func (s Site) ReplacedDo() string { return s.text("Mark or revise that one, or copy this one.") }

// MarkedBid says that only an open bid is revised.
func (s Site) MarkedBid(id int64, fate string) string {
	return s.say("Bid {id} is marked {fate}, and only an open bid is revised.", with{"id": Count(int(id)), "fate": Bids(s).fate(fate)})
}
func (s Site) MarkedBidDo() string { return s.text("Open it again first, or copy it.") }

// EarlierMarked says that an earlier version has a mark that stands in the way.
func (s Site) EarlierMarked(id int64, fate string) string {
	return s.say("Bid {id} is an earlier version, and is marked {fate}.", with{"id": Count(int(id)), "fate": Bids(s).fate(fate)})
}
func (s Site) EarlierMarkedDo() string { return s.text("Open that one again first.") }
func (s Site) LongJob() string         { return s.text("The job number is too long.") }
func (s Site) LongJobDo() string       { return s.text("Write at most 40 characters.") }
func (s Site) TwoBids() string         { return s.text("Two bids are wanted, not the same one twice.") }

// Words of the crew's pours, and of the last load.

func (s Site) PoursTitle() string { return s.text("Pours") }
func (s Site) NoPours() string    { return s.text("No pour is planned: no bid is open or won.") }

// PourTitle and the others are of the page that the code on a pour-day sheet leads to.
func (s Site) PourTitle(job string) string {
	return s.say("Pour of job {job}", with{"job": Clean(job, ShortName)})
}
func (s Site) PourUnknown() string {
	return s.text("No kept bid is for this job: it has no pour-day sheet here.")
}
func (s Site) PourUnknownDo() string {
	return s.text("Look under “Pours”, or ask the office to write the job number on the bid.")
}
func (s Site) SheetLink() string    { return s.text("Pour-day sheet") }
func (s Site) LastLoad() string     { return s.text("Last load") }
func (s Site) PlacedLabel() string  { return s.text("Yards placed so far") }
func (s Site) CoveredLabel() string { return s.text("Share of the area covered, in %") }
func (s Site) OnHandLabel() string  { return s.text("Yards on hand or on the way") }
func (s Site) OnHandIfEmpty() string {
	return s.text("If empty: what was ordered first, less what is placed.")
}
func (s Site) DayLabel() string  { return s.text("Pour day") }
func (s Site) TellMe() string    { return s.text("What to call in") }
func (s Site) BeforeYou() string { return s.text("Before the pour") }
func (s Site) BalanceFollows() string {
	return s.text("Fill in both, and the answer stands here.")
}

// CallAt says by when to call in the last load of a day.
func (s Site) CallAt(d *bid.Day) string {
	big, says := PourDay{Bid(s)}.Calling(d)
	return s.say("{when}. {says}", with{"when": Capital(big), "says": says})
}

// CallNowBy says until when a call still comes in time.
func (s Site) CallNowBy(c *clock.Call) string {
	return s.say("Call by {time}: it comes {lead} later, before the edge sets.", with{"time": PourDay{Bid(s)}.Time(c.Latest), "lead": s.Minutes(float64(c.LeadMin))})
}

// PourOn says when a bid is poured.
func (s Site) PourOn(b *bid.Bid) string { return Bid(s).when(b) }

// KeepsShare says what a price keeps, and how surely.
func (s Site) KeepsShare(b *bid.Bid) string {
	return s.say("Keeps {margin} or more {times}.", with{"margin": s.Percent(b.Price.Target), "times": s.TimesIn100(b.Price.Certainty)})
}

// OverDrawing says how much is on the drawing.
func (s Site) OverDrawing(b *bid.Bid) string {
	return s.say("On the drawing: {neat}.", with{"neat": Bid(s).Hundredths(b.NeatYd.Figure.Value)})
}

func (s Site) TheSlab() string   { return s.text("The slab") }
func (s Site) MoreTitle() string { return s.text("More, if you like") }
func (s Site) NoAnswer() string {
	return s.text("No answer just now. What you typed is still here: type on, or try again.")
}

// AskedFor, MadeOn, OpenSince and OfJob are what a list says of a bid.
func (s Site) AskedFor(price float64) string {
	return s.say("asked {price}", with{"price": s.Amount(price, 0)})
}
func (s Site) MadeOn(d record.Date) string { return s.say("made {day}", with{"day": s.Day(d)}) }
func (s Site) OpenSince(days int) string {
	if days <= 0 {
		return s.text("open since today")
	}
	return s.say("open for {days}", with{"days": s.Days(days)})
}
func (s Site) OfJob(job string) string {
	return s.say("job {job}", with{"job": Clean(job, ShortName)})
}

// OrderIs says what to order for a bid.
func (s Site) OrderIs(b *bid.Bid) string {
	return s.say("Order {order}.", with{"order": s.OrderSaid(b)})
}

// PourDayOf names a pour day of a bid that has several.
func (s Site) PourDayOf(d *bid.Day) string {
	return s.say("Day {day}: {placements}", with{"day": Count(d.Day), "placements": Clean(s.List(d.Placements), LongName)})
}

// BalanceNotes say what to do before the call, and what is taken to be on hand.
func (s Site) BalanceNotes(at concrete.Progress) []string {
	said := []string{Balance(s).Notes(concrete.Progress{})[0]}
	if at.OrderedYd > 0 {
		said = append(said, s.say("On hand is what was ordered first, {ordered}, less what is placed. If that is not so, fill it in.", with{"ordered": s.Yards(at.OrderedYd)}))
	}
	return said
}
func (s Site) BalanceWrong() string { return s.text("No answer by these numbers:") }
