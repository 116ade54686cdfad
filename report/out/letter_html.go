package out

import (
	"html/template"
	"io"

	"pourback/report/page"
)

// WriteLetter writes a month's letter as one self-contained document without
// script, one printed page of Letter or A4.
func WriteLetter(w io.Writer, l page.Letter) error {
	d := struct {
		page.Letter
		Picture *chartView
		Policy  string
		Style   template.CSS
	}{Letter: l, Policy: policyOf("'none'", letterStyle), Style: template.CSS(letterStyle)}
	if c := l.Months; c != nil && c.Why == "" {
		d.Picture = viewOf(c)
	}
	return writeTemplate(w, "letter", d)
}
