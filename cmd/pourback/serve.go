package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"pourback/ingest/store"
	"pourback/report/site"
)

// serveCall is what a call of serve asks for.
type serveCall struct {
	*app
	way      site.Way
	addOwner string
	browser  bool // open it in the browser
}

// siteReaders are as many as read an embedded database at once: more only take the
// processors from one another.
const siteReaders = 4

func newServe(a *app) *cobra.Command {
	s := &serveCall{app: a}
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "Show the report, and take records and bids in, as a local web site",
		Long: "Show the report as a web site on this computer, with forms for records and bids; `pourback` alone opens it in\n" +
			"the browser. On 127.0.0.1 it opens without signing in, until it has users. To be reached from other computers it\n" +
			"wants users, and https: by a certificate of its own or behind a proxy.\n\n" +
			"With --lan the crew's phones reach their forms on your own network, beside the site at this computer: no page with\n" +
			"money, and no passwords. Add each phone on the page Users, by a code that it reads with its camera. There is no https\n" +
			"there: whoever is on the network could read what the phones send, so use a network that is yours. Where the computer\n" +
			"is on several networks, say which: --lan=192.168.1.20. The first time, the firewall of Windows or macOS asks whether\n" +
			"pourback may take connections: allow it on private networks, not on public ones, or no phone finds it.",
		Example: "  pourback serve\n  pourback serve --lan\n  pourback serve --add-owner Ana\n  pourback serve --listen 127.0.0.1:8377 --behind-proxy --host jobs.example.com",
		Args:    serveArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			s.way.Listen, s.way.Hosts = a.settings.Listen, a.settings.Hosts
			if cmd.Flags().Changed("add-owner") {
				return s.owner(cmd.Context())
			}
			s.way.Lan, s.way.SiteURL = a.settings.Lan, a.settings.SiteURL
			return s.run(cmd.Context())
		},
	}
	flags := cmd.Flags()
	flags.String("listen", settingNamed("listen").value.(string), settingNamed("listen").about)
	flags.StringSlice("host", nil, settingNamed("hosts").about)
	flags.String("lan", "", settingNamed("lan").about)
	flags.Lookup("lan").NoOptDefVal = site.LanAuto
	flags.StringVar(&s.way.Cert, "tls-cert", "", "the certificate's file: then the site speaks https")
	flags.StringVar(&s.way.Key, "tls-key", "", "the file of the certificate's key")
	flags.BoolVar(&s.way.BehindProxy, "behind-proxy", false, "a proxy ends https before the site, and says who asks")
	flags.BoolVar(&s.browser, "open", false, "open it in the browser")
	flags.StringVar(&s.addOwner, "add-owner", "", "make somebody of this name an owner, who signs in, and end")
	return cmd
}

// serveArgs are none: an address behind --lan belongs to it.
func serveArgs(cmd *cobra.Command, args []string) error {
	if len(args) == 1 && cmd.Flags().Changed("lan") {
		return usageError{fmt.Errorf("write the network's address behind an equals sign: --lan=%s", args[0])}
	}
	return wantArgs(0, 0, "no arguments")(cmd, args)
}

// openInBrowser serves and opens the browser, as `pourback` alone does.
func openInBrowser(a *app, ctx context.Context) error {
	return (&serveCall{app: a, way: site.Way{Listen: a.settings.Listen, Hosts: a.settings.Hosts}, browser: true}).run(ctx)
}

func (s *serveCall) run(ctx context.Context) error {
	plan, err := s.way.Plan()
	if err != nil {
		return usageError{err}
	}
	ln, err := plan.Listen(ctx)
	if err != nil {
		return s.other(ctx, plan, err)
	}
	defer ln.Close()
	lan, err := plan.ListenLan(ctx)
	if err != nil {
		return err
	}
	if lan != nil {
		defer lan.Close()
	}
	st, err := s.openWith(ctx, store.Options{Readers: siteReaders})
	if err != nil {
		return err
	}
	defer st.Close()
	users, err := st.HasUsers(ctx)
	if err != nil {
		return err
	}
	if err := plan.MustHave(users); err != nil {
		return usageError{err}
	}
	return s.serve(ctx, ln, lan, plan, st)
}

// serve answers until it is stopped.
func (s *serveCall) serve(ctx context.Context, ln, lan net.Listener, plan site.Plan, st *store.Store) error {
	config, err := s.config(st)
	if err != nil {
		return err
	}
	config.Access, config.Lan = plan.Access, plan.Lan
	if config.Settings.Letterhead.SiteURL == "" {
		config.Settings.Letterhead.SiteURL = plan.LanURL() // where the codes on the crew's papers lead
	}
	web, err := site.New(config)
	if err != nil {
		return err
	}
	defer web.Close()
	if err := s.printed(served{URL: plan.URL(), Lan: plan.LanURL()}, strings.TrimSpace(plan.URL()+"\n"+plan.LanURL())); err != nil {
		return err
	}
	s.tell("The site is at %s; Ctrl+C ends it.", plan.URL())
	s.tellOfLan(plan)
	s.show(plan.URL())
	return web.Serve(ctx, ln, lan, plan)
}

// tellOfLan says what it means that phones reach the site.
func (s *serveCall) tellOfLan(plan site.Plan) {
	if at := plan.LanURL(); at != "" {
		s.tell("Phones on this network reach the crew's forms at %s, once they are added on the page Users.", at)
		s.tell("There is no https there: anybody on this network could read what the phones send. No page with money is there, and no password is taken. Use a network that is yours, or https (--tls-cert).")
	}
}

// config is what the site is made of.
func (s *serveCall) config(st *store.Store) (site.Config, error) {
	opt, err := s.settings.options()
	if err != nil {
		return site.Config{}, err
	}
	level := slog.LevelWarn
	if s.settings.Verbose {
		level = slog.LevelInfo
	}
	c := site.Config{Store: st, Database: s.databaseName(), Now: s.now, Log: slog.New(slog.NewTextHandler(s.stderr, &slog.HandlerOptions{Level: level}))}
	c.Settings = site.Settings{Analysis: opt, Sheet: s.sheetOptions(), Company: s.settings.Company.Name, Letterhead: s.settings.letterhead(), Currency: s.settings.Currency, Units: s.settings.Units, Lang: s.settings.Lang, NoNames: s.settings.NoNames, Pictures: s.settings.Pictures, ViewersRead: s.settings.ViewersRead}
	if s.settings.AsOf != "" {
		c.Settings.AsOf = s.asOf
	}
	return c, nil
}

// databaseName is the database as messages may show it: by its full path.
func (s *serveCall) databaseName() string {
	if path, ok := store.File(s.settings.DB); ok {
		return store.FullPath(path)
	}
	return store.Shown(s.settings.DB)
}

// other is what to do where the port is taken: open the site that is there, if it
// is this database's.
func (s *serveCall) other(ctx context.Context, plan site.Plan, taken error) error {
	there, ok := plan.Running(ctx)
	switch {
	case ok && there.DatabaseID == site.DatabaseID(s.databaseName()) && plan.Lan != nil && !there.Lan:
		return fmt.Errorf("the site is running already at %s, without --lan: end it, and start it again with --lan", plan.URL())
	case ok && there.DatabaseID == site.DatabaseID(s.databaseName()):
		s.tell("The site is running already at %s.", plan.URL())
		s.show(plan.URL())
		return s.printed(served{URL: plan.URL(), Already: true}, plan.URL())
	case ok:
		return fmt.Errorf("a site of another database is running at %s: end it, or give this one a port of its own, such as --listen 127.0.0.1:8378", plan.URL())
	}
	return fmt.Errorf("%s cannot be listened at: %w; another program may have it: choose another port, such as --listen 127.0.0.1:8378", plan.Way.Listen, taken)
}

// show opens the site in the browser, where that is wanted and there is one.
func (s *serveCall) show(url string) {
	if !s.browser || !s.settings.OpenBrowser || s.opens == nil {
		return
	}
	if err := s.opens(url); err != nil {
		s.detail("the browser was not opened: %v", err)
	}
}

// owner makes an owner: by a password that is asked for, or a link that works once.
func (s *serveCall) owner(ctx context.Context) error {
	st, err := s.openOrMake(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	plan, err := s.way.Plan()
	if err != nil {
		return usageError{err}
	}
	if !s.asks {
		link, err := site.InviteOwner(ctx, st, s.addOwner, s.now())
		if err != nil {
			return err
		}
		s.keeps()
		s.tell("Open this link once the site runs: it works once, for three days, and sets the password.")
		return s.printed(served{Owner: s.addOwner, Link: plan.Public() + link}, plan.Public()+link)
	}
	password, err := s.askPassword()
	if err != nil {
		return err
	}
	if err := site.AddOwner(ctx, st, s.addOwner, password, s.now()); err != nil {
		return err
	}
	s.keeps()
	s.tell("%s is an owner now, and signs in with this password.", s.addOwner)
	return s.printed(served{Owner: s.addOwner}, s.addOwner)
}

// served is what a call came to.
type served struct {
	URL     string `json:"url,omitempty"`
	Lan     string `json:"lan_url,omitempty"`
	Already bool   `json:"already_running,omitempty"`
	Owner   string `json:"owner,omitempty"`
	Link    string `json:"link,omitempty"`
}

// printed prints what a call came to, as JSON or as a line.
func (s *serveCall) printed(came served, line string) error {
	if s.settings.JSON {
		return printJSON(s.stdout, came)
	}
	_, err := fmt.Fprintln(s.stdout, line)
	return err
}

// askPassword asks for a new password twice, without showing it.
func (s *serveCall) askPassword() (string, error) {
	stdin, ok := s.stdin.(interface{ Fd() uintptr })
	if !ok {
		return "", errors.New("a password is asked for on a terminal alone")
	}
	ask := func(what string) (string, error) {
		fmt.Fprint(s.stderr, what)
		text, err := term.ReadPassword(int(stdin.Fd()))
		fmt.Fprintln(s.stderr)
		return string(text), err
	}
	password, err := ask("Password, at least 10 characters: ")
	if err == nil {
		err = site.CheckPassword(password)
	}
	if err != nil {
		return "", err
	}
	again, err := ask("The same again: ")
	if err == nil && again != password {
		err = errors.New("the two passwords differ: nothing was kept")
	}
	return password, err
}
