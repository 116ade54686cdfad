package report

import (
	"bytes"
	"html/template"
	"io"
)

// WritePourDay writes the crew's sheet for the pour of a bid.
func WritePourDay(w io.Writer, p PourDay, opt Options) error {
	d := struct {
		pourDay
		Policy string
		Style  template.CSS
	}{PourDaySheet(p, opt), policyOf("'none'", pourDayStyle), template.CSS(pourDayStyle)}
	var text bytes.Buffer
	if err := templates.ExecuteTemplate(&text, "pourday", d); err != nil {
		return err
	}
	_, err := w.Write(text.Bytes())
	return err
}

// WritePourDayFile writes the crew's sheet into a file, whole or not at all.
func WritePourDayFile(path string, p PourDay, opt Options) error {
	var text bytes.Buffer
	if err := WritePourDay(&text, p, opt); err != nil {
		return err
	}
	return replaceFile(path, text.Bytes())
}
