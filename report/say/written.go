package say

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Written says where a call left what it wrote, and what may come next.
type Written struct{ *Voice }

func (w Written) Report(path string) string {
	return w.say("The report is in {path}: open it in any browser.", with{"path": path})
}
func (w Written) Letter(path string) string {
	return w.say("The letter is in {path}: open it in any browser and print it.", with{"path": path})
}
func (w Written) Tables(path string) string {
	return w.say("The tables are in {path}: open it in a spreadsheet.", with{"path": path})
}
func (w Written) CostSheet(path string) string {
	return w.say("The cost sheet is in {path}: for the office, it shows costs and margins.", with{"path": path})
}
func (w Written) Proposal(path string) string {
	return w.say("The proposal is in {path}: read it before you send it.", with{"path": path})
}
func (w Written) PourDay(path string) string {
	return w.say("The pour-day sheet is in {path}: print it for the crew.", with{"path": path})
}

// Kept says under which number a bid is kept, and how it serves on the day.
func (w Written) Kept(id int64) string {
	n := strconv.FormatInt(id, 10)
	return w.say("Kept as bid {id}. During the pour: {command}", with{"id": n, "command": "pourback balance --bid " + n + " --placed-yd Q --covered PCT"})
}

// DemoFiles are what a demo wrote, and the database it made.
type DemoFiles struct {
	Answer                             string // of its next bid
	Report, Bid, Spec, PourDay, DB, ID string
	Proposal, Records, JobLog          string
}

// Demo says what a demo is and what to open.
func (w Written) Demo(f DemoFiles) string {
	rows := [][2]string{
		{w.text("the report"), w.say("open {path} in any browser", with{"path": f.Report})},
		{w.text("the bid"), w.say("open {path}, for the office; its spec is {spec}", with{"path": f.Bid, "spec": f.Spec})},
		{w.text("the proposal"), w.say("open {path}, for the customer", with{"path": f.Proposal})},
		{w.text("the crew's sheet"), w.say("open {path} and print it", with{"path": f.PourDay})},
		{w.text("during the pour"), "pourback balance --db " + f.DB + " --bid " + f.ID + " --placed-yd 6 --covered 50%"},
		{w.text("how bids did"), "pourback bids --db " + f.DB},
		{w.text("slabs to visit"), "pourback visits --db " + f.DB},
		{w.text("the factors"), "pourback factors --db " + f.DB},
		{w.text("the record files"), w.say("{folder} (seven tables), {file} (the same as one job log)", with{"folder": f.Records, "file": f.JobLog})}}
	wide := 0
	for _, r := range rows {
		wide = max(wide, utf8.RuneCountInString(r[0]))
	}
	said := w.say("{company} does not exist: its records are invented.", with{"company": "Saltgrass Flatwork"}) + "\n\n" +
		w.say("Its next bid: {answer}", with{"answer": f.Answer}) + "\n\n"
	for _, r := range rows {
		said += "  " + r[0] + strings.Repeat(" ", wide-utf8.RuneCountInString(r[0])+2) + r[1] + "\n"
	}
	if unreviewed := w.Unreviewed(); unreviewed != "" {
		said += "\n! " + unreviewed + "\n"
	}
	return said
}
