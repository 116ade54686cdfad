package site

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"pourback/ingest"
	"pourback/ingest/invented"
	"pourback/ingest/sheet"
	"pourback/ingest/spec"
	"pourback/ingest/store"
	"pourback/report/desk"
	"pourback/report/page"
	"pourback/report/say"
)

// inventedFolder is how the folders are called that hold an invented company.
const inventedFolder = "pourback-invented-"

// companyOf is whom a route is about, nil where nobody looks round in the
// invented company.
func (s *Site) companyOf(r Route) func() *company {
	if !strings.HasPrefix(r.Pattern, inventedBase+"/") || r.Method != "GET" {
		return func() *company { return s.own }
	}
	return func() *company {
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.invented
	}
}

// makeInvented invents a company, in a database of its own, and shows it.
func makeInvented(a *Ask) error {
	s := a.Site
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.invented == nil {
		c, err := inventCompany(a.Context(), s, a.Say.InventedName())
		if err != nil {
			return err
		}
		s.invented = c
	}
	return a.Go(inventedBase + "/")
}

func inventCompany(ctx context.Context, s *Site, name string) (_ *company, err error) {
	sweepInvented(s.Now())
	dir, err := os.MkdirTemp("", inventedFolder)
	if err != nil {
		return nil, err
	}
	remove := func() error { return os.RemoveAll(dir) }
	defer func() {
		if err != nil {
			remove()
		}
	}()
	set, _, err := invented.Generate(invented.Options{Until: s.Settings.asOf(s.Now())})
	if err != nil {
		return nil, err
	}
	records, err := ingest.WriteSet(filepath.Join(dir, "records"), set)
	if err != nil {
		return nil, err
	}
	st, err := store.Open(ctx, filepath.Join(dir, "invented.db"), store.Options{Readers: 2})
	if err != nil {
		return nil, err
	}
	opt := ingest.Options{TakenAt: stamp(s.Now())}
	opt.Sheet.Today = s.Settings.asOf(s.Now())
	results, err := ingest.Files(ctx, st, records, opt)
	for _, r := range results {
		if err == nil && (r.Refused != "" || r.SetAside > 0) {
			err = fmt.Errorf("the invented records were not all taken in: %s %s", r.File, r.Refused)
		}
	}
	if err != nil {
		st.Close()
		return nil, err
	}
	settings := s.Settings
	settings.Company, settings.NoNames, settings.Letterhead = name, false, page.Letterhead{}
	c := s.newCompany(st, settings)
	if err := c.bidFor(ctx, invented.BidSpec, opt.Sheet); err != nil {
		st.Close()
		return nil, err
	}
	c.remove = remove
	return c, nil
}

// bidFor keeps a bid for what a spec asks for, as it is known today.
func (c *company) bidFor(ctx context.Context, text []byte, read sheet.Options) error {
	asked, problems := spec.Read("bid.yaml", text, nil, sheet.Options{Today: read.Today})
	if asked == nil {
		return errors.New(problems[0].String())
	}
	of, err := desk.SpecOf(asked)
	if err != nil {
		return err
	}
	_, known, err := c.bidding(ctx, read.Today)
	if err != nil {
		return err
	}
	offer, err := known.Bid(of)
	if err != nil {
		return err
	}
	_, err = known.Keep(ctx, c.store, offer, 0, read.Today, say.New("en", c.settings.Units, c.settings.Currency))
	return err
}

// dropInvented makes the invented company gone.
func dropInvented(a *Ask) error {
	s := a.Site
	s.mu.Lock()
	err := s.forgetInvented()
	s.mu.Unlock()
	if err != nil {
		return err
	}
	return a.Go("/")
}

// forgetInvented closes the invented company and removes its files.
func (s *Site) forgetInvented() error {
	c := s.invented
	if c == nil {
		return nil
	}
	s.invented = nil
	for _, l := range []*lane{&c.works, &c.reads.lane} {
		defer l.enter(nil)() // nothing is read or worked out of it any more; who has waited meanwhile is told that it is gone
	}
	err := c.store.Close()
	return errors.Join(err, c.remove())
}

// sweepInvented removes what programs that were killed have left behind.
func sweepInvented(now time.Time) {
	left, err := filepath.Glob(filepath.Join(os.TempDir(), inventedFolder+"*"))
	if err != nil {
		return
	}
	for _, dir := range left {
		if is, err := os.Lstat(dir); err == nil && is.IsDir() && now.Sub(is.ModTime()) > 48*time.Hour {
			os.RemoveAll(dir) // another try next time
		}
	}
}
