package out

import (
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
	return writeTemplate(w, "proposal", d)
}
