package out

import (
	"bytes"
	"cmp"
	"html/template"
	"io"

	"pourback/analysis/bid"
	"pourback/report/page"
	"pourback/report/say"
)

// WriteBid writes a bid as one self-contained document without script.
func WriteBid(w io.Writer, b *bid.Bid, opt page.Options) error {
	sheetPage := page.BidPage(b, opt)
	v := view(sheetPage, func(slug string) string { return "#" + slug })
	company, words := say.Clean(opt.Company, say.LongName), say.Bid{Voice: sheetPage.Voice}
	s := struct {
		sheet
		Internal, End string
	}{sheet{Words: v.Words, Heading: sheetPage.Title, Company: cmp.Or(company, words.Unnamed()), Style: template.CSS(style), Policy: policy("'none'"), Page: v},
		say.FrameOf(sheetPage.Voice).Internal(), say.FrameOf(sheetPage.Voice).BidEnd(b.AsOf)}
	var out bytes.Buffer
	if err := templates.ExecuteTemplate(&out, "bid", s); err != nil {
		return err
	}
	_, err := w.Write(out.Bytes())
	return err
}
