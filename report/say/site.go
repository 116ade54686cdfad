package say

import (
	"time"

	"pourback/ingest/record"
)

// Site says what stands around the pages of the local web site, and on its forms.
type Site struct{ *Voice }

// LanguageName is what a language calls itself.
func (v *Voice) LanguageName() string { return v.text("English") }

// UnitsName names a system of units, "us" or "si".
func (s Site) UnitsName(units string) string {
	if units == "si" {
		return s.text("Metric")
	}
	return s.text("US units")
}

// Words of every page.
func (s Site) Unnamed() string      { return s.text("Your jobs") }
func (s Site) SectionsName() string { return s.text("Report pages") }
func (s Site) ViewName() string     { return s.text("Language and units") }
func (s Site) ReportLink() string   { return s.text("Report") }
func (s Site) UploadLink() string   { return s.text("Add records") }
func (s Site) UsersLink() string    { return s.text("Users") }
func (s Site) YouLink() string      { return s.text("Your account") }

// Words of the first start, and of the invented company.
func (s Site) StartTitle() string  { return s.text("Where do you want to start?") }
func (s Site) StartAnswer() string { return s.text("Nothing is on record yet. Three ways in:") }
func (s Site) StartUpload() string { return s.text("Drop your job log here") }
func (s Site) StartUploads() string {
	return s.text("A spreadsheet with one row per pour is enough. You see how it was read before anything is kept.")
}
func (s Site) StartLook() string { return s.text("Look around an invented company") }
func (s Site) StartLooks() string {
	return s.text("600 made-up pours, every page filled. Kept apart from your records and gone with one click.")
}
func (s Site) StartBid() string { return s.text("Start with a bid") }
func (s Site) StartBids() string {
	return s.text("What to order, the hours and a price. Until you have records it goes by common practice.")
}
func (s Site) InventedName() string { return s.text("Saltgrass Flatwork (invented)") }
func (s Site) InventedMark() string {
	return s.text("Invented: this company does not exist. Nothing here is yours.")
}
func (s Site) InventedHere() string {
	return s.text("Remove it and go back")
}

// Words of a choice of records.
func (s Site) ChooseTitle() string { return s.text("Choose jobs and dates") }
func (s Site) FromMonth() string   { return s.text("Poured from") }
func (s Site) ToMonth() string     { return s.text("Poured to") }
func (s Site) UseLabel() string    { return s.text("Use") }
func (s Site) CrewLabel() string   { return s.text("Crew") }
func (s Site) MethodLabel() string { return s.text("Placed by") }
func (s Site) AsOfLabel() string   { return s.text("As known on") }
func (s Site) MonthLabel() string  { return s.text("Month to speak of") }
func (s Site) All() string         { return s.text("All") }
func (s Site) ShowThem() string    { return s.text("Show") }
func (s Site) ShowAll() string     { return s.text("Show everything") }

// Chosen are the records that a page is about; what is empty is everything.
type Chosen struct{ From, To, Use, Crew, Method string }

// Chosen says which placements a page is about, and how many of all.
func (s Site) Chosen(c Chosen, n, all int) string {
	var parts []string
	if c.Use != "" {
		parts = append(parts, s.Word(c.Use))
	}
	if c.Crew != "" {
		parts = append(parts, s.say("crew {crew}", with{"crew": Clean(c.Crew, ShortName)}))
	}
	if c.Method != "" {
		parts = append(parts, s.say("placed by {method}", with{"method": s.Word(c.Method)}))
	}
	switch {
	case c.From != "" && c.From == c.To:
		parts = append(parts, s.say("poured in {month}", with{"month": s.Month(c.From)}))
	case c.From != "" && c.To != "":
		parts = append(parts, s.say("poured {first} through {last}", with{"first": s.Month(c.From), "last": s.Month(c.To)}))
	case c.From != "":
		parts = append(parts, s.say("poured from {month} on", with{"month": s.Month(c.From)}))
	case c.To != "":
		parts = append(parts, s.say("poured up to {month}", with{"month": s.Month(c.To)}))
	}
	return s.say("Only {n} of {all}: {parts}.", with{"n": Count(n), "all": s.Placements(all), "parts": s.List(parts)})
}

// CutJobs says that jobs count in no money figure.
func (s Site) CutJobs(n int) string {
	return s.plural(n, "1 job has other pours too, so its price and costs are left out.|{n} jobs have other pours too, so their prices and costs are left out.", nil)
}

// NoBidsHere says that bids are not compared with a part of the records.
func (s Site) NoBidsHere() string {
	return s.text("Kept bids are compared with whole jobs only: not here.")
}

// AsKnownOn says that a page is about an earlier day.
func (s Site) AsKnownOn(d record.Date) string {
	return s.say("As known on {day}.", with{"day": s.Day(d)})
}

// BeingWorkedOut says that newer records have come in.
func (s Site) BeingWorkedOut(made time.Time) string {
	return s.say("New records are coming in. This is as of {time}; open the page again for the latest.", with{"time": made.Format("15:04:05")})
}
