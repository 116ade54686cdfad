package report

import (
	"bytes"
	"cmp"
	"html/template"
	"io"

	"pourback/analysis/bid"
)

// WriteBid writes a bid as one self-contained document without script.
func WriteBid(w io.Writer, b *bid.Bid, opt Options) error {
	page := BidPage(b, opt)
	v := view(page, nil, func(slug string) string { return "#" + slug })
	company := clean(opt.Company, longName)
	s := struct {
		sheet
		Made string
	}{sheet{Heading: page.Title, Company: cmp.Or(company, "Bid sheet"), Style: template.CSS(style), Policy: policy("'none'"), Page: v},
		"Made by pourback as of " + asOfText(b.AsOf) + "."}
	var out bytes.Buffer
	if err := templates.ExecuteTemplate(&out, "bid", s); err != nil {
		return err
	}
	_, err := w.Write(out.Bytes())
	return err
}
