package sheet

import (
	"regexp"
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
		"reinforcement": (*cellReader).readSteel, "joint_spacing_ft": (*cellReader).readJoints, "joint_cut": (*cellReader).readCut,
		"labor_hours": (*cellReader).readCrewHours, "crew_size": (*cellReader).readHeads,
		"contract_price": (*cellReader).readPrice, "bid_cost": (*cellReader).readMoney, "actual_cost": (*cellReader).readMoney,
		"air_temp_f":    (*cellReader).readTemp,
		"callback_cost": (*cellReader).readMoney, "callback_on": (*cellReader).readCallback, "callback_kind": (*cellReader).readFinding,
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
	day           record.Date
	clocks        map[string]timeOfDay // by column, waiting for the row's day
	words         string               // of a vendor or memo
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

func (r *cellReader) readUse(c *column, field any, text string) {
	*field.(*string) = r.remembered(c, text, func(folded string) string { return termIn(c.words, folded) })
}

func (r *cellReader) readMethod(c *column, field any, text string) {
	f := field.(*string)
	if c.asks {
		switch folded := strings.ToLower(plainSigns(text)); {
		case yesCallback.MatchString(folded):
			*f = "pump"
			return
		case noCallback.MatchString(folded):
			*f = ""
			return
		}
	}
	*f = r.remembered(c, text, c.anyTerm)
}

// anyTerm is the term that a cell's words name, or else the first of its words
// that is one.
func (c *column) anyTerm(folded string) string {
	if term := termIn(c.words, folded); term != "" {
		return term
	}
	for _, word := range strings.Fields(folded) {
		if term, ok := c.words.terms[word]; ok {
			return term
		}
	}
	return ""
}

func (r *cellReader) readArea(c *column, field any, text string) {
	if s, ok := parseSizeIn(text, r.habit, areaSides(c.measure)); ok {
		r.setSize(s)
		*field.(*record.Number) = r.area(s)
		return
	}
	r.readSum(c, field, text)
}

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
	s, ok := parseSizeIn(text, r.habit, c.measure)
	if !ok {
		r.say.fail(codeNotSize, "not a size", `write one such as 24x40x4, or 24' x 40' @ 4"`)
		return
	}
	r.setSize(s)
	if a := r.area(s); a.OK {
		r.spill("area_sqft", setNumber(a.V))
	}
}

func (r *cellReader) readLength(c *column, _ any, text string) { r.scratch.length = r.side(c, text) }
func (r *cellReader) readWidth(c *column, _ any, text string)  { r.scratch.width = r.side(c, text) }

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
	if v, ok := plainFigures(text, r.habit); ok {
		*f = record.Number{V: c.bare(v), OK: r.inRange(c, c.bare(v), c.foreign)}
		return
	}
	a, edge, ok := parseThickness(text, c.measure, r.habit, &r.say)
	if !ok {
		r.wasDate(c, text)
	}
	*f = record.Number{V: a.value, OK: ok && r.inRange(c, a.value, a.converted)}
	if edge.OK && f.OK {
		r.spill("edge_in", setNumber(edge.V))
	}
}

func (r *cellReader) readSum(c *column, field any, text string) {
	f := field.(*record.Number)
	*f = record.Number{}
	if isMissingWord(plainSigns(text)) {
		return
	}
	if _, sum := sumTerms(plainSigns(text)); !sum {
		r.readFigures(c, field, text)
		return
	}
	a, ok := parseSum(text, c.measure, r.habit, &r.say)
	*f = record.Number{V: a.value, OK: ok && r.inRange(c, a.value, true)}
}

// readLeftover knows that none left over is zero.
func (r *cellReader) readLeftover(c *column, field any, text string) {
	switch record.Fold(plainSigns(text)) {
	case "none", "no", "nothing", "zero", "nada", "ninguno", "nil":
		*field.(*record.Number) = record.Some(0.0)
	case "half", "half yard", "half yd", "half a yard", "half a yd", "1 2 yard", "media yarda":
		*field.(*record.Number) = record.Some(c.bare(0.5))
	case "quarter yard", "quarter yd", "a quarter yard", "a quarter", "quarter", "quarter of a yard":
		*field.(*record.Number) = record.Some(c.bare(0.25))
	default:
		r.readSum(c, field, text)
	}
}

func (r *cellReader) readSteel(c *column, field any, text string) {
	f := field.(*string)
	*f = ""
	folded := foldWords(text)
	if term, ok := c.words.terms[folded]; ok {
		*f = term
		return
	}
	if isMissingWord(strings.ToLower(plainSigns(text))) {
		return
	}
	s, ok := parseSteel(text, r.habit)
	if !ok || len(s.kinds) > 1 && s.kinds[0] == "none" {
		*f = r.readString(c, text)
		return
	}
	*f = strings.Join(s.kinds, "+")
	if s.bar != "" {
		r.spill("bar", setText(s.bar))
	}
	if s.spacing.OK {
		r.spill("bar_spacing_in", setNumber(s.spacing.V))
	}
	if s.other != "" {
		r.say.warn(codeUnitLeftOut, "\""+s.other+"\" is left out", "write the bars' spacing as bar_spacing_in")
	}
}

func (r *cellReader) readJoints(c *column, field any, text string) {
	f := field.(*record.Number)
	*f = record.Number{}
	if isMissingWord(strings.ToLower(plainSigns(text))) && record.Fold(text) != "none" {
		return
	}
	if v, ok := plainFigures(text, r.habit); ok {
		*f = record.Number{V: c.bare(v), OK: r.inRange(c, c.bare(v), c.foreign)}
		return
	}
	j, ok := parseJoints(text, c.measure, r.habit, &r.say)
	if !ok {
		if !r.say.failed() {
			r.say.fail(codeNotNumber, "not a spacing of joints", "write one such as 8, 8x10 or saw 8'")
		}
		return
	}
	if j.spacing.OK {
		*f = record.Number{V: j.spacing.V, OK: r.inRange(c, j.spacing.V, true)}
	}
	if len(j.cuts) > 0 {
		r.spill("joint_cut", setText(strings.Join(j.cuts, "+")))
	}
}

// readCut reads how joints are made; a spacing beside it is kept.
func (r *cellReader) readCut(c *column, field any, text string) {
	f := field.(*string)
	if _, ok := c.words.terms[record.Fold(plainSigns(text))]; !ok {
		var ignored remarks
		if j, ok := parseJoints(text, ownUnit(record.Foot), r.habit, &ignored); ok && len(j.cuts) > 0 {
			*f = strings.Join(j.cuts, "+")
			if j.spacing.OK {
				r.spill("joint_spacing_ft", setNumber(j.spacing.V))
			}
			return
		}
	}
	*f = r.readString(c, text)
}

func (r *cellReader) readCrewHours(c *column, field any, text string) {
	f := field.(*record.Number)
	*f = record.Number{}
	if t, ok := parseCrewTime(text, r.habit); ok {
		hours := float64(t.people) * t.each
		*f = record.Number{V: hours, OK: r.inRange(c, hours, true)}
		r.spill("crew_size", func(field any) { *field.(*record.Count) = record.Some(t.people) })
		return
	}
	if hours, ok := parseCrewSum(text, r.habit); ok && !c.foreign {
		*f = record.Number{V: hours, OK: r.inRange(c, hours, true)}
		return
	}
	r.readSum(c, field, text)
}

// tempWords stand around a temperature and add nothing to it.
var tempWords = regexp.MustCompile(`(?i)^(?:high|hi|low|lo|about|around|upper|lower|max|min)\b[ :]*|[ ,]+(?:hot|cold|warm|windy|sunny|clear|cloudy|nice|high|humid|breezy|rain|overcast)$`)

// readTemp reads a temperature with a word about the weather beside it.
func (r *cellReader) readTemp(c *column, field any, text string) {
	s := tempWords.ReplaceAllString(plainSigns(text), "")
	if s == "" || !isDigit(s[0]) {
		s = text
	}
	r.readKind(c, field, s)
}

// readHeads reads how many people, with a word behind the number or none.
func (r *cellReader) readHeads(c *column, field any, text string) {
	s := strings.TrimPrefix(strings.TrimSpace(personWord.ReplaceAllString(strings.ToLower(plainSigns(text)), "")), "of ")
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
	p, ok := parseChanged(text, r.habit, &r.say)
	*f = record.Money{V: p.price, OK: ok && r.inRange(c, p.price.Dollars(), false)}
	if f.OK && p.change.OK {
		r.spill("change_orders", func(field any) { *field.(*record.Money) = p.change })
	}
}

func (r *cellReader) readMoney(c *column, field any, text string) {
	f := field.(*record.Money)
	*f = record.Money{}
	if isMissingWord(plainSigns(text)) || c.asks && noCallback.MatchString(strings.ToLower(plainSigns(text))) {
		return
	}
	v, ok := parseMoneySum(text, r.habit, &r.say)
	*f = record.Money{V: v, OK: ok && r.inRange(c, v.Dollars(), false)}
}

func (r *cellReader) readCallback(c *column, field any, text string) {
	f := field.(*record.Date)
	*f = 0
	if isMissingWord(strings.ToLower(plainSigns(text))) {
		return
	}
	cb, either, ok := parseCallback(text, c.cal, &r.say)
	if !ok {
		if !r.say.failed() {
			r.say.fail(codeNotDate, "not a call back that is understood", "write its day and kind, such as crack 8/12/2025, or no")
		}
		return
	}
	r.countAmbiguous(either && cb.on != 0)
	*f = cb.on
	if cb.kind != "" {
		r.spill("callback_kind", setText(cb.kind))
	}
	if cb.yes && cb.on == 0 {
		r.say.fail(codeNotDate, "a call back without its day", "write its day, such as crack 8/12/2025")
	}
}

// readFinding reads a finding that is told in words.
func (r *cellReader) readFinding(c *column, field any, text string) {
	f := field.(*string)
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
	}
	*f = r.readString(c, text)
}

// readListed reads a word of a list from among other words.
func (r *cellReader) readListed(c *column, field any, text string) {
	*field.(*string) = r.remembered(c, text, c.anyTerm)
}

// jobWord is what papers write before a job's number.
var jobWord = regexp.MustCompile(`(?i)^(?:(?:job|proj(?:ect)?|trabajo|obra)\b\.?\s*(?:no\b\.?|number\b|#)?\s*|#\s*)(.*\d.*)$`)

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
