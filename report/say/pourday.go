package say

import (
	"slices"
	"strings"

	"pourback/analysis/bid"
	"pourback/ingest/record"
)

// PourDay says the crew's sheet for the day of a pour. What is filled in keeps
// the names of the record columns in every language.
type PourDay struct{ Bid }

// PourWords are the words of the sheet that no figure stands in.
type PourWords struct {
	Lang, Title, Heading, Job, Order, Layout, Care, Facts, Blanks string
	Covered, Reckon, NoDesign, Fill, Metric, Unreviewed           string
	Placement, Area, Thickness, Neat, Pour                        string
	Calls, Form, OfDay, Decides                                   string
}

// Words are the words of the sheet that no figure stands in.
func (w PourDay) Words() PourWords {
	p := PourWords{Lang: w.Lang(), Unreviewed: w.Unreviewed(), Title: w.text("Pour-day sheet"), Heading: w.text("Pour day"), Job: w.text("Job"), Order: w.text("The concrete"), Layout: w.text("Joints"), Care: w.text("Take care"),
		Facts: w.text("The slab"), Blanks: w.text("Write down"), Covered: w.text("covered"),
		Reckon:   w.text("Find what is covered and about what is placed. After the arrow is all that the rest takes. Subtract what is still in the trucks, and call in the difference."),
		NoDesign: w.CautionsEnd(),
		Fill:     w.text("The small print names the columns of the record files."),
		Calls:    w.text("Phones"), Form: w.text("Open this job's form"), OfDay: w.text("The day"), Decides: w.text("The slab decides: as soon as the cut does not ravel, and before it cracks on its own."),
		Placement: w.text("Placement"), Area: w.text("Area"), Thickness: w.text("Thickness"), Neat: w.text("Neat volume"), Pour: w.text("Use, reinforcement, base, method")}
	if w.Units.Si {
		p.Metric = w.text("Where a value is metric, write its unit behind it: 7.6 m3, 100 mm, 29 C.")
	}
	return p
}

// OrderBig is the order of a day in large letters.
func (w PourDay) OrderBig(d *bid.Day) string {
	if d.TwoSteps() {
		return w.inLoads(w.say("Order first: {yards}", with{"yards": w.Ordered(d.Hold.FirstYd)}), d.Hold.Loads)
	}
	return w.inLoads(w.say("Order: {yards}", with{"yards": w.Ordered(d.Order.Yd)}), d.Order.Loads)
}

func (w PourDay) inLoads(order string, loads []float64) string {
	if len(loads) < 2 {
		return order
	}
	return w.say("{order}, in loads of {loads}", with{"order": order, "loads": w.Trucks(loads)})
}

// OrderLines are what the crew is told beside the order. Where there is no table
// to read the last load off, a kept bid's number tells the call that says it.
func (w PourDay) OrderLines(d *bid.Day, table bool, id string) []string {
	short := w.TimesIn100(d.Order.ChanceShort.Figure.Value)
	if !d.TwoSteps() {
		return []string{w.say("Nothing is held back. Have the plant's number at hand in case it runs short ({times}).", with{"times": short})}
	}
	lines := []string{
		w.say("Hold back about {yards} for the last load.", with{"yards": w.Tenths(d.Hold.HoldYd)}),
		w.say("When {yards} are placed and about {share} of the area is covered, measure what is left and call the last load in.", with{"yards": w.Ordered(d.Hold.CallAtYd), "share": w.Percent(d.Hold.CallAt)}),
		w.say("All at once it would be {yards}, which runs short {times}.", with{"yards": w.Ordered(d.Order.Yd), "times": short})}
	switch {
	case table || id == "":
	case w.OnSite:
		lines = append(lines, w.text("How much to call in: “Last load”, under “Pours”."))
	default:
		lines = append(lines, w.say("How much to call in: {command}", with{"command": "pourback balance --bid " + id + " --placed-yd __ --covered __"}))
	}
	return lines
}

// Reckoner heads the table to read the last load off.
func (w PourDay) Reckoner() string {
	if w.Units.Si {
		return w.text("placed → still needed (m³)")
	}
	return w.text("placed → still needed (yards)")
}

// Reckoned is a volume in that table: in quarters as a plant batches it, where it
// is such.
func (w PourDay) Reckoned(yd float64) string {
	if whole, part, ok := fraction(yd, 4); ok && !w.Units.Si {
		return mixed(whole, part, 4)
	}
	return trimmed(yd*w.Units.Volume.Factor, 2)
}

// Plan says what the drawing of a placement shows.
func (w PourDay) Plan(name string, j *bid.JointPlan) string {
	return w.say("{placement}: {panels}, the longest side {side}. Dashed lines are joints.",
		with{"placement": name, "panels": w.plural(len(j.Panels), "1 panel|{n} panels", nil), "side": w.Side(j.LongestFt)})
}

// PlanNotes are what is to be said beside the drawing.
func (w PourDay) PlanNotes(j *bid.JointPlan, asked bid.Placement) (said []string) {
	if len(j.Panels) > 0 && !j.Drawn {
		said = append(said, w.text("The bid gave an area but no shape: this plan only stands in for it. Lay the joints out on site."))
	}
	if j.CutFt.Figure.Value > 0 {
		said = append(said, w.say("Joints {depth} deep, {length} in all.", with{"depth": w.Depth(j.DepthIn).Text, "length": w.length(j.CutFt.Figure.Value)}))
	}
	for _, n := range j.Notes {
		switch n.Kind {
		case bid.JointFirst, bid.JointFirstCorner:
			if !j.Tooled {
				said = append(said, w.say("Cut the joint of {length} first: it is marked 1.", with{"length": w.Side(n.LengthFt)}))
			}
		case bid.JointBars:
			said = append(said, w.say("Bars across inside corners, drawn thick: {n}.", with{"n": Count(n.N)}))
		case bid.JointIsolated:
			said = append(said, w.text("Dotted lines: isolation joints, full depth."))
		}
	}
	return append(said, w.beside(asked)...)
}

// beside is what is poured in one with the slab.
func (w PourDay) beside(asked bid.Placement) (said []string) {
	if asked.EdgeDepthIn > 0 {
		values := with{"width": w.Inches(asked.EdgeWidthIn), "depth": w.Inches(asked.EdgeDepthIn)}
		if len(asked.EdgeSides) == 0 {
			said = append(said, w.say("Thickened edge all around: {width} wide, {depth} deep.", values))
		} else {
			sides := make([]string, len(asked.EdgeSides))
			for i, n := range asked.EdgeSides {
				sides[i] = Count(n)
			}
			values["sides"] = w.List(sides)
			said = append(said, w.say("Thickened edge on sides {sides}, counted from the first corner of the outline: {width} wide, {depth} deep.", values))
		}
	}
	if s := asked.Steps; s.Risers > 0 {
		said = append(said, w.say("Steps: {risers}, {rise} rise, {tread} tread, {width} wide.", with{"risers": Count(s.Risers), "rise": w.Inches(s.RiseIn), "tread": w.Inches(s.TreadIn), "width": w.Feet(s.WidthFt)}))
	}
	if c := asked.Curb; c.LengthFt > 0 {
		said = append(said, w.say("Curb: {length} long, {width} wide, {height} high.", with{"length": w.Feet(c.LengthFt), "width": w.Inches(c.WidthIn), "height": w.Inches(c.HeightIn)}))
	}
	return said
}

// Thick is how thick a placement is to be: from the least to the most of its depths
// where they differ; of steps alone nothing.
func (w PourDay) Thick(asked bid.Placement, meanIn float64) string {
	if d := asked.Depths; len(d) > 0 && slices.Min(d) < slices.Max(d) {
		return w.to(w.Inches(slices.Min(d)), w.Inches(slices.Max(d)))
	}
	switch {
	case asked.StepsOnly():
		return "—"
	case asked.ThicknessIn > 0:
		return w.Inches(asked.ThicknessIn)
	}
	return w.Inches(meanIn)
}

// What is a placement's use, reinforcement, base and method.
func (w PourDay) What(use, steel, bar, base, method string) string {
	var said []string
	for _, word := range append(append([]string{use}, strings.Split(steel, "+")...), bar, base, method) {
		switch word {
		case "":
		case "none":
			said = append(said, w.text("no reinforcement"))
		default:
			said = append(said, w.Word(word))
		}
	}
	return strings.Join(said, ", ")
}

// Both is a word in the reader's language, with the records' own behind it where that
// differs: what is written down is then read without anybody's asking.
func (w PourDay) Both(word string) string {
	if s := w.Word(word); s != Clean(word, ShortName) {
		return s + " (" + Clean(word, ShortName) + ")"
	}
	return Clean(word, ShortName)
}

// SawWhen is when to saw, "" where nothing is sawn.
func (w PourDay) SawWhen(s bid.Sawing) string {
	if when := w.Sawing(s); when != "" {
		return w.say("When to saw: {when}", with{"when": when})
	}
	return ""
}

// Fast says what the weather of the month asks for, "" where no pour of it
// dried so fast.
func (w PourDay) Fast(o bid.Weather) (text, source string) {
	often := w.dryingOften(o)
	if often == "" {
		return "", ""
	}
	return often + " " + w.text("Have fog or windbreaks, evaporation retarder and curing ready before the first truck."), "ACI 305R"
}

// dryingOften is how often slabs dried that fast, or what such a day is like where
// the records do not tell.
func (w PourDay) dryingOften(o bid.Weather) string {
	limit := w.Drying(o.Limit)
	switch f := o.Share.Figure; {
	case !f.Known():
		return w.say("On a hot, dry or windy day a fresh slab dries at {limit} and faster, and cracks while still soft. Read air, concrete, humidity and wind first.", with{"limit": limit})
	case f.Value > 0:
		return w.say("In {month}, {share} of your pours dried at {limit} or faster, where plastic cracking begins to threaten.",
			with{"share": w.At(Percent, f.Value), "month": w.MonthName(o.Month), "limit": limit})
	}
	return ""
}

// TruckTime is for the crew at the truck, with its public source. What water
// costs in strength is said by the measure in which it is added: a gallon a yard
// is 4.95 L/m³ (NIST SP 811).
func (w PourDay) TruckTime() (text, source string) {
	text, source = w.text("Finish discharging within 90 minutes of batching, unless otherwise agreed."), w.text("ASTM C94; NRMCA, from memory")
	if w.Units.Si {
		return text + " " + w.text("Each 5 L of water added to a cubic meter takes away some 1.0 to 1.4 MPa: write it down."), source
	}
	return text + " " + w.text("Each gallon of water added to a yard takes away some 150 to 200 psi: write it down."), source
}

// Code says what the code holds.
func (w PourDay) Code(jobNo, form string) string {
	if form == "" {
		return w.say("Code of job {job}", with{"job": jobNo})
	}
	return w.say("Code of the form of job {job}", with{"job": jobNo})
}

// Foot says which bid the sheet is of, by records of which day.
func (w PourDay) Foot(id, asOf string) string {
	if day, err := record.ParseDate(asOf); err == nil {
		asOf = w.Day(day)
	}
	if id == "" {
		return w.say("Bid made as of {day}", with{"day": asOf})
	}
	return w.say("Bid {id}, made as of {day}", with{"id": id, "day": asOf})
}

// Table heads the blanks of a record table: loads, delays, labor or placements.
func (w PourDay) Table(t *record.Table) string {
	switch t.Name {
	case "placements":
		return w.text("The slab")
	case "loads":
		return w.text("Trucks: a row for each")
	case "delays":
		return w.text("Stops: a row each time work stood still")
	}
	return w.text("Hours by task")
}

// WordsOf is a column's words with what they mean.
func (w PourDay) WordsOf(c *record.Column) string {
	words := make([]string, len(c.Words.Words))
	for i, word := range c.Words.Words {
		words[i] = w.Both(word)
	}
	return w.say("{what}: {words}", with{"what": w.Gloss(c.Name), "words": strings.Join(words, ", ")})
}
