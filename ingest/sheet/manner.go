package sheet

import (
	"math"
	"strings"
	"unicode"

	"pourback/ingest/record"
)

// manner is how the cells of a column are read where they may say more than one
// value, or say it in words. It reads a cell that holds something, and notes in
// say what there is to say; a cell that it cannot read it fails.
type manner func(r *cellReader, c *column, field any, text string)

// manners are the columns that people write in ways of their own.
var manners = map[*record.Table]map[string]manner{
	record.Placements: {
		"use": (*cellReader).readUse, "method": (*cellReader).readMethod,
		"area_sqft": (*cellReader).readArea, "thickness_in": (*cellReader).readThickness,
		"neat_yd": (*cellReader).readSum, "planned_yd": (*cellReader).readSum, "delivered_yd": (*cellReader).readSum, "leftover_yd": (*cellReader).readLeftover,
		"reinforcement": (*cellReader).readSteel, "bar": (*cellReader).readBar, "joint_spacing_ft": (*cellReader).readJoints, "joint_cut": (*cellReader).readCut,
		"mix_psi": (*cellReader).readStrength, "labor_hours": (*cellReader).readCrewHours, "crew_size": (*cellReader).readHeads,
		"contract_price": (*cellReader).readPrice, "bid_cost": (*cellReader).readMoney, "actual_cost": (*cellReader).readMoney, "change_orders": (*cellReader).readMoney,
		"air_temp_f":    (*cellReader).readTemp,
		"callback_cost": (*cellReader).readMoney, "callback_on": (*cellReader).readCallback, "callback_kind": (*cellReader).readFinding,
		"note": (*cellReader).readNote,
	},
	record.Jobs: {"contract_price": (*cellReader).readPrice, "bid_cost": (*cellReader).readMoney, "actual_cost": (*cellReader).readMoney},
	record.Loads: {"job_no": (*cellReader).readJobNo, "yards": (*cellReader).readSum,
		"batched_at": (*cellReader).readClock, "arrived_at": (*cellReader).readClock, "pour_start": (*cellReader).readClock, "pour_end": (*cellReader).readClock},
	record.Delays: {"job_no": (*cellReader).readJobNo, "cause": (*cellReader).readListed},
	record.Labors: {"job_no": (*cellReader).readJobNo, "task": (*cellReader).readListed, "hours": (*cellReader).readCrewHours},
	record.Costs:  {"job_no": (*cellReader).readJobNo, "item": (*cellReader).readListed, "actual_amount": (*cellReader).readMoney, "planned_amount": (*cellReader).readMoney},
	record.Visits: {"job_no": (*cellReader).readJobNo, "finding": (*cellReader).readFinding, "cost": (*cellReader).readMoney, "resolved_on": (*cellReader).readClosing},
}

// scratch is what a row says that no column of its record holds by itself.
type scratch struct {
	length, width record.Number // ft
	each          record.Number // hours of each of the crew
	eachOwn       bool          // said in the cell of all hours
	day           record.Date
	clocks        map[string]timeOfDay // by column, waiting for the row's day
	words         string               // of a vendor or memo
	told          callback             // in the note
	spent         record.Cents         // what the parts of the cost add up to
	parts         int                  // how many of them were read
	unread        bool                 // one of them could not be
	called        yearlessDay          // of a call back
}

// measures are what a job log has in place of a record's columns.
var measures = map[string]struct {
	spec  *record.Column
	read  manner
	takes string // the column that it speaks for
}{
	ColumnLength:    {measureColumn(ColumnLength), (*cellReader).readLength, "area_sqft"},
	ColumnWidth:     {measureColumn(ColumnWidth), (*cellReader).readWidth, "area_sqft"},
	ColumnSize:      {measureColumn(ColumnSize), (*cellReader).readSize, "area_sqft"},
	"day":           {&record.Column{Name: "day", Kind: record.KindDate}, (*cellReader).readRowDay, ""},
	columnHoursEach: {&record.Column{Name: columnHoursEach, Kind: record.KindNumber, Unit: record.Hour, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(200.0)}}, (*cellReader).readHoursEach, "labor_hours"},
	columnCostPart:  {&record.Column{Name: "actual_cost", Kind: record.KindMoney, Hard: record.Range{Min: record.Some(0.0)}}, (*cellReader).readCostPart, "actual_cost"},
	"vendor":        {&record.Column{Name: "vendor"}, (*cellReader).readVendor, "item"},
}

func measureColumn(name string) *record.Column {
	return &record.Column{Name: name, Kind: record.KindNumber, Unit: record.Foot, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(10000.0), Above: true}}
}

// spill puts a value that a cell of another column bears into the record, unless
// the file has a column of its own for it or the record a value.
func (r *cellReader) spill(name string, set func(field any)) {
	i := r.table.Index(name)
	if i < 0 || i < len(r.own) && r.own[i] || r.fields == nil || !record.IsMissing(r.fields[i]) {
		return
	}
	r.spilled = true
	set(r.fields[i])
	c := &r.table.Columns[i]
	if v, ok := r.fields[i].(*record.Number); ok && (c.Hard.Below(v.V) || c.Hard.Beyond(v.V)) {
		*v = record.Number{} // no cell of its own column would be taken so
	}
}

func setNumber(v float64) func(any) {
	return func(f any) { *f.(*record.Number) = record.Some(v) }
}

func setText(s string) func(any) { return func(f any) { *f.(*string) = s } }

// remembered is the term that a cell was read as before, or what read makes of it
// now; what cannot be told from its words alone is left to the plain way.
func (r *cellReader) remembered(c *column, text string, read func(folded string) string) string {
	key := wordIn{c.target, text}
	if w, ok := r.heard[key]; ok {
		r.say = append(r.say, w.said...)
		return w.term
	}
	if term := read(foldWords(text)); term != "" {
		if r.heard == nil || len(r.heard) > 1000 {
			r.heard = map[wordIn]wordRead{}
		}
		r.heard[key] = wordRead{term: term}
		return term
	}
	return r.readString(c, text)
}

func (r *cellReader) readArea(c *column, field any, text string) {
	if s, ok := parseSizeIn(text, r.habit, areaSides(c.measure)); ok {
		r.setSize(s)
		*field.(*record.Number) = r.area(s)
		return
	}
	if r.loose && fractionOnly.MatchString(plainSigns(text)) {
		r.say.fail(codeNotNumber, "not an area", "write one such as 480")
		return
	}
	r.readSum(c, field, text)
}

// fractionOnly finds two numbers that a stroke parts, which as a fraction make no
// area: 500/550.
var fractionOnly = patternOf(`^\d+\s*/\s*\d+$`)

// areaSides is the measure of sides in a column of areas: metres beside square
// metres.
func areaSides(m measure) measure {
	if !m.foreign {
		return ownUnit(record.Foot)
	}
	factor, _, _ := record.Foot.Scale("m")
	return measure{record.Foot, factor, 0, true}
}

func (r *cellReader) area(s size) record.Number {
	spec := r.table.Column("area_sqft")
	c := &column{spec: spec}
	c.lo, c.hi = plainRange(spec)
	return record.Number{V: s.area.V, OK: s.area.OK && r.inRange(c, s.area.V, true)}
}

// setSize takes over the depth that a size bears.
func (r *cellReader) setSize(s size) {
	if s.depth.OK {
		r.spill("thickness_in", setNumber(s.depth.V))
	}
}

func (r *cellReader) readSize(c *column, _ any, text string) {
	if !r.own[r.table.Index("thickness_in")] {
		text = deepOrLong.ReplaceAllString(plainSigns(text), "$1 @ $2")
	}
	s, ok := parseSizeIn(text, r.habit, c.measure)
	if !ok && !c.foreign {
		s, ok = areasAdded(text, r.habit)
	}
	if !ok {
		r.say.fail(codeNotSize, "not a size", `write one such as 24x40x4, or 24' x 40' @ 4"`)
		return
	}
	r.setSize(s)
	if a := r.area(s); a.OK {
		r.spill("area_sqft", setNumber(a.V))
	}
}

// deepOrLong finds inches behind whole feet, which are the slab's depth where no
// column bears it: 24' x 40' 4"
var deepOrLong = patternOf(`(?i)^(\d+\s*(?:'|ft\.?)\s*(?:x|×|by)\s*\d+\s*(?:'|ft\.?))\s+([3-8](?:\.5| 1/2)?\s*(?:"|in\.?))$`)

// areasAdded reads areas that add up: 200 + 30.
func areasAdded(text string, h habit) (size, bool) {
	if _, sum := sumTerms(plainSigns(text)); !sum {
		v, plain := plainFigures(plainSigns(text), h)
		return size{area: record.Some(v)}, plain && v >= leastArea
	}
	var ignored remarks
	a, ok := parseSum(text, ownUnit(record.SquareFoot), h, &ignored)
	return size{area: record.Some(a.value)}, ok
}

// readLength reads a side, or the whole area where a slab has no sides: 504 sf.
func (r *cellReader) readLength(c *column, _ any, text string) {
	if s, ok := areaAndDepth(plainLower(text), r.habit); ok {
		if a := r.area(s); a.OK {
			r.setSize(s)
			r.spill("area_sqft", setNumber(a.V))
			r.spilled = true
			return
		}
	}
	r.scratch.length = r.side(c, text)
}

func (r *cellReader) readWidth(c *column, _ any, text string) { r.scratch.width = r.side(c, text) }

func (r *cellReader) side(c *column, text string) record.Number {
	a, ok := r.quantity(c, text)
	return record.Number{V: a.value, OK: ok}
}

func (r *cellReader) readThickness(c *column, field any, text string) {
	f := field.(*record.Number)
	*f = record.Number{}
	if isMissingWord(plainSigns(text)) {
		return
	}
	if v, ok := plainFigures(text, r.habit); ok && (v >= 1 || !r.loose || c.foreign) {
		*f = record.Number{V: c.bare(v), OK: r.inRange(c, c.bare(v), c.foreign)}
		return
	}
	a, edge, ok := parseThickness(text, c.measure, r.habit, &r.say)
	if !ok {
		r.wasDate(c, text)
	}
	if ok && r.loose && a.value < 1 {
		r.say.fail(codeNotNumber, "not a thickness in inches", "write one such as 4, or 4.5")
		return
	}
	*f = record.Number{V: a.value, OK: ok && r.inRange(c, a.value, a.converted)}
	if edge.OK && f.OK {
		r.spill("edge_in", setNumber(edge.V))
	}
}

// readHeads reads how many people, with a word behind the number or none.
func (r *cellReader) readHeads(c *column, field any, text string) {
	s := inFigures(plainLower(text))
	if p := andMe.FindStringSubmatch(s); p != nil {
		s = trimFloat(float64(atoi(p[1]) + 1))
	}
	s = strings.TrimSpace(ofUs.ReplaceAllString(personWord.ReplaceAllString(s, ""), ""))
	s = strings.TrimPrefix(s, "of ")
	if s = strings.TrimSpace(s); s == "" || !isDigit(s[0]) {
		s = text
	}
	r.readKind(c, field, s)
}

func (r *cellReader) readPrice(c *column, field any, text string) {
	f := field.(*record.Money)
	*f = record.Money{}
	if isMissingWord(plainSigns(text)) {
		return
	}
	if r.isRate(text) {
		return
	}
	text = evenDash.ReplaceAllString(text, "$1")
	p, ok := parseChanged(text, r.habit, &r.say)
	*f = record.Money{V: p.price, OK: ok && r.inRange(c, p.price.Dollars(), false)}
	if f.OK && p.change.OK {
		r.spill("change_orders", func(field any) { *field.(*record.Money) = p.change })
	}
}

func (r *cellReader) readMoney(c *column, field any, text string) {
	f := field.(*record.Money)
	*f = record.Money{}
	if s := plainSigns(text); r.table == record.Visits && freeOfCharge.MatchString(s) {
		*f = record.Some(record.Cents(0))
		return
	}
	if isMissingWord(plainSigns(text)) || c.asks && noCallback.MatchString(strings.ToLower(plainSigns(text))) {
		return
	}
	if strings.HasPrefix(c.spec.Name, "callback") && freeOfCharge.MatchString(plainSigns(text)) {
		*f = record.Some(record.Cents(0))
		return
	}
	if r.loose && c.spec.Name == "change_orders" && noCallback.MatchString(strings.ToLower(plainSigns(text))) {
		return
	}
	if v, bare := plainFigures(plainSigns(text), r.habit); bare && r.loose && c.spec.Name == "change_orders" && v == math.Trunc(v) && v > 0 && v < 10 {
		r.say.fail(codeNotMoney, "how many, or how much, is not said", "write an amount, such as 450.00")
		return
	}
	if r.isRate(text) {
		return
	}
	if c.spec.Hard.Min.OK {
		text = evenDash.ReplaceAllString(text, "$1")
	}
	v, ok := parseMoneySum(text, r.habit, &r.say)
	*f = record.Money{V: v, OK: ok && r.inRange(c, v.Dollars(), false)}
}

// readFinding reads a finding that is told in words.
func (r *cellReader) readFinding(c *column, field any, text string) {
	f := field.(*string)
	if c.kind != "" {
		switch folded := strings.ToLower(strings.TrimSpace(plainSigns(text))); {
		case noCallback.MatchString(folded):
			return
		case yesCallback.MatchString(folded):
			*f = c.kind
			return
		}
	}
	if _, ok := c.words.terms[record.Fold(plainSigns(text))]; !ok {
		if term := foundIn(text); term != "" {
			if _, known := c.words.Find(term); known {
				*f = term
				if c.spec.Name == "finding" {
					r.spill("note", setText(strings.TrimSpace(text)))
				}
				return
			}
		}
		if c.spec.Name == "finding" && r.loose && saysSomething(text) {
			*f = "other"
			r.spill("note", setText(strings.TrimSpace(text)))
			return
		}
	}
	*f = r.readString(c, text)
}

// saysSomething says whether words tell of a thing of no kind in the list, and do
// not leave open whether it is so.
func saysSomething(text string) bool {
	s := plainLower(text)
	return strings.Count(s, " ") >= 2 && !hedged.MatchString(s) && !strings.ContainsAny(s, "?") && strings.ContainsFunc(s, unicode.IsLetter)
}

// readListed reads a word of a list from among other words.
func (r *cellReader) readListed(c *column, field any, text string) {
	*field.(*string) = r.remembered(c, text, c.anyTerm)
}

// jobWord is what papers write before a job's number.
var jobWord = patternOf(`(?i)^(?:(?:job|proj(?:ect)?|trabajo|obra)\b\.?\s*(?:no\b\.?|number\b|#)?\s*|#\s*)(.*\d.*)$`)

// readJobNo reads the number by which a paper names a job: 1068, JOB 1068,
// 1068:Agate driveway.
func (r *cellReader) readJobNo(c *column, field any, text string) {
	if r.loose {
		if before, _, found := strings.Cut(text, ":"); found && strings.ContainsFunc(before, unicode.IsDigit) {
			text = before
		}
		if p := jobWord.FindStringSubmatch(strings.TrimSpace(text)); p != nil {
			text = p[1]
		}
		text = r.jobs.meant(strings.TrimSpace(text))
	}
	r.readKind(c, field, text)
}

// readClosing reads the day on which something was closed; yes and no say
// whether it was, not when.
func (r *cellReader) readClosing(c *column, field any, text string) {
	folded := strings.ToLower(plainSigns(text))
	if yesCallback.MatchString(folded) || noCallback.MatchString(folded) || folded == "done" || folded == "fixed" {
		*field.(*record.Date) = 0
		return
	}
	r.readKind(c, field, text)
}

// readClock reads a time of day that waits for the day of its row, or a time
// with its day.
func (r *cellReader) readClock(c *column, field any, text string) {
	if day, at, ok := cutClock(plainSigns(text)); ok && day == "" && r.loose {
		*field.(*record.Moment) = 0
		if r.scratch.clocks == nil {
			r.scratch.clocks = map[string]timeOfDay{}
		}
		r.scratch.clocks[c.spec.Name] = at
		r.spilled = true
		return
	}
	r.readKind(c, field, text)
}

func (r *cellReader) readRowDay(c *column, _ any, text string) {
	if d, ok := parseDay(text, c.cal, &r.say); ok {
		r.scratch.day = d.date
		r.countAmbiguous(d.either)
	}
}

// columnHoursEach is a column of the hours of each of the crew: with how many
// there are, it gives labor_hours.
const columnHoursEach = "hours_each"

func (r *cellReader) readHoursEach(c *column, _ any, text string) { r.scratch.each = r.side(c, text) }

func (r *cellReader) readVendor(_ *column, _ any, text string) {
	r.scratch.words = strings.TrimSpace(r.scratch.words + " " + text)
}
