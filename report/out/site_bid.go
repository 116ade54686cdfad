package out

import (
	"html/template"

	"pourback/analysis/bid"
	"pourback/report/page"
)

// The policies of a bid's papers, which each of them also bears in its own head: what a
// server sends with them has to let their one style be.
func BidPolicy() string      { return policy("'none'") }
func ProposalPolicy() string { return policyOf("'none'", proposalStyle) }
func PourDayPolicy() string  { return policyOf("'none'", pourDayStyle) }

// SiteDrawing is a drawing within a page of the site.
type SiteDrawing struct {
	Says string
	SVG  template.HTML
}

// BidDrawings are a bid's slabs as drawn.
func BidDrawings(b *bid.Bid, opt page.Options) (drawings []SiteDrawing) {
	for _, p := range page.BidPlans(b, opt) {
		drawings = append(drawings, SiteDrawing{p.Drawing.Says, p.Drawing.SVG("")})
	}
	return drawings
}
