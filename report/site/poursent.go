package site

import (
	"net/http"
	"strings"

	"pourback/analysis/trade"
	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/report/say"
)

// sent is a form of a pour as it was sent.
type sent struct {
	*Ask
	form  *pourForm
	p     *pouring
	said  record.Moment
	wrong []record.Problem
}

// enterPour takes a form of a pour: what is said of a placement that has not begun begins
// it, with what its bid knows.
func enterPour(a *Ask) error {
	f := pourFormOf(a.PathValue("what"))
	if f == nil {
		return notFound()
	}
	all, p, begin, err := a.pourSent()
	if err != nil {
		return err
	}
	s := &sent{Ask: a, form: f, p: p, said: a.Said()}
	rows := f.rows(s)
	reply := entryReply{Part: p.Name, Says: s.kept, Again: func(wrong []record.Problem) error {
		v := a.viewForm(f, p, a.Field("row"))
		v.again(a, wrong)
		return a.showPour(http.StatusUnprocessableEntity, all, p, v)
	}}
	if len(s.wrong) == 0 && saysNothing(rows) {
		s.wrong = append(s.wrong, a.problem("", a.Say.NothingSaid(), a.Say.NothingSaidDo()))
	}
	if len(s.wrong) > 0 {
		return a.refuse(s.wrong, reply)
	}
	if begin != nil {
		rows = append([]ingest.EntryRow{*begin}, rows...)
	}
	what := f.what
	if ticket := a.Field("ticket_no"); ticket != "" {
		what += " " + ticket
	}
	return a.keepEntry(ingest.Entry{What: what + " of " + p.Job + " " + p.Name, Rows: rows}, reply)
}

// pourSent is the placement that a form is about, among those of its job, with the row by
// which it begins, nil where it has begun.
func (a *Ask) pourSent() (all []*pouring, p *pouring, begin *ingest.EntryRow, err error) {
	if all, err = a.pourings(a.PathValue("job")); err != nil {
		return nil, nil, nil, err
	}
	p = a.partOf(all, a.Field("part"))
	if p == nil || a.Field("part") != "" && p.Name != a.Field("part") { // another version of the bid has other placements
		return nil, nil, nil, unfitEntry(say.Site.NotBegun, say.Site.NotBegunDo)
	}
	begin, err = a.begun(p)
	return all, p, begin, err
}

// saysNothing says whether rows have nothing but their keys.
func saysNothing(rows []ingest.EntryRow) bool {
	for i := range rows {
		for _, v := range rows[i].Values {
			if c := record.TableNamed(rows[i].Table).Column(v[0]); !c.Key {
				return false
			}
		}
	}
	return true
}

// kept is what is on record now, as it stands there.
func (s *sent) kept(done ingest.Entered) string {
	all, err := s.pourings(s.p.Job)
	if err != nil {
		return s.Say.EntryBefore() // it is on record all the same
	}
	p := s.partOf(all, s.p.Name)
	if s.form.kept != nil {
		return s.form.kept(s, p, done)
	}
	if s.form.line != nil {
		if line := s.form.line(s.Ask, p); line != "" {
			return s.Say.Kept(line)
		}
	}
	return s.Say.NoteKept()
}

// row begins a row of the placement.
func (s *sent) row(t *record.Table, keys ...[2]string) ingest.EntryRow {
	return ingest.EntryRow{Table: t.Name, Values: append([][2]string{{"job_no", s.p.Job}, {"placement", s.p.Name}}, keys...), Was: map[string]string{}}
}

// put adds the values of fields to a row, but of those that nobody has touched.
func (s *sent) put(row *ingest.EntryRow, columns ...string) {
	t := record.TableNamed(row.Table)
	for _, name := range columns {
		c := t.Column(name)
		if text := s.Field(name); text != s.asShown(c, s.Field("was."+name)) {
			s.set(row, name, s.withUnit(c.Unit, text))
		}
	}
}

// set gives a column a value, beside what the form has shown of it.
func (s *sent) set(row *ingest.EntryRow, column, value string) {
	row.Values = append(row.Values, [2]string{column, value})
	if was := s.Field("was." + column); was != "" {
		row.Was[column] = was
	}
}

// times adds times of a load in their order, each with its day.
func (s *sent) times(row *ingest.EntryRow, columns ...string) {
	t := record.TableNamed(row.Table)
	stamped := s.Field("stamp")
	var behind record.Moment
	for _, name := range columns {
		was := s.Field("was." + name)
		text := s.Field(name)
		touched := text != s.asShown(t.Column(name), was)
		switch {
		case stamped == name:
			behind = s.said - s.said%60
			s.set(row, name, behind.String())
		case !touched && was != "":
			behind, _ = record.ParseMoment(was)
		case touched:
			behind = s.moment(row, name, behind)
		}
	}
}

// moment adds a time that was written or tapped, and returns it with its day.
func (s *sent) moment(row *ingest.EntryRow, name string, behind record.Moment) record.Moment {
	text := s.Time(name)
	at, err := record.ParseClock(text)
	if err != nil {
		s.set(row, name, text)
		return behind
	}
	m := s.p.momentOf(at, behind, s.said)
	s.set(row, name, m.String())
	return m
}

func (s *sent) refuse(field, wrong, right string) {
	s.wrong = append(s.wrong, s.problem(field, wrong, right))
}

// Of each form: which rows it writes.

func truckRows(s *sent) []ingest.EntryRow {
	row := s.row(record.Loads, [2]string{"ticket_no", s.Field("ticket_no")})
	s.put(&row, "yards", "slump_in", "concrete_temp_f", "water_added_gal")
	s.times(&row, "batched_at", "arrived_at", "pour_start", "pour_end")
	return []ingest.EntryRow{row}
}

func truckKept(s *sent, p *pouring, _ ingest.Entered) string {
	if l, ok := findTruck(p, s.Field("ticket_no")).(*record.Load); ok && l != nil {
		return s.Say.Kept(s.Say.TruckLine(l))
	}
	return s.soFar(p)
}

func delayRows(s *sent) []ingest.EntryRow {
	row := s.row(record.Delays)
	if seq := s.Field("seq"); seq != "" {
		row.Values = append(row.Values, [2]string{"seq", seq})
	}
	if s.form.what == clogCause {
		if s.Field("seq") == "" {
			s.set(&row, "cause", clogCause)
		}
		s.put(&row, "spot")
	} else {
		s.put(&row, "cause")
	}
	s.times(&row, "started_at")
	s.stopped(&row)
	s.put(&row, "note")
	return []ingest.EntryRow{row}
}

// stopped adds how long a delay took: as it is written, else by when it began and ended.
func (s *sent) stopped(row *ingest.EntryRow) {
	minutes := record.Delays.Column("minutes")
	stop := s.Field("stopped_at")
	switch {
	case s.Field("minutes") != s.asShown(minutes, s.Field("was.minutes")):
		s.put(row, "minutes")
	case stop == "" && s.Field("was.minutes") != "":
	case stop == "":
		s.refuse("stopped_at", s.Say.StopMissing(), s.Say.StopMissingDo())
	default:
		from, wrong := record.ParseClock(s.Time("started_at"))
		to, bad := record.ParseClock(s.Time("stopped_at"))
		took, ok := between(from, to)
		switch {
		case wrong != nil:
			s.refuse("started_at", s.Say.StopMissing(), s.Say.StopMissingDo())
		case bad != nil || !ok:
			s.refuse("stopped_at", s.Say.StopBefore(), s.Say.StopBeforeDo())
		default:
			s.set(row, "minutes", say.Count(took))
		}
	}
}

func delayKept(s *sent, p *pouring, done ingest.Entered) string {
	seq := s.Field("seq")
	if of := done.Rows[len(done.Rows)-1].Record; seq == "" {
		seq = of[strings.LastIndex(of, " ")+1:]
	}
	if d, ok := findDelay(p, seq).(*record.Delay); ok && d != nil {
		return s.Say.Kept(s.Say.DelayLine(d))
	}
	return s.soFar(p)
}

func weatherRows(s *sent) []ingest.EntryRow {
	row := s.row(record.Placements)
	s.put(&row, "air_temp_f", "concrete_temp_f", "humidity_pct", "wind_mph")
	return []ingest.EntryRow{row}
}

func weatherLine(a *Ask, p *pouring) string { return a.Say.WeatherLine(p.Is) }

func weatherKept(s *sent, p *pouring, _ ingest.Entered) string {
	said := s.Say.Kept(weatherLine(s.Ask, p))
	if rate, ok := drying(p.Is); ok {
		said = sentencesOf(said, s.Say.DryingNow(rate), s.Say.DryingAccuracy())
	}
	if p.Is.AirTempF.Or(0) >= hotF {
		said = sentencesOf(said, s.Say.Caution(say.HeatIllness))
	}
	return said
}

// drying is how fast a slab dries by what is on record, in lb/ft²/h.
func drying(p *record.Placement) (rate float64, ok bool) {
	if !p.AirTempF.OK || !p.ConcreteTempF.OK || !p.HumidityPct.OK || !p.WindMPH.OK {
		return 0, false
	}
	rate, err := trade.Evaporation(p.ConcreteTempF.V, p.AirTempF.V, p.HumidityPct.V, p.WindMPH.V)
	return rate, err == nil
}

func leftoverRows(s *sent) []ingest.EntryRow {
	row := s.row(record.Placements)
	s.put(&row, "leftover_yd")
	if where := s.Field("where"); where != "" {
		row.Values, row.Append = append(row.Values, [2]string{"note", "Leftover: " + where}), []string{"note"}
	}
	return []ingest.EntryRow{row}
}

func leftoverLine(a *Ask, p *pouring) string {
	if !p.Is.LeftoverYd.OK {
		return ""
	}
	return a.Say.LeftoverLine(p.Is.LeftoverYd.V)
}
