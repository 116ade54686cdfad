package site

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/report/say"
)

func jobPath(no string) string { return "/jobs/" + url.PathEscape(no) }

// jobsView is where a job is found.
type jobsView struct {
	Says, More, Query string
	None              bool // no job is on record
	Names             bool // sites and customers are shown
	Jobs              []jobLine
	Next, Before      string
}

type jobLine struct{ No, Href, Site, Customer, Poured, Use, Crew string }

// jobsPage finds jobs by what they are called, who they are for and when they
// were poured: each word that is looked for stands somewhere in what is found.
func jobsPage(a *Ask) error { return a.madeOfVersion(a.showJobs) }

func (a *Ask) showJobs() error {
	lines, err := a.Store().JobLines(a.Context())
	if err != nil {
		return err
	}
	query := strings.TrimSpace(a.URL.Query().Get("q"))
	v := jobsView{Query: query, Names: !a.Site.Settings.NoNames}
	all := len(lines)
	lines = slices.DeleteFunc(lines, a.unlike(query))
	slices.SortStableFunc(lines, func(x, y store.JobLine) int { return int(lastDay(y)) - int(lastDay(x)) })
	switch {
	case all == 0:
		v.Says, v.None = a.Say.FindNothing(), true
	case len(lines) == 0:
		v.Says, v.More = a.Say.FindNone(), a.Say.FindNoneDo()
	default:
		v.Says = a.Say.FindAnswer(len(lines), all)
	}
	if !v.Names {
		v.More = strings.TrimSpace(v.More + " " + a.Say.FindNameless())
	}
	path := "/jobs"
	if query != "" {
		path += "?q=" + url.QueryEscape(query)
	}
	from := 0
	from, v.Next, v.Before = a.paged(path, len(lines))
	for _, l := range lines[from:min(len(lines), from+mostListed)] {
		v.Jobs = append(v.Jobs, a.jobLine(l))
	}
	return a.Show("jobs", a.Say.FindTitle(), v)
}

func lastDay(l store.JobLine) record.Date {
	if len(l.Days) == 0 {
		return 0
	}
	return l.Days[len(l.Days)-1]
}

func (a *Ask) jobLine(l store.JobLine) jobLine {
	var uses, crews []string
	for _, u := range l.Uses {
		uses = append(uses, a.Say.Word(u))
	}
	for _, c := range l.Crews {
		crews = append(crews, say.Clean(c, say.ShortName))
	}
	line := jobLine{No: say.Clean(l.JobNo, say.ShortName), Href: jobPath(l.JobNo), Poured: a.Say.PouredDays(l.Days), Use: strings.Join(uses, ", ")}
	if !a.Site.Settings.NoNames {
		line.Site, line.Customer, line.Crew = say.Clean(l.Site, say.LongName), say.Clean(l.Customer, say.LongName), strings.Join(crews, ", ")
	}
	return line
}

// unlike tells the jobs that do not fit what is looked for. A day may be written
// as in record files; a month as 2025-06.
func (a *Ask) unlike(query string) func(store.JobLine) bool {
	fold := func(text string) string { return record.Unaccented(strings.ToLower(text)) }
	words := strings.Fields(fold(query))
	if day := a.dayIn(query); day != 0 {
		words = []string{day.String()}
	}
	return func(l store.JobLine) bool {
		if len(words) == 0 {
			return false
		}
		texts := []string{l.JobNo}
		if !a.Site.Settings.NoNames {
			texts = append(texts, l.Site, l.Customer)
			texts = append(texts, l.Crews...)
		}
		for _, u := range l.Uses {
			texts = append(texts, u, a.Say.Word(u))
		}
		for i, text := range texts {
			texts[i] = fold(text)
		}
		for _, day := range l.Days {
			texts = append(texts, day.String())
		}
		return slices.ContainsFunc(words, func(word string) bool {
			return !slices.ContainsFunc(texts, func(text string) bool { return strings.Contains(text, word) })
		})
	}
}

// dayIn is the day that a text is, or 0.
func (a *Ask) dayIn(text string) record.Date {
	p := &record.Placement{}
	form := sheet.NewForm(record.Placements, a.sheetOptions())
	if text == "" || !strings.ContainsAny(text, "/.- ") || len(form.Read(p.Fields(), "placed_on", text)) > 0 {
		return 0
	}
	return p.PlacedOn
}

// jobView is all that is on record of a job.
type jobView struct {
	Says    string
	Records []recordView
}

// recordView is one row, with where its values came from.
type recordView struct {
	Table, Name    string // the table stands with its first row
	Values, Absent []valueView
	Unused         []valueView
	EmptySays      string
	From, FromHref string // the file that the row came in by first
	Came           string
	Changes        []historyView
	Columns        []chooseOption
	Hidden         hiddenRecord
	Title          string // of the row, for who does not see
}

// hiddenRecord is what a form says about the record that it changes.
type hiddenRecord struct{ Table, Key, Seen string }

type valueView struct{ Label, Text, From, Href, Note string }

// historyView is an earlier value, which can be put back.
type historyView struct {
	When, Who, Href                 string
	Label, Before, After, Did       string
	Column, Value, Why, Name, Batch string
	CanPutBack                      bool
}

func jobPage(a *Ask) error {
	no := a.PathValue("no")
	traces, batches, err := a.Store().TracesOf(a.Context(), no)
	if err != nil {
		return err
	}
	if len(traces) == 0 {
		return &Fail{http.StatusNotFound, say.Site.NoJob, say.Site.NoJobDo, nil}
	}
	of := map[int64]store.Batch{}
	for _, b := range batches {
		of[b.ID] = b
	}
	placements := 0
	var v jobView
	for i, tr := range traces {
		t := tr.Record.Table()
		if t == record.Placements {
			placements++
		}
		r := a.recordView(tr, of)
		if i == 0 || traces[i-1].Record.Table() != t {
			r.Table = a.Say.RecordTable(t.Name)
		}
		v.Records = append(v.Records, r)
	}
	v.Says = a.Say.JobAnswer(placements, len(traces)-placements)
	return a.Show("job", a.Say.JobTitle(no), v)
}
