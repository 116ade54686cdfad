package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/spf13/cobra"

	"pourback/analysis"
	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/page"
)

// pictureCall is a call about pictures.
type pictureCall struct {
	*app
	adding              ingest.Adding
	visit, spot, remove string
	purge               bool
}

func newPicture(a *app) *cobra.Command {
	p := &pictureCall{app: a}
	cmd := &cobra.Command{
		Use:     "picture [JOB/PLACEMENT [FILE…]]",
		Aliases: []string{"pictures"},
		Short:   "Keep pictures with a slab, a visit or a load; list them; take one back",
		Long: "Keep pictures with a slab, or with one visit or load of it. JPEG, PNG and WebP are taken, up to 10 MB each. What is\n" +
			"kept is the picture alone, upright and at most 2,048 pixels long: no position and nothing else that was in the file.\n" +
			"When it was taken is kept beside it, unless pictures.keep_time says no. Pictures of one call are a batch, which\n" +
			"`pourback undo` takes back.\n\n" +
			"Without files it lists what is kept. One that was taken back is shown no more, and stays until --purge.",
		Example: "  pourback picture J-104/A crack.jpg --visit 2025-06-12 --caption \"by the garage\"\n" +
			"  pourback picture J-104/A ticket.jpg --ticket T-3391\n" +
			"  pourback picture J-104/A\n" +
			"  pourback picture --take-back 5f0c…",
		Args: func(cmd *cobra.Command, args []string) error { return p.check(cmd, args) },
		RunE: func(cmd *cobra.Command, args []string) error { return p.run(cmd.Context(), args) },
	}
	flags := cmd.Flags()
	flags.StringVar(&p.visit, "visit", "", "the day of the visit that they belong to, such as 2025-06-12")
	flags.StringVar(&p.adding.TicketNo, "ticket", "", "the ticket of the load that they belong to")
	flags.StringVar(&p.adding.Caption, "caption", "", "what they show")
	flags.StringVar(&p.adding.By, "by", "", "who took them")
	flags.StringVar(&p.spot, "spot", "", "where on the slab, in ft from the left and the top of its drawing, such as 12,8.5")
	flags.StringVar(&p.remove, "take-back", "", "take the picture of this key back, and do nothing else")
	flags.BoolVar(&p.purge, "purge", false, "let go of all pictures that were taken back, for good, and do nothing else")
	return cmd
}

// check says what is wrong with the words of the call.
func (p *pictureCall) check(cmd *cobra.Command, args []string) (err error) {
	alone := p.remove != "" || p.purge
	facts := slices.ContainsFunc([]string{"visit", "ticket", "caption", "by", "spot"}, cmd.Flags().Changed)
	switch {
	case alone && (len(args) > 0 || facts || p.remove != "" && p.purge):
		return usagef("--take-back KEY and --purge stand alone: no slab, no files, no other flag of picture")
	case facts && len(args) < 2:
		return usagef("--visit, --ticket, --caption, --by and --spot are about pictures to keep: name the slab and the files, such as J-104/A crack.jpg")
	case p.visit != "" && p.adding.TicketNo != "":
		return usagef("--visit and --ticket: a picture belongs to one of them")
	}
	if p.visit != "" {
		if p.adding.SeenOn, err = record.ParseDate(p.visit); err != nil {
			return usagef("--visit %w", err)
		}
	}
	if p.spot != "" {
		return p.readSpot()
	}
	return nil
}

func (p *pictureCall) readSpot() error {
	x, y, found := strings.Cut(p.spot, ",")
	for _, at := range []struct {
		text string
		into *record.Number
	}{{x, &p.adding.XFt}, {y, &p.adding.YFt}} {
		if err := record.SetField(at.into, strings.TrimSpace(at.text)); err != nil || !found || !at.into.OK || !(at.into.V >= 0 && at.into.V <= 10_000) {
			return usagef("--spot %q: want feet from the left and from the top, such as 12,8.5", p.spot)
		}
	}
	return nil
}

func (p *pictureCall) run(ctx context.Context, args []string) error {
	p.files.Reads("a file that is being read", args[min(1, len(args)):]...)
	st, err := p.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	switch {
	case p.remove != "":
		return p.takeBack(ctx, st)
	case p.purge:
		return p.purgeAll(ctx, st)
	case len(args) < 2:
		return p.list(ctx, st, args)
	}
	return p.keep(ctx, st, args[0], args[1:])
}

// pictureTime is how long a picture may take that nobody else waits for.
const pictureTime = 10 * time.Second

func (p *pictureCall) keep(ctx context.Context, st *store.Store, slab string, files []string) error {
	p.adding.Target, p.adding.Rules, p.adding.Within, p.adding.TakenAt = slab, p.settings.Pictures, pictureTime, p.stamp()
	for _, path := range files {
		p.adding.Files = append(p.adding.Files, ingest.PictureFile{Name: path, Read: func() ([]byte, error) { return readPicture(path) }})
	}
	done, err := ingest.AddPictures(ctx, st, p.adding)
	if err != nil {
		return err
	}
	if done.Batch != 0 {
		p.keeps()
	}
	if p.settings.JSON {
		if err := printJSON(p.stdout, done); err != nil {
			return err
		}
	} else {
		p.sayKept(&done)
	}
	refused := len(done.Refused())
	switch {
	case refused == len(done.Pictures):
		return errSaid
	case refused > 0:
		return errSetAside
	}
	return nil
}

func readPicture(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		var at *os.PathError
		if errors.As(err, &at) {
			return nil, fmt.Errorf("cannot be opened: %w", at.Err)
		}
		return nil, err
	}
	defer f.Close()
	return ingest.ReadPicture(f)
}

func (p *pictureCall) sayKept(done *ingest.Added) {
	for _, is := range done.Pictures {
		if is.Why != nil {
			fmt.Fprintf(p.stdout, "%s: refused, %s\n", is.File, is.Refused)
			continue
		}
		fmt.Fprintf(p.stdout, "%s: %s, %d by %d pixels, %s, key %s\n", is.File, is.Became, is.Width, is.Height, sized(int64(is.Bytes)), is.Key)
	}
	switch {
	case done.Batch != 0:
		fmt.Fprintf(p.stdout, "  kept with %s as batch %d; `pourback undo %d` takes it back\n", record.Shown(done.Record), done.Batch, done.Batch)
	case len(done.Refused()) < len(done.Pictures):
		fmt.Fprintln(p.stdout, "  nothing new: they are kept already")
	}
}

func sized(n int64) string {
	if n < 1e6 {
		return fmt.Sprintf("%.0f kB", float64(n)/1e3)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}

func (p *pictureCall) takeBack(ctx context.Context, st *store.Store) error {
	batch, err := ingest.TakeBackPicture(ctx, st, p.remove, p.stamp())
	if err != nil {
		return err
	}
	p.keeps()
	if p.settings.JSON {
		return printJSON(p.stdout, map[string]any{"batch": batch, "taken_back": p.remove})
	}
	fmt.Fprintf(p.stdout, "Picture %s is taken back, as batch %d: `pourback undo %d` brings it back until it is purged.\n", record.Shown(p.remove), batch, batch)
	return nil
}

func (p *pictureCall) purgeAll(ctx context.Context, st *store.Store) error {
	n, freed, err := st.PurgePictures(ctx, p.stamp())
	if err != nil {
		return err
	}
	p.keeps()
	if p.settings.JSON {
		return printJSON(p.stdout, map[string]any{"purged": n, "freed_bytes": freed})
	}
	fmt.Fprintf(p.stdout, "%d pictures that were taken back are gone for good: %s is free for others.\n", n, sized(freed))
	return nil
}

// listed is a picture in the list, as JSON has it.
type listed struct {
	Key      string `json:"picture"`
	Job      string `json:"job_no"`
	Place    string `json:"placement"`
	SeenOn   string `json:"seen_on,omitempty"`
	TicketNo string `json:"ticket_no,omitempty"`
	TakenAt  string `json:"taken_at,omitempty"`
	KeptAt   string `json:"kept_at"`
	KeptBy   string `json:"kept_by,omitempty"`
	Caption  string `json:"caption,omitempty"`
	Width    int64  `json:"width_px"`
	Height   int64  `json:"height_px"`
	Bytes    int64  `json:"bytes"`

	on record.Date
}

// list tells what is kept: of one slab, or how much of all.
func (p *pictureCall) list(ctx context.Context, st *store.Store, args []string) error {
	job, placement, err := "", "", error(nil)
	if len(args) > 0 {
		if job, placement, err = ingest.Slab(ctx, st, args[0]); err != nil {
			return err
		}
	}
	all, err := st.Pictures(ctx, job)
	if err != nil {
		return err
	}
	used, err := st.PicturesUsed(ctx)
	if err != nil {
		return err
	}
	rows := []listed{}
	for i := range all {
		if job == "" || all[i].Placement == placement {
			rows = append(rows, p.row(&all[i]))
		}
	}
	slices.SortStableFunc(rows, func(a, b listed) int {
		return cmp.Or(cmp.Compare(a.Job, b.Job), cmp.Compare(a.Place, b.Place), cmp.Compare(a.on, b.on), cmp.Compare(a.TakenAt, b.TakenAt))
	})
	if p.settings.JSON {
		return printJSON(p.stdout, map[string]any{"pictures": rows, "used_bytes": used, "quota_bytes": int64(p.settings.Pictures.QuotaMB * 1e6)})
	}
	if len(rows) > 0 {
		t := newTable(p.stdout, "slab", "day", "of", "pixels", "size", "what it shows", "key")
		for _, r := range rows {
			t.AppendRow(table.Row{record.Shown(r.Job + "/" + r.Place), r.on, record.Shown(r.of()), fmt.Sprintf("%d × %d", r.Width, r.Height), sized(r.Bytes), record.Shown(r.Caption), record.Shown(r.Key)})
		}
		t.Render()
	}
	fmt.Fprintf(p.stdout, "%d pictures; all that are kept, with those taken back, take %s of %.0f MB.\n", len(rows), sized(used), p.settings.Pictures.QuotaMB)
	return nil
}

func (p *pictureCall) row(is *record.Picture) listed {
	r := listed{Key: is.Picture, Job: is.JobNo, Place: is.Placement, SeenOn: is.SeenOn.String(), TicketNo: is.TicketNo, TakenAt: is.TakenAt.String(),
		KeptAt: is.KeptAt.String(), KeptBy: is.KeptBy, Caption: is.Caption, Width: is.WidthPx.V, Height: is.HeightPx.V, Bytes: is.Bytes.V, on: is.On()}
	if p.settings.NoNames {
		r.Caption, r.KeptBy = "", ""
	}
	return r
}

// of is what a picture belongs to, beside its slab.
func (r *listed) of() string {
	switch {
	case r.SeenOn != "":
		return "visit " + r.SeenOn
	case r.TicketNo != "":
		return "load " + r.TicketNo
	}
	return "slab"
}

// pictured are the pictures of the slabs that a report tells of, with those that
// it shows.
func pictured(ctx context.Context, st *store.Store, f *analysis.Factors) (*page.Pictures, error) {
	all, err := st.Pictures(ctx, "")
	if err != nil || f.Visits == nil {
		return nil, err
	}
	p := page.PicturesOf(f, all)
	return p, p.Fill(func(key string) ([]byte, error) {
		thumb, err := st.PictureThumb(ctx, key)
		if errors.Is(err, store.ErrNoPicture) || errors.Is(err, store.ErrPurged) {
			return nil, nil // taken back meanwhile
		}
		return thumb, err
	})
}
