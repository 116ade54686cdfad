package out

import (
	"bytes"
	"html/template"
	"io"

	"pourback/report/page"
)

// WriteProposal writes the customer's proposal as one self-contained document
// without script: one printed page and one of drawings.
func WriteProposal(w io.Writer, p page.Proposal) error {
	d := struct {
		page.Proposal
		Policy string
		Style  template.CSS
	}{p, policyOf("'none'", proposalStyle), template.CSS(proposalStyle)}
	var text bytes.Buffer
	if err := templates.ExecuteTemplate(&text, "proposal", d); err != nil {
		return err
	}
	_, err := w.Write(text.Bytes())
	return err
}
