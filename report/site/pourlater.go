package site

import (
	"strconv"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// Forms of the pour that are filled in toward its end, and in the days after it.

// probeRows write the mean of the probes.
func probeRows(s *sent) []ingest.EntryRow {
	row := s.row(record.Placements)
	sum, n := 0.0, 0
	for _, text := range s.PostForm["probe"] {
		if text == "" {
			continue
		}
		v, problems := s.number("measured_thickness_in", text)
		for _, p := range problems {
			if p.Severity == record.Error || v == 0 {
				p.Column = "probe"
				s.wrong = append(s.wrong, p)
			}
		}
		sum, n = sum+v, n+1
	}
	if n > 0 && len(s.wrong) == 0 {
		s.set(&row, "measured_thickness_in", s.decimal(strconv.FormatFloat(sum/float64(n), 'f', 2, 64)))
	}
	return []ingest.EntryRow{row}
}

func probesLine(a *Ask, p *pouring) string {
	if p.Is == nil || !p.Is.MeasuredThicknessIn.OK {
		return ""
	}
	return a.Say.ProbesLine(p.Is.MeasuredThicknessIn.V, p.Is.ThicknessIn)
}

// hourRows write the hours of a task on a day: people times hours, or each person's added up.
func hourRows(s *sent) []ingest.EntryRow {
	day, task := s.Field("worked_on"), s.Field("task")
	row := s.row(record.Labors, [2]string{"worked_on", day}, [2]string{"task", task})
	people, each := s.Field("people"), s.Field("each")
	written := s.Field("hours") != s.asShown(record.Labors.Column("hours"), s.Field("was.hours"))
	switch {
	case people == "" && each == "":
		s.put(&row, "hours")
	case people == "":
		s.refuse("people", s.Say.HalfHours(), s.Say.HalfHoursDo())
	case each == "" || written:
		s.refuse("each", s.Say.HalfHours(), s.Say.HalfHoursDo())
	default:
		s.set(&row, "hours", people+" x "+each)
	}
	if crew := s.p.As().Crew; crew != "" && len(row.Values) > 4 && findHours(s.p, s.day(day).String()+" "+task) == nil {
		row.Values = append(row.Values, [2]string{"crew", crew})
	}
	return []ingest.EntryRow{row}
}

// day reads a day, as the browser or a hand writes it.
func (s *sent) day(text string) record.Date {
	l := &record.Labor{}
	sheet.NewForm(record.Labors, s.entrySheet()).Read(l.Fields(), "worked_on", text)
	return l.WorkedOn
}

func hoursKept(s *sent, p *pouring, _ ingest.Entered) string {
	if l, ok := findHours(p, s.day(s.Field("worked_on")).String()+" "+s.Field("task")).(*record.Labor); ok && l != nil {
		return s.Say.Kept(s.Say.HoursLine(l))
	}
	return s.soFar(p)
}

// sawRows write how joints were cut, and how many hours after finishing: by the time of
// finishing, else by the end of the last load.
func sawRows(s *sent) []ingest.EntryRow {
	row := s.row(record.Placements)
	s.put(&row, "joint_cut", "joint_depth_in")
	if s.Field("saw_at") == "" {
		return []ingest.EntryRow{row}
	}
	at, err := record.ParseClock(s.Time("saw_at"))
	day := s.day(s.Field("saw_on"))
	if err != nil || day == 0 {
		s.refuse("saw_at", s.Say.NoTime(), s.Say.NoTimeDo())
		return nil
	}
	cut := record.MomentOf(day, int(at)*60)
	from, ok := s.finished()
	switch {
	case !ok:
	case cut < from:
		s.refuse("saw_at", s.Say.SawTooSoon(), s.Say.StopBeforeDo())
	default:
		s.set(&row, "saw_hours", s.decimal(strconv.FormatFloat(float64(cut-from)/3600, 'f', 1, 64)))
	}
	return []ingest.EntryRow{row}
}

// finished is the moment from which the hours to the saw cut are counted.
func (s *sent) finished() (from record.Moment, ok bool) {
	last := s.p.lastEnd()
	if s.Field("finished_at") == "" {
		if last == 0 {
			s.refuse("finished_at", s.Say.NoFinish(), s.Say.NoFinishDo())
		}
		return last, last != 0
	}
	at, err := record.ParseClock(s.Time("finished_at"))
	if err != nil {
		s.refuse("finished_at", s.Say.NoTime(), s.Say.NoTimeDo())
		return 0, false
	}
	return s.p.momentOf(at, last, s.said), true
}

func sawLine(a *Ask, p *pouring) string {
	if p.Is.JointCut == "" && !p.Is.JointDepthIn.OK && !p.Is.SawHours.OK {
		return ""
	}
	return a.Say.SawLine(p.Is)
}

func sawKept(s *sent, p *pouring, _ ingest.Entered) string {
	said := s.Say.Kept(sawLine(s.Ask, p))
	if s.Field("saw_at") != "" {
		said = sentencesOf(said, s.Say.SawFrom(s.Field("finished_at") != ""))
	}
	return said
}

func curingRows(s *sent) []ingest.EntryRow {
	row := s.row(record.Placements)
	s.put(&row, "curing")
	return []ingest.EntryRow{row}
}

func curingLine(a *Ask, p *pouring) string {
	if p.Is.Curing == "" {
		return ""
	}
	return a.Say.CuringLine(p.Is.Curing)
}

// noteRows add a note behind those that stand there.
func noteRows(s *sent) []ingest.EntryRow {
	row := s.row(record.Placements)
	if note := s.Field("note"); note != "" {
		row.Values, row.Append = append(row.Values, [2]string{"note", note}), []string{"note"}
	}
	return []ingest.EntryRow{row}
}
