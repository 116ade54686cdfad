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
	v := view(sheetPage, nil, func(slug string) string { return "#" + slug })
	company := say.Clean(opt.Company, say.LongName)
	s := struct {
		sheet
		Made string
	}{sheet{Heading: sheetPage.Title, Company: cmp.Or(company, "Bid sheet"), Style: template.CSS(style), Policy: policy("'none'"), Page: v},
		"Made by pourback as of " + say.AsOfText(b.AsOf) + "."}
	var out bytes.Buffer
	if err := templates.ExecuteTemplate(&out, "bid", s); err != nil {
		return err
	}
	_, err := w.Write(out.Bytes())
	return err
}
