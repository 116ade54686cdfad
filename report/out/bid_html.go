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
	return WriteBidPage(w, page.BidPage(b, opt), b.AsOf, opt)
}

// WriteBidPage writes a page about a bid of a data date as one self-contained document
// without script.
func WriteBidPage(w io.Writer, p page.Page, asOf string, opt page.Options) error {
	v := view(p, func(slug string) string { return "#" + slug })
	company, words := say.Clean(opt.Company, say.LongName), say.Bid{Voice: p.Voice}
	s := struct {
		sheet
		Internal, End string
	}{sheet{Words: v.Words, Heading: p.Title, Company: cmp.Or(company, words.Unnamed()), Style: template.CSS(style), Policy: policy("'none'"), Page: v},
		say.FrameOf(p.Voice).Internal(), say.FrameOf(p.Voice).BidEnd(asOf)}
	var out bytes.Buffer
	if err := templates.ExecuteTemplate(&out, "bid", s); err != nil {
		return err
	}
	_, err := w.Write(out.Bytes())
	return err
}
