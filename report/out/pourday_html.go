package out

import (
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
	return writeTemplate(w, "pourday", d)
}
