package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/report/out"
	"pourback/report/page"
)

func newVisits(a *app) *cobra.Command {
	v := visitsCall{app: a}
	cmd := &cobra.Command{
		Use:   "visits",
		Short: "Say which finished slabs to go and look at, and what is open",
		Long: "Say which finished slabs to go and look at, which callbacks are open, and which new pours to worry about;\n" +
			"write the visits to a calendar file; tell one slab's whole story.",
		Args: wantArgs(0, 0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error { return v.run(cmd.Context(), cmd.Flags().Changed("due")) },
	}
	cmd.Flags().StringVar(&v.due, "due", "", "list visits up to this day, such as 2025-06-30; a week ahead where not given")
	cmd.Flags().StringVar(&v.ics, "ics", "", "write the visits to this calendar file too")
	cmd.Flags().BoolVar(&v.sites, "with-sites", false, "name the sites in the calendar file, as is done unless --no-names is given")
	cmd.Flags().MarkHidden("with-sites")
	cmd.Flags().StringVar(&v.slab, "slab", "", "tell the story of one slab: its job and placement, such as J-104/A")
	return cmd
}

type visitsCall struct {
	*app
	due, ics, slab string
	sites          bool
}

// run answers the call; due says whether a last day was given.
func (v *visitsCall) run(ctx context.Context, due bool) error {
	opt, err := v.asked(due)
	if err != nil {
		return err
	}
	if v.ics != "" {
		if err := v.files.May(v.ics, out.OursCalendar); err != nil {
			return err
		}
	}
	st, err := v.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	f, err := v.factors(ctx, st, []string{setting.VisitsTopic}, func(o *setting.Options) {
		o.Visits.DueBy, o.Visits.Slab, o.Visits.NoSites = opt.DueBy, opt.Slab, v.settings.NoNames
	})
	if err != nil {
		return err
	}
	if opt.Slab != "" && len(f.Visits.Stories) == 0 {
		return v.unknownSlab(f)
	}
	if err := v.calendar(f); err != nil {
		return err
	}
	if v.settings.JSON {
		return out.JSON(v.beside(v.ics), f, v.voice())
	}
	shown := v.reportOptions()
	if opt.Slab != "" && !v.settings.NoNames {
		all, err := st.Pictures(ctx, f.Visits.Stories[0].JobNo)
		if err != nil {
			return err
		}
		shown.Pictures = page.PicturesOf(f, all)
	}
	return out.Terminal(v.beside(v.ics), page.VisitPages(f, shown), v.width, false)
}

// unknownSlab says that no placement bears the name that was asked for.
func (v *visitsCall) unknownSlab(f *analysis.Factors) error {
	err := fmt.Errorf("no placement %q on record by %s", f.Visits.StoryAsked, f.AsOf)
	if near := f.Visits.StoryNear; near != "" {
		err = fmt.Errorf("%w; did you mean %s?", err, near)
	}
	return err
}

// calendar writes the calendar file that was asked for, if there is anything to
// put into one.
func (v *visitsCall) calendar(f *analysis.Factors) error {
	n := len(f.Visits.Due) + len(f.Visits.Overdue)
	switch {
	case v.ics == "":
		return nil
	case n == 0:
		v.tell("No visit is due by %s and none is overdue, so %s was not written", f.Visits.DueBy, v.ics)
		return nil
	}
	err := v.files.Write(v.ics, out.OursCalendar, func(w io.Writer) error {
		return out.Calendar(w, f, out.CalendarOptions{Lang: v.settings.Lang, Units: v.settings.Units, Sites: !v.settings.NoNames})
	})
	if err != nil {
		return fmt.Errorf("calendar file %s: %w", record.Shown(v.ics), err)
	}
	v.keeps()
	v.tell("Wrote %d visits to %s: a calendar program that reads such a file again changes what is there and adds nothing twice", n, record.Shown(v.ics))
	return nil
}

// asked reads the flags.
func (v *visitsCall) asked(due bool) (opt setting.VisitOptions, err error) {
	if v.sites && v.settings.NoNames {
		return opt, usagef("--with-sites names sites and --no-names none: give one of them")
	}
	if v.sites && v.ics == "" {
		return opt, usagef("--with-sites is about the calendar file: give --ics FILE with it")
	}
	if v.slab != "" && v.settings.JSON {
		return opt, usagef("--slab tells a story in words; `pourback visits --json` has the figures, and `pourback export` the visits themselves")
	}
	if due {
		if opt.DueBy, err = record.ParseDate(v.due); err != nil {
			return opt, usagef("--due %w", err)
		}
		if opt.DueBy < v.asOf {
			return opt, usagef("--due %s lies before the data date %s: want that day or a later one", v.due, v.asOf)
		}
	}
	if opt.Slab = strings.TrimSpace(v.slab); opt.Slab != "" && !strings.Contains(opt.Slab, "/") {
		return opt, usagef("--slab %q: want a job and a placement, such as J-104/A", v.slab)
	}
	return opt, nil
}
