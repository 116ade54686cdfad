package main

import (
	"io"

	"github.com/spf13/pflag"

	"pourback/analysis/bid"
	"pourback/ingest/outfile"
	"pourback/ingest/record"
	"pourback/report/out"
	"pourback/report/page"
	"pourback/report/say"
)

// paper is a document of a bid that can be asked for by a flag.
type paper struct {
	flag, name string // name as the JSON has it
	about      string
	says       func(path string) string // where it is
	path       *string
	write      func(w io.Writer, offer *bid.Bid, id int64, opt page.Options) error
}

// papers are the documents of a bid, in the order in which they are written.
func (b *bidCommand) papers() []paper {
	w := say.Written{Voice: b.voice()}
	return []paper{
		{"out", "cost sheet", "write the cost sheet, for the office, into this HTML file instead of the terminal", w.CostSheet, &b.out,
			func(w io.Writer, offer *bid.Bid, _ int64, opt page.Options) error {
				return out.WriteBidPage(w, b.sheet(offer, opt), offer.AsOf, opt)
			}},
		{"proposal", "proposal", "write the customer's proposal, without costs and margins, into this HTML file", w.Proposal, &b.proposal,
			func(w io.Writer, offer *bid.Bid, id int64, opt page.Options) error {
				return out.WriteProposal(w, page.ProposalOf(offer, id, opt))
			}},
		{"pour-day", "pour-day sheet", "write the crew's pour-day sheet, for the phone and two printed pages, into this HTML file", w.PourDay, &b.pourDay,
			func(w io.Writer, offer *bid.Bid, id int64, opt page.Options) error {
				return out.WritePourDay(w, page.PourDay{Bid: offer, ID: id, Reckoner: b.reckoner}, opt)
			}},
	}
}

// paperFlags adds a flag for each paper.
func (b *bidCommand) paperFlags(flags *pflag.FlagSet) {
	for _, p := range b.papers() {
		flags.StringVar(p.path, p.flag, "", p.about)
	}
}

// mayWritePapers refuses files that are not ours to write over, and one file for
// two papers.
func (b *bidCommand) mayWritePapers() error {
	lands := map[string]string{}
	for _, p := range b.papers() {
		if *p.path == "" {
			continue
		}
		if err := b.files.May(*p.path, out.OursHTML); err != nil {
			return err
		}
		at := outfile.Landing(*p.path)
		if other := lands[at]; other != "" {
			return usagef("--%s and --%s both name %s: give each its own file", other, p.flag, *p.path)
		}
		lands[at] = p.flag
	}
	return nil
}

// paperToStdout says whether a paper has standard output to itself.
func (b *bidCommand) paperToStdout() bool {
	for _, p := range b.papers() {
		if outfile.IsStandardOutput(*p.path) {
			return true
		}
	}
	return false
}

// writePapers writes the papers that are asked for, and says where each is.
func (b *bidCommand) writePapers(offer *bid.Bid, id int64, opt page.Options) (written []out.Paper, err error) {
	for _, p := range b.papers() {
		if *p.path == "" {
			continue
		}
		if err := b.files.Write(*p.path, out.OursHTML, func(w io.Writer) error { return p.write(w, offer, id, opt) }); err != nil {
			return written, err
		}
		written = append(written, out.Paper{Paper: p.name, File: record.Shown(*p.path), Says: p.says(record.Shown(*p.path))})
	}
	return written, nil
}
