package say

// Frame says what surrounds pages: links, headings that every page has, and
// what closes them.
type Frame struct{ *Voice }

// FrameOf is the frame in a voice, in English where there is none.
func FrameOf(v *Voice) Frame {
	if v == nil {
		v = New("", "", "")
	}
	return Frame{v}
}

// Lang is the code of the language, as HTML has it.
func (v *Voice) Lang() string { return v.lang.code }

// Unreviewed says that nobody who speaks the language from home has read what it
// says, "" where somebody has.
func (v *Voice) Unreviewed() string {
	if !v.lang.unreviewed {
		return ""
	}
	return v.text("Translation not yet reviewed by a native speaker.")
}

// Languages are the codes of the languages that can be asked for.
func Languages() []string { return languageCodes() }

// FrameWords are the words around pages.
type FrameWords struct {
	Lang                            string
	Skip, Top, Pages, Overview      string
	Care, Method, NoDesign, Details string
	Unreviewed                      string // that nobody who speaks the language from home has read it; "" where somebody has
}

// Words are the words around pages.
func (f Frame) Words() FrameWords {
	return FrameWords{Lang: f.Lang(), Unreviewed: f.Unreviewed(), Skip: f.text("Skip to the answer"), Top: f.text("Back to the top"), Pages: f.text("Pages"), Overview: f.text("Overview"),
		Care: f.text("Take care"), Method: f.text("How this was computed"), Details: f.text("Details: tables, notes and how it was worked out"),
		NoDesign: f.text("Made by pourback from the company's own records. Records of past work are no design and no advice on safety: local codes and a licensed engineer decide.")}
}

// FindWords stand above a long table, where script runs.
type FindWords struct {
	Label string // of the box to write in
	Left  string // how many rows hold what was written, with LeftMark for their number
}

// LeftMark stands for a number that only the reader's browser knows.
const LeftMark = "#"

// Find are the words for finding rows of a table of so many.
func (f Frame) Find(rows int) *FindWords {
	return &FindWords{Label: f.text("Find in this table"), Left: f.say("{found} of {all} rows", with{"found": LeftMark, "all": Count(rows)})}
}

// FindCards are those for finding slabs of so many.
func (f Frame) FindCards(slabs int) *FindWords {
	return &FindWords{Label: f.text("Find a slab"), Left: f.say("{found} of {all} slabs", with{"found": LeftMark, "all": Count(slabs)})}
}

// Notes names the notes of a page, for who hears it read aloud.
func (f Frame) Notes(title string) string {
	return f.say("Notes: {title}", with{"title": title})
}

// Sheet is how a document names a page of it: its title and its company.
func (f Frame) Sheet(title, company string) string { return title + " · " + company }

// Internal marks a paper that is not for customers.
func (f Frame) Internal() string { return f.text("For the office: costs and margins") }

// BidEnd closes a cost sheet.
func (f Frame) BidEnd(asOf string) string {
	return f.say("Made by pourback as of {day}.", with{"day": f.AsOf(asOf)}) + " " +
		f.text("A bid is an estimate and no design: local codes and a licensed engineer decide what a slab needs.")
}

// Beside is a chart's or an exhibit's title with what it comes to.
func (f Frame) Beside(title, says string) string {
	return f.say("{title}. {says}", with{"title": title, "says": says})
}

// Glance is what a page comes to, in a line.
func (f Frame) Glance(title, big, says string) string {
	return f.say("{title}: {answer}. {says}", with{"title": title, "answer": big, "says": says})
}

// Cited is a caution with its source.
func (f Frame) Cited(text, source string) string {
	return f.say("{text} ({source})", with{"text": text, "source": source})
}
