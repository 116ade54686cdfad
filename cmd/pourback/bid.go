package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"pourback/analysis/bid"
	"pourback/analysis/setting"
	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/desk"
	"pourback/report/out"
	"pourback/report/page"
	"pourback/report/say"
)

// bidCommand is what a call of `pourback bid` asks for.
type bidCommand struct {
	*app
	out, pourDay, proposal string
	dryRun, explain        bool
	again                  again
	version                int                // of a revision that is kept
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
  pourback bid --revise 3 --thickness 5 --reinforcement rebar   # a new version of bid 3, by today's records
  pourback bid --copy 3 --name "Lot 15" --length 44             # a new bid from the spec of bid 3
  pourback bid lot-14.yaml --explain --dry-run                  # where each number comes from

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
			"The bid is kept in the database with the factors it stood on, unless --dry-run is given.\n" +
			"With --revise or --copy a spec is laid over that of the kept bid: what it does not say stays as it was, a flag\n" +
			"without a value (--crew \"\") takes away what was given, and a list of placements takes the place of the old one.",
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
	flags.Int64Var(&b.again.revise, "revise", 0, "make a new version of a kept bid, by its number: flags and file over its spec, today's records")
	flags.Int64Var(&b.again.copy, "copy", 0, "start from the spec of a kept bid, by its number; its name, site and job are not taken over")
	flags.BoolVar(&b.explain, "explain", false, "show where each number comes from, in place of the bid sheet")
	flags.BoolVar(&b.dryRun, "dry-run", false, "make the bid and do not keep it")
	return cmd
}

func (b *bidCommand) run(cmd *cobra.Command, args []string) error {
	if err := b.mayWrite(args); err != nil {
		return err
	}
	if err := b.again.check(cmd); err != nil {
		return err
	}
	words, err := b.specWords(cmd, args)
	if err != nil {
		return err
	}
	var spec bid.Spec
	if !b.again.asked() { // what is wrong with it is said before the database is opened
		if spec, err = b.read(args, words); err != nil {
			return err
		}
	}
	st, err := b.openIfThere(cmd.Context())
	if err != nil {
		return err
	}
	if st != nil {
		defer st.Close()
	}
	if b.again.asked() {
		base, err := b.base(cmd.Context(), st)
		if err != nil {
			return err
		}
		if spec, err = b.over(base, args, words); err != nil {
			return err
		}
	}
	return b.make(cmd.Context(), st, spec)
}

// make makes the bid, keeps it unless that is not wanted, and shows it.
func (b *bidCommand) make(ctx context.Context, st *store.Store, spec bid.Spec) error {
	h, opt, err := b.known(ctx, st)
	if err != nil {
		return err
	}
	known, err := b.knows(ctx, st, h, opt)
	if err != nil {
		return err
	}
	offer, id, err := b.bid(ctx, st, known, spec, b.again.revise, !b.dryRun && st != nil)
	if err != nil {
		return err
	}
	if id != 0 {
		b.keeps()
	}
	if id != 0 && b.again.revise != 0 {
		kept, err := st.Bid(ctx, id)
		if err != nil {
			return err
		}
		b.version = kept.Version
	}
	if err := b.answer(known, opt, spec, offer, id); err != nil && id != 0 {
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
func (b *bidCommand) answer(known *desk.Known, opt setting.Options, spec bid.Spec, offer *bid.Bid, id int64) (err error) {
	h, ground := known.H, known.Ground
	if b.settings.NoNames {
		var without record.Nameless
		without.History(h)
		spec.Name, spec.Site, spec.Crew = "", "", without.Crew(spec.Crew)
		if ground, err = bid.GroundOf(h, opt); err != nil {
			return err
		}
		winning := offer.Winning
		if offer, err = ground.Make(spec, offer.Lean); err != nil {
			return err
		}
		offer.Winning = winning
	}
	if b.pourDay != "" { // the table from which the crew reads the last load off
		if b.reckoner, err = ground.Reckoner(spec); err != nil {
			return err
		}
	}
	b.leftOut = h.LeftOut()
	return b.show(offer, id)
}

// sheet is the page that the office reads: the bid, or where each of its numbers
// comes from.
func (b *bidCommand) sheet(offer *bid.Bid, opt page.Options) page.Page {
	if b.explain {
		return page.ExplainedPage(offer, opt)
	}
	return page.BidPage(offer, opt)
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
	shown, changes := b.sheet(offer, opt), b.changes(offer, id)
	written, err := b.writePapers(offer, id, opt)
	if err != nil {
		return err
	}
	switch {
	case b.settings.JSON:
		return out.BidJSON(b.toStdout, id, offer, b.voice(), out.BidMore{Changes: changes, Explain: b.explain, Written: written})
	case b.out == "":
		if err := b.sayChanges(changes); err != nil {
			return err
		}
		if err := out.Terminal(b.toStdout, []page.Page{shown}, b.width, false); err != nil {
			return err
		}
	default:
		if err := b.sayChanges(changes); err != nil {
			return err
		}
		fmt.Fprintln(b.toStdout, shown.Answer)
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
