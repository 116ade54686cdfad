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

// Languages are the codes of the languages that can be asked for.
func Languages() []string { return languageCodes() }

// FrameWords are the words around pages.
type FrameWords struct {
	Lang                                 string
	Skip, Top, Pages, AllPages, Overview string
	Care, Method, NoDesign               string
}

// Words are the words around pages.
func (f Frame) Words() FrameWords {
	return FrameWords{Lang: f.Lang(), Skip: f.text("Skip to the answer"), Top: f.text("Back to the top"), Pages: f.text("Pages"), AllPages: f.text("All pages"), Overview: f.text("Overview"),
		Care: f.text("Take care"), Method: f.text("How this was computed"),
		NoDesign: f.text("Made by pourback from the company's own records. Records of past work are no design and no advice on safety: local codes and a licensed engineer decide.")}
}

// Notes names the notes of a page, for who hears it read aloud.
func (f Frame) Notes(title string) string {
	return f.say("Notes: {title}", with{"title": title})
}

// Sheet is how a document names a page of it: its title and its company.
func (f Frame) Sheet(title, company string) string { return title + " · " + company }

// BidEnd closes a bid sheet.
func (f Frame) BidEnd(asOf string) string {
	return f.say("Made by pourback as of {day}.", with{"day": f.AsOf(asOf)}) + " " +
		f.text("A bid is an estimate and no design: local codes and a licensed engineer decide what a slab needs.")
}

// Beside is a chart's or an exhibit's title with what it comes to.
func (f Frame) Beside(title, says string) string {
	return f.say("{title}. {says}", with{"title": title, "says": says})
}

// Linked is a page's title with its answer.
func (f Frame) Linked(title, answer string) string {
	return f.say("{title}: {answer}", with{"title": title, "answer": answer})
}

// Cited is a caution with its source.
func (f Frame) Cited(text, source string) string {
	return f.say("{text} ({source})", with{"text": text, "source": source})
}
