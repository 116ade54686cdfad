package out

import (
	"bytes"
	"html/template"
	"io"

	"pourback/report/page"
)

// WritePourDay writes the crew's sheet for the pour of a bid.
func WritePourDay(w io.Writer, p page.PourDay, opt page.Options) error {
	d := struct {
		page.PourSheet
		Policy string
		Style  template.CSS
	}{page.PourDaySheet(p, opt), policyOf("'none'", pourDayStyle), template.CSS(pourDayStyle)}
	var text bytes.Buffer
	if err := templates.ExecuteTemplate(&text, "pourday", d); err != nil {
		return err
	}
	_, err := w.Write(text.Bytes())
	return err
}
