package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/setting"
	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/out"
	"pourback/report/page"
	"pourback/report/say"
)

// bidCommand is what a call of `pourback bid` asks for.
type bidCommand struct {
	*app
	out, pourDay, proposal string
	dryRun                 bool
	words                  map[string]*string // a placement by flags, by flag
	prices                 []string
	reckoner               []bid.Reckoner // for the pour-day sheet
	toStdout               io.Writer      // where what is no sheet goes
	leftOut                []record.Problem
}

// bidFlags are the keys of a spec that have a flag, in the order of the help.
var bidFlags = []struct{ flag, key, about string }{
	{"name", "name", "what the bid is called"},
	{"job", "job_no", "the job's number, under which its records will come"},
	{"month", "on", "day or month of the pour: 2026-07-14, 2026-07, July"},
	{"start", "start", "when the first truck is to be on site: 6:30, 6am"},
	{"forecast", "forecast", "of the pour day: \"6:00 78F 40% 5mph; 12:00 101F 18% 12mph\""},
	{"truck", "truck_yd", "what a truck of this plant holds, in yd³"},
	{"plant-spacing", "plant_spacing_min", "minutes between trucks that the plant keeps"},
	{"discharge-limit", "discharge_limit_min", "minutes from batching to empty that are agreed with the plant; 90 where not"},
	{"concrete-temp", "concrete_temp_f", "of the concrete as delivered, in °F, or with a unit"},
	{"crew", "crew", "which crew; an average one where not given"},
	{"haul", "haul_min", "minutes from plant to site"},
	{"margin", "target_margin", "share of the price to earn, such as 25%"},
	{"certainty", "certainty", "chance to earn it, such as 80%"},
	{"use", "use", "driveway, walkway, patio, shed slab, garage slab …"},
	{"area", "area_sqft", "in ft², or with a unit; or give length and width"},
	{"length", "length_ft", "in ft, or with a unit: 40, \"24' 6\\\"\", 7.5 m"},
	{"width", "width_ft", "in ft, or with a unit"},
	{"thickness", "thickness_in", "in inches, or with a unit: 4, \"4 1/2\", 100 mm"},
	{"method", "method", "chute, pump, buggy, barrow"},
	{"base", "base", "native, compacted, crushed base, existing slab"},
	{"reinforcement", "reinforcement", "none, mesh, rebar, fiber"},
	{"spacing", "joint_spacing_ft", "the widest joint spacing wanted, in ft"},
	{"psi", "mix_psi", "strength asked of the plant"},
	{"rock", "max_aggregate_in", "largest rock, in inches: 3/8, 3/4"},
	{"hose", "hose_in", "of the pump, in inches"},
	{"slump", "slump_in", "asked of the plant, in inches"},
	{"air", "air_pct", "in the concrete, in percent; 0 for none"},
	{"admixtures", "admixtures", "with doses: \"water reducer 5 oz/cwt, accelerator 1%\""},
	{"retarder", "retarder", "yes, or its dose"},
	{"fiber-dose", "fiber_lb_per_yd", "lb of fiber in a yard"},
	{"bar", "bar", "#3, #4 …, or a mesh: 6x6-W2.9"},
	{"bar-spacing", "bar_spacing_in", "between bars, both ways"},
	{"outline", "outline", "corners such as \"0, 0; 40, 0; 40, 24\", or a shape: \"circle 30\", \"L 20 x 16 less 8 x 6\""},
	{"hole", "holes", "what is left out, such as \"circle 4 at 15, 15\"; several apart by |"},
	{"depths", "depths", "one a corner, for slopes: 4, 4, 10, 10"},
	{"edge-width", "edge_width_in", "of a thickened edge"},
	{"edge-depth", "edge_depth_in", "of it, the whole depth"},
	{"edge-sides", "edge_sides", "numbers of the sides that it is on; all where not given"},
	{"against", "against", "numbers of the sides at a house or existing concrete: isolation joints"},
}

const bidExample = `  pourback bid lot-14.yaml --out bid.html --proposal proposal.html --pour-day crew.html
  pourback bid --use driveway --length 40 --width 20 --thickness 4 --reinforcement rebar --month July
  pourback bid lot-14.yaml --pour-day cuadrilla.html --lang es --dry-run

  # lot-14.yaml: ten lines are enough
  name: Lot 14, Mesquite Lane
  job_no: SF-1043
  month: July
  use: driveway
  length: 40 ft
  width: 19' 6"
  thickness: 4 1/2 in
  method: chute
  reinforcement: rebar
  joint spacing: 10 ft

  # shapes.yaml: three pieces, one of them with an outline of its own
  month: July
  thickness: 4 in
  placements:
    - {use: driveway, length: 40, width: 24, thickness: 5 in, method: pump, reinforcement: rebar, bar: "#4", bar spacing: 18 in}
    - {use: patio, outline: L 20 x 16 less 8 x 6, against: [6]}
    - {name: court, use: patio, outline: circle 30, holes: [circle 4]}
    - {name: shed, use: shed slab, outline: rectangle 20 x 20, depths: [4, 4, 10, 10], edge width: 12 in, edge depth: 12 in}
    - {use: steps, steps: {risers: 4, rise: 7 in, tread: 12 in, width: 4 ft, solid: yes}}
    - name: walk                        # a quarter of a ring, 4 ft wide: arcs of 12 and 8 ft
      use: walkway
      outline: [[0, 12, 12], [12, 0], [12, 4, -8], [4, 12]]`

func newBid(a *app) *cobra.Command {
	b := bidCommand{app: a, words: map[string]*string{}}
	cmd := &cobra.Command{
		Use:   "bid [SPEC.yaml]",
		Short: "Bid on a job: order, hours, allowances, reserve, cost, price",
		Long: "Bid on a job from the factors: what to order and hold back, hours by task, allowances for delays and clogs,\n" +
			"reinforcement each way, joints, the weather of the month, a reserve for callbacks, what it may cost, and the price.\n" +
			"Each number says whether it stands on the company's own records or, where they are too few, on common practice.\n" +
			"The spec is a short YAML file, or flags for a single placement; flags win over the file.\n" + specKeys() + "\n" +
			"The bid is kept in the database with the factors it stood on, unless --dry-run is given.",
		Example: bidExample,
		Args:    wantArgs(0, 1, "no more than one spec"),
		RunE:    func(cmd *cobra.Command, args []string) error { return b.run(cmd, args) },
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	for _, f := range bidFlags {
		b.words[f.flag] = flags.String(f.flag, "", f.about)
	}
	flags.StringArrayVar(&b.prices, "price", nil, "a price of this job, such as concrete_per_yd=172.50; may be given again")
	b.paperFlags(flags)
	flags.BoolVar(&b.dryRun, "dry-run", false, "make the bid and do not keep it")
	return cmd
}

func (b *bidCommand) run(cmd *cobra.Command, args []string) error {
	if err := b.mayWrite(args); err != nil {
		return err
	}
	spec, err := b.spec(cmd, args)
	if err != nil {
		return err
	}
	st, err := b.openIfThere(cmd.Context())
	if err != nil {
		return err
	}
	if st != nil {
		defer st.Close()
	}
	h, opt, err := b.known(cmd.Context(), st)
	if err != nil {
		return err
	}
	offer, id, err := b.bid(cmd.Context(), st, h, opt, spec, !b.dryRun && st != nil)
	if err != nil {
		return err
	}
	if id != 0 {
		b.keeps()
	}
	if err := b.answer(h, opt, spec, offer, id); err != nil && id != 0 {
		return &ingest.UnwrittenError{Reason: fmt.Errorf("the bid is kept as bid %d, and not all of it could be written: %w", id, err)}
	} else if err != nil {
		return err
	}
	return nil
}

// mayWrite refuses files to write that the call reads, or that are not ours.
func (b *bidCommand) mayWrite(args []string) error {
	b.files.Reads("the spec of this bid", args...)
	return b.mayWritePapers()
}

// openIfThere opens the database; there need be none where nobody named one, and
// then it is nil: a company without records bids on common practice.
func (b *bidCommand) openIfThere(ctx context.Context) (*store.Store, error) {
	st, err := b.open(ctx)
	var none *store.NoDatabaseError
	if errors.As(err, &none) && b.settings.source["db"] == "default" {
		b.tell("pourback: %v: the bid stands on common practice alone, and is not kept; `pourback ingest FILE…` makes a database", none)
		return nil, nil
	}
	return st, err
}

// known is the history that a bid stands on, which is empty without a database.
func (b *bidCommand) known(ctx context.Context, st *store.Store) (*record.History, setting.Options, error) {
	if st == nil {
		opt, err := b.settings.options()
		return record.NewHistory(b.asOf, record.Set{}), opt, err
	}
	return b.namedHistory(ctx, st)
}

// answer shows the bid, and where no names are to be written the same bid of
// records and a spec without them.
func (b *bidCommand) answer(h *record.History, opt setting.Options, spec bid.Spec, offer *bid.Bid, id int64) (err error) {
	if b.settings.NoNames {
		var without record.Nameless
		without.History(h)
		spec.Name, spec.Site, spec.Crew = "", "", without.Crew(spec.Crew)
		winning := offer.Winning
		if offer, err = bid.MakeLeaning(h, spec, opt, offer.Lean); err != nil {
			return err
		}
		offer.Winning = winning
	}
	if b.pourDay != "" { // the table from which the crew reads the last load off
		if b.reckoner, err = bid.ReckonerOf(h, spec, opt); err != nil {
			return err
		}
	}
	b.leftOut = h.LeftOut()
	return b.show(offer, id)
}

// bid makes a bid and keeps it where keep is asked for; its number is 0 where
// it is not kept.
func (a *app) bid(ctx context.Context, st *store.Store, h *record.History, opt setting.Options, spec bid.Spec, keep bool) (*bid.Bid, int64, error) {
	kept, err := a.allKept(ctx, st)
	if err != nil {
		return nil, 0, err
	}
	lean, err := a.lean(ctx, st, h, opt, kept)
	if err != nil {
		return nil, 0, err
	}
	offer, err := bid.MakeLeaning(h, spec, opt, lean)
	if err == nil {
		offer.Winning = bid.WinsOf(kept).For(offer, opt.Level)
	}
	if err != nil || !keep {
		return offer, 0, a.inWords(err)
	}
	id, err := a.keepBid(ctx, st, h, opt, offer, min(a.today, a.asOf))
	return offer, id, err
}

// allKept are the kept bids, none without a database.
func (a *app) allKept(ctx context.Context, st *store.Store) ([]bid.Kept, error) {
	if st == nil {
		return nil, nil
	}
	all, err := st.Bids(ctx)
	if err != nil {
		return nil, err
	}
	return a.keptBids(all)
}

// lean is how the kept bids would have turned out by today's method.
func (a *app) lean(ctx context.Context, st *store.Store, h *record.History, opt setting.Options, kept []bid.Kept) (bid.Lean, error) {
	return bid.LeanOf(h, kept, opt, func(on record.Date) (*record.History, error) { return st.History(ctx, on) })
}

// inWords is an error with what is wrong with a bid's spec, where it is that, in
// words: English, as all errors are.
func (a *app) inWords(err error) error {
	var wrong bid.Problems
	if errors.As(err, &wrong) {
		return fmt.Errorf("no bid can be made:\n%s", say.Bid{Voice: say.New("en", a.settings.Units, a.settings.Currency)}.Lines(wrong))
	}
	return err
}

// factorsOfBids are the topics that a bid stands on.
var factorsOfBids = []string{"overage", "crews", "pump", "cracks"}

// keepBid keeps a bid, made on a day, with the factors it stood on: in English,
// whatever the call is read in, since later calls may be read in any language.
func (a *app) keepBid(ctx context.Context, st *store.Store, h *record.History, opt setting.Options, offer *bid.Bid, made record.Date) (int64, error) {
	opt.Topics = factorsOfBids
	f, err := analysis.Run(h, opt)
	if err != nil {
		return 0, err
	}
	f.Overage.BySize = nil // it follows from the groups, and is half of all
	kept := store.Bid{MadeOn: made, JobNo: offer.JobNo}
	for _, part := range []struct {
		into *string
		v    any
	}{{&kept.Spec, offer.Spec}, {&kept.Result, offer}, {&kept.Factors, f}} {
		text, err := out.KeptJSON(say.New("en", a.settings.Units, a.settings.Currency), part.v)
		if err != nil {
			return 0, fmt.Errorf("keeping a bid: %w", err)
		}
		*part.into = string(text)
	}
	return st.KeepBid(ctx, kept)
}

// show prints the bid, or writes its files and says what to do next.
func (b *bidCommand) show(offer *bid.Bid, id int64) error {
	opt := b.reportOptions()
	opt.LeftOut = b.leftOut
	if b.paperToStdout() {
		b.toStdout = b.stderr // the sheet has standard output to itself
	} else {
		b.toStdout = b.stdout
	}
	written, err := b.writePapers(offer, id, opt)
	if err != nil {
		return err
	}
	switch {
	case b.settings.JSON:
		return out.BidJSON(b.toStdout, id, offer, b.voice(), written...)
	case b.out == "":
		if err := out.Terminal(b.toStdout, []page.Page{page.BidPage(offer, opt)}, b.width, false); err != nil {
			return err
		}
	default:
		fmt.Fprintln(b.toStdout, page.BidPage(offer, opt).Answer)
		for _, c := range offer.Cautions {
			b.tell("%s", say.Bid{Voice: b.voice()}.Again(c))
		}
	}
	for _, p := range written {
		fmt.Fprintln(b.toStdout, p.Says)
	}
	b.sayNext(offer, id)
	return nil
}

// sayNext says under which number the bid is kept, and what it is for.
func (b *bidCommand) sayNext(offer *bid.Bid, id int64) {
	if id == 0 {
		if b.dryRun {
			b.tell("A dry run: the bid was not kept.")
		}
		return
	}
	fmt.Fprintln(b.toStdout, say.Written{Voice: b.voice()}.Kept(id))
	if offer.JobNo == "" {
		b.tell("Once the job has a number: pourback bids --link %d=JOB_NO; then its records show how the bid turned out.", id)
	} else {
		b.tell("Once the records of job %s are taken in, `pourback bids` shows how the bid turned out.", offer.JobNo)
	}
}
