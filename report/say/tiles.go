package say

import (
	"math"

	"pourback/analysis/concrete"
	"pourback/analysis/cracks"
	"pourback/analysis/findings"
	"pourback/analysis/money"
	"pourback/analysis/setting"
	"pourback/analysis/steel"
	"pourback/analysis/visits"
	"pourback/analysis/work"
)

// Tiles say what each page comes to, at a glance: the answer in a few words, and
// what it means in at most twelve.
type Tiles struct{ *Voice }

// tooEarly is an answer that is not known yet.
func (t Tiles) tooEarly() string { return t.text("Too early to say") }

// Month is what a month kept, beside its bids.
func (t Tiles) Month(m *money.Margin, asked string) (big, says string) {
	at := m.At(asked)
	if at < 0 {
		return t.tooEarly(), t.text("No job with a price and a cost ended in it.")
	}
	e := &m.Months[at].Earned
	if !e.MarginPct.Known() {
		return t.tooEarly(), t.text("It brought in no revenue.")
	}
	big = t.ofEachDollar(e.MarginPct.Value)
	gap, known := e.Gap()
	if !known {
		return big, t.text("Its bids are not all on record.")
	}
	against, causes := Bridge(t).againstBid(gap), []string{}
	for _, s := range e.Mostly() {
		if v := e.Step(s).Value; len(causes) < 2 && gap != 0 {
			causes = append(causes, t.say("{step} ({amount})", with{"step": t.step(s), "amount": t.Exactly(math.Abs(v))}))
		}
	}
	if len(causes) == 0 {
		return big, Capital(t.say("{against}.", with{"against": against}))
	}
	return big, Capital(t.say("{against}: {causes}.", with{"against": against, "causes": t.List(causes)}))
}

// step names a step of the bridge in a word or two.
func (t Tiles) step(s money.Step) string {
	switch s {
	case money.StepPrice:
		return t.text("prices")
	case money.StepChangeOrders:
		return t.text("change orders")
	case money.StepVolume:
		return t.text("thickness")
	case money.StepUsage:
		return t.text("extra concrete")
	case money.StepLaborRate:
		return t.text("wages")
	case money.StepLaborEfficiency:
		return t.text("crew hours")
	case money.StepDelay:
		return t.text("delays")
	case money.StepCallback:
		return t.text("callbacks")
	}
	return t.text("other")
}

// ofEachDollar is a margin in %, in large: "22¢ of the dollar".
func (t Tiles) ofEachDollar(pct float64) string {
	if t.Currency != "$" {
		return t.say("{share} kept", with{"share": t.cents(pct)})
	}
	return t.say("{cents} of the dollar", with{"cents": t.cents(pct)})
}

// KeptAt and BidAt name the lines of its picture by where they end.
func (t Tiles) KeptAt(pct float64) string { return t.say("kept {n}", with{"n": t.cents(pct)}) }
func (t Tiles) BidAt(pct float64) string  { return t.say("bid {n}", with{"n": t.cents(pct)}) }

// cents are a margin in % as cents of the dollar, short: "22¢".
func (t Tiles) cents(pct float64) string {
	if t.Currency != "$" {
		return t.unit(Grouped(pct, 0), "%")
	}
	return Grouped(pct, 0) + "¢"
}

// MonthSays is what its picture shows.
func (t Tiles) MonthSays(from, to string) string {
	return t.say("A line of the margin of each month from {from} to {to}, with the margin in the bids dashed.", with{"from": from, "to": to})
}

// Order is what to add to the drawing of the job that comes most often.
func (t Tiles) Order(o *concrete.Overage) (big, says string) {
	if o.All.N == 0 || len(o.First) == 0 {
		return t.tooEarly(), t.text("Write down yards delivered and left over at each pour.")
	}
	g := o.Groups[o.First[0]]
	w := Waste(t)
	big = t.say("Add {share}", with{"share": t.Percent(g.OrderAllowance.Value)})
	values := with{"order": t.Yards(g.OrderYd.Value), "neat": t.Yards(g.TypicalYd), "job": w.job(g.Use), "method": t.Word(g.Method)}
	switch g.Method {
	case "chute":
		return big, t.say("{order} for {neat} of {job} off the chute.", values)
	case "unknown":
		return big, t.say("{order} for {neat} of {job}.", values)
	}
	return big, t.say("{order} for {neat} of {job} by {method}.", values)
}

// OrderSays is what its picture shows.
func (t Tiles) OrderSays() string {
	return t.text("Lines of what to add to the drawing by the size of the job, one for each way of placing.")
}

// OrderTitle is the question of the tile.
func (t Tiles) OrderTitle() string { return t.text("What to order") }

// Steel is which to use.
func (t Tiles) Steel(r *steel.Reinforcement) (big, says string) {
	m := &r.MeshVsRebar
	switch m.Verdict {
	case steel.ForMesh, steel.ForRebar:
		less, sure := m.CostRebar.Value-m.CostMesh.Value, m.MeshCheaper.Value
		if m.Verdict == steel.ForRebar {
			less, sure = -less, 1-sure
		}
		return Capital(t.Made(string(m.Verdict))), t.say("Costs {less} less, callbacks counted. {sure}.", with{"less": t.perArea(less), "sure": Capital(t.Sure(sure))})
	}
	switch {
	case m.Verdict == steel.CannotTell || r.Why != nil || !m.RebarGain.Known():
		return t.text("Not settled"), t.say("Until then use what costs less to place: {steel}.", with{"steel": t.Made(m.Advice)})
	case math.Round(math.Abs(m.RebarGain.Value)) == 0:
		return t.text("Either is fine"), t.text("Not settled, and little money hangs on it.")
	}
	return t.say("{steel}, not settled", with{"steel": Capital(t.Made(m.Advice))}),
		t.say("The better bet by about {gain} a placement.", with{"gain": t.Exactly(math.Abs(m.RebarGain.Value))})
}

// SteelSays is what its picture shows, SteelScale what its bars are.
func (t Tiles) SteelSays() string {
	return t.text("A bar each for mesh and rebar: the cost of an area with callbacks counted, and its range.")
}

func (t Tiles) SteelScale() string {
	if t.Units.Si {
		return t.text("a m², callbacks counted")
	}
	return t.text("a square foot, callbacks counted")
}

// AreaCost is a cost of an area under a head that names the area.
func (t Tiles) AreaCost(perSqft float64) string { return t.areaCost(perSqft) }

// Crews is who needs fewer or more hours.
func (t Tiles) Crews(l *work.Labor, crews int) (big, says string) {
	if l == nil || !l.Reference.Known() {
		return t.tooEarly(), t.text("Write down area, thickness and hours at each pour.")
	}
	switch {
	case crews < 2:
		return t.text("One crew"), t.text("Name the crew of each pour to compare several.")
	case len(l.Apart) == 0:
		return t.text("No crew stands out"), t.text("On the same job their hours are alike.")
	}
	c := l.Apart[0]
	for _, other := range l.Apart[1:] {
		if math.Abs(math.Log(other.HoursVsAverage.Value)) > math.Abs(math.Log(c.HoursVsAverage.Value)) {
			c = other
		}
	}
	name, change := with{"crew": t.Named(c.Crew)}, with{"change": Crews(t).Change(c.HoursVsAverage.Value)}
	if c.HoursVsAverage.Value < 1 {
		return t.say("{crew} is fastest", name), t.say("{change} than an average crew on the same job.", change)
	}
	return t.say("{crew} is slowest", name), t.say("{change} than an average crew on the same job.", change)
}

// CrewSays is what its picture shows.
func (t Tiles) CrewSays() string {
	return t.text("A dot for each crew with its range: its hours against an average crew on the same job.")
}

// Faster and Slower name the sides of its picture.
func (t Tiles) Faster() string { return t.text("fewer hours") }
func (t Tiles) Slower() string { return t.text("more hours") }

// Pump is how often the line clogs, and whose.
func (t Tiles) Pump(p *work.Pump) (big, says string) {
	all := p.All
	switch {
	case all.Placements == 0:
		return t.tooEarly(), t.text("Write down yards and clogs at each pumped pour.")
	case all.Clogs == 0:
		return t.text("No clogs yet"), t.say("In {pumped} pumped.", with{"pumped": Pump(t).pumped(all.PumpedYd)})
	}
	rate := t.Value(Pump(t).Rate(all.ClogsPer100.Value), all.ClogsPer100)
	if v := p.Verdict; v.Kind == work.OneBetter && v.Most != "" {
		return t.say("{outfit} clogs most", with{"outfit": t.Named(v.Most)}), t.say("All outfits together: {rate}.", with{"rate": rate})
	}
	return Capital(rate), t.text("No outfit stands out.")
}

// PumpSays is what its picture shows, RateEnd the end of its scale.
func (t Tiles) PumpSays() string {
	return t.text("A dot for each pump outfit with its range: how often its line clogs.")
}

func (t Tiles) RateEnd(rate float64) string {
	if t.Units.Si {
		return t.say("{n} clogs in 100 m³", with{"n": Grouped(rate, 0)})
	}
	return t.say("{n} clogs in 100 yd", with{"n": Grouped(rate, 0)})
}

// Cracks is how many slabs bring a callback, or crack, within a year.
func (t Tiles) Cracks(c *cracks.Cracks) (big, says string) {
	if !c.All.Risk1Yr.Known() {
		return t.tooEarly(), t.text("No slab has been watched for a year.")
	}
	big = t.Value(ShareOf(c.All.Risk1Yr, "{value} slabs in 100", "{value} slabs in 1,000"), c.All.Risk1Yr)
	if c.Event == setting.EventSeen {
		return big, t.text("Seen with a crack within a year.")
	}
	return big, t.text("They bring a crack callback within a year.")
}

// CrackSays is what its picture shows: how many slabs of 100 have none at its end.
func (t Tiles) CrackSays(event, left string, years float64) string {
	values := with{"left": left, "years": trimmed(years, 1)}
	if event == setting.EventSeen {
		return t.say("A line that falls in steps: slabs of 100 without a crack seen, {left} after {years} years.", values)
	}
	return t.say("A line that falls in steps: slabs of 100 without a crack callback, {left} after {years} years.", values)
}

// WithoutCall names its line.
func (t Tiles) WithoutCall(event string) string {
	if event == setting.EventSeen {
		return t.text("no crack seen")
	}
	return t.text("no crack call")
}

// Years are so many, short.
func (t Tiles) Years(n int) string { return t.plural(n, "1 yr|{n} yr", nil) }

// Worth is the fact most worth money.
func (t Tiles) Worth(all []findings.Finding) (big, says string) {
	if len(all) == 0 {
		return t.text("Nothing stands out"), t.text("Go on as before.")
	}
	return t.say("{amount} a year", with{"amount": t.Dollars(all[0].Dollars.Value)}), t.say("{fact}.", with{"fact": Capital(t.Fact(all[0].Told))})
}

// WorthSays is what its picture shows.
func (t Tiles) WorthSays() string {
	return t.text("Bars of the facts worth most, in money a year.")
}

func (t Tiles) WorthTitle() string { return t.text("Worth money now") }

// Fact is a finding in a few words, for a bar of a picture.
func (t Tiles) Fact(told findings.Fact) string {
	switch told := told.(type) {
	case findings.Leftover:
		return t.text("concrete left over")
	case findings.Orders:
		return t.text("order by the waste table")
	case findings.SlowCrew:
		return t.say("{crew}'s hours", with{"crew": t.Named(told.Crew)})
	case findings.CloggingOutfit:
		return t.say("clogs of {outfit}", with{"outfit": t.Named(told.Outfit)})
	case findings.Waiting:
		return t.text("crews waiting")
	case findings.Callbacks:
		return t.text("callbacks")
	case findings.CrackLevel:
		return t.text("what goes with cracks")
	case findings.Steel:
		return t.text("mesh or rebar")
	case findings.StepLost:
		return Bridge(t).Cause(told.Step, false)
	case findings.KindOfBid:
		return t.say("low bids: {kind}", with{"kind": Findings(t).kind(told)})
	case findings.LowMonth:
		return t.ShortMonth(told.Month)
	case findings.FollowOn:
		return t.text("work from earlier jobs")
	case findings.Unpriced:
		return t.text("jobs without a price or cost")
	}
	return ""
}

// After is what is to be done after the pour.
func (t Tiles) After(v *visits.Visits) (big, says string) {
	switch n := len(v.Trips); {
	case v.NobodyWent && n == 0:
		big = t.text("No visit on record")
	case n == 0:
		big = t.text("No visit pays")
	default:
		big = t.plural(n, "1 visit pays|{n} visits pay", nil)
	}
	if len(v.Trips) > 0 {
		stop := &v.Trips[0]
		where := stop.JobNo
		if stop.Site != "" {
			where = stop.Site
		}
		return big, t.say("First: {where}.", with{"where": Clean(where, ShortName)})
	}
	switch n := len(v.PassBy); {
	case n == 0 && v.NobodyWent:
		return big, t.text("Look at finished slabs, and write down what you see.")
	case n == 0:
		return big, t.text("Nothing is due.")
	}
	return big, t.plural(len(v.PassBy), "Look at 1 site when you pass by.|Look at {n} sites when you pass by.", nil)
}

func (t Tiles) AfterTitle() string { return t.text("After the pour") }

// The lines of its list.
func (t Tiles) PassBy() string { return t.text("sites to pass by") }
func (t Tiles) Open() string   { return t.text("callbacks open") }
func (t Tiles) ToCome() string { return t.text("callback costs still to come") }

// Unknown stands for an amount that is not known.
func (t Tiles) Unknown() string { return t.text("not known") }

// Records is how many records there are to look at, and how many figures do
// without one.
func (t Tiles) Records(odd, leftOut int) (big, says string) {
	switch {
	case leftOut > 0:
		return t.plural(leftOut, "1 to fix|{n} to fix", nil), t.text("It cannot be right, so no figure counts it.")
	case odd > 0:
		return t.plural(odd, "1 looks odd|{n} look odd", nil), t.text("All count as they stand: give them a look.")
	}
	return t.text("Nothing to fix"), t.text("No record looks odd.")
}
