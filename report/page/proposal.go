package page

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"pourback/analysis/bid"
	"pourback/report/chart"
	"pourback/report/say"
)

// Proposal is the customer's paper as its template sees it: what is done and
// what is asked for it, and nothing of what it costs.
type Proposal struct {
	say.ProposalWords
	Company, Address, Email, License string
	Owner                            *Call
	Name, Site, JobNo, Ref           string
	On, Pouring, Until               string
	Slabs                            []proposalSlab
	Asked, Payment, Included         string
	NotIncluded, Signers             []string
	Cracks, Care                     []say.Term
	Drawings                         []*chart.Drawing
	Back                             Back
}

type proposalSlab struct {
	Name, Size, Thickness, Base, Steel, Joints, Surface string
	Also                                                []string
}

// usualHolding is how many days a price holds where nobody says.
const usualHolding = 30

// ProposalOf is the proposal of a bid; id is the number under which
// it is kept, or 0.
func ProposalOf(b *bid.Bid, id int64, opt Options) Proposal {
	a := newBidAuthor(b, opt)
	w, head := say.Proposal{PourDay: say.PourDay{Bid: a.w}}, opt.Letterhead
	p := Proposal{ProposalWords: w.Words(), Company: cmp.Or(say.Clean(opt.Company, say.LongName), w.ForCompany("")), Address: say.Clean(head.Address, say.LongName), Email: say.Clean(head.Email, say.LongName), License: w.License(head.License),
		Name: w.Name(b), Site: siteOf(b), JobNo: say.Clean(b.JobNo, say.ShortName), On: w.AsOf(b.AsOf), Pouring: w.Pouring(b), Until: w.Until(b.AsOf, cmp.Or(head.HoldsDays, usualHolding)),
		Asked: w.Asked(b.Price.Asked), Payment: say.Clean(head.Payment, say.LongText), Included: w.Included(&b.Cost), NotIncluded: w.NotIncluded(&b.Cost), Signers: []string{w.Words().Customer, w.ForCompany(opt.Company)}, Back: opt.Back}
	if id != 0 {
		p.Ref = w.Reference(strconv.FormatInt(id, 10))
	}
	if calls := (Phones{Owner: head.Phones.Owner}).calls(a.Voice); calls != nil {
		p.Owner = &calls[0]
		p.Owner.Who = ""
	}
	steel, cars := false, false
	for i := range b.Placements {
		part, asked := &b.Placements[i], askedOf(b, i)
		slab := proposalSlab{Name: w.Slab(part, len(b.Placements) > 1), Size: w.Size(asked, part), Thickness: w.Thick(asked, part.ThicknessIn), Base: w.Base(asked.Base), Steel: w.Steel(asked, part.Steel),
			Joints: w.JointsOf(asked, &part.Joints), Surface: w.Surface(asked), Also: w.Also(asked)}
		p.Slabs = append(p.Slabs, slab)
		if d := a.plan(part, paperPlan); d != nil {
			d.Says = w.SlabDrawn(slab.Name, asked, part)
			p.Drawings = append(p.Drawings, d)
		}
		steel = steel || strings.Contains(asked.Reinforcement, "mesh") || strings.Contains(asked.Reinforcement, "rebar")
		cars = cars || slices.Contains([]string{"driveway", "garage slab", "apron"}, part.Use)
	}
	p.Cracks, p.Care = w.Cracks(b.Reserve.Months.Figure.Value, steel, head.Warranty), w.CareOf(cars)
	return p
}

// siteOf is where a bid is poured, "" where its name already says so.
func siteOf(b *bid.Bid) string {
	if b.Spec.Site == b.Spec.Name {
		return ""
	}
	return say.Clean(b.Spec.Site, say.LongName)
}

// askedOf is what was asked of the i-th placement.
func askedOf(b *bid.Bid, i int) (asked bid.Placement) {
	if i < len(b.Spec.Placements) {
		asked = b.Spec.Placements[i]
	}
	return asked
}
