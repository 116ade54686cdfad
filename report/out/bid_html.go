package out

import (
	"cmp"
	"html/template"
	"io"

	"pourback/report/page"
	"pourback/report/say"
)

// WriteBidPage writes a page about a bid of a data date as one self-contained document
// without script.
func WriteBidPage(w io.Writer, p page.Page, asOf string, opt page.Options) error {
	v := view(p, func(slug string) string { return "#" + slug })
	company, words := say.Clean(opt.Company, say.LongName), say.Bid{Voice: p.Voice}
	s := struct {
		sheet
		Internal, End string
		Back          page.Back
	}{sheet{Words: v.Words, Heading: p.Title, Company: cmp.Or(company, words.Unnamed()), Style: template.CSS(style), Policy: policy("'none'"), Page: v},
		say.FrameOf(p.Voice).Internal(), say.FrameOf(p.Voice).BidEnd(asOf), opt.Back}
	return writeTemplate(w, "bid", s)
}
