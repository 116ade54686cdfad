package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/term"

	"pourback/ingest"
	"pourback/ingest/outfile"
	"pourback/ingest/record"
	"pourback/ingest/store"
)

// environment is all of the outside world that the program touches besides
// files: tests hand in their own.
type environment struct {
	stdout, stderr io.Writer
	environ        []string
	now            func() time.Time
	stdin          io.Reader
	terminal       bool // standard error is one
	asks           bool // a person sits at standard input, and can see standard error
	width          int  // of the terminal that standard output is, or 0

	opens func(url string) error // in the browser of whoever sits here; nil where nobody does
}

func system() environment {
	env := environment{stdout: os.Stdout, stderr: os.Stderr, environ: os.Environ(), now: time.Now,
		stdin: os.Stdin, terminal: term.IsTerminal(int(os.Stderr.Fd()))}
	env.opens = browserOpener()
	env.asks = env.terminal && term.IsTerminal(int(os.Stdin.Fd()))
	if w, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil {
		env.width = w
	}
	return env
}

// Exit statuses.
const (
	exitDone      = 0
	exitFailed    = 1 // nothing was kept
	exitUsage     = 2 // the words of the call are wrong
	exitSetAside  = 3 // done, but some rows were set aside
	exitUnwritten = 4 // kept, but what came of it could not all be written
)

// usageError is a call whose words are wrong.
type usageError struct{ error }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// errSetAside ends a call that is done but for some rows, which it has named.
var errSetAside = errors.New("some rows were set aside, or cells left empty")

// errSaid ends a call that failed and has already said why.
var errSaid = errors.New("failed")

// run is the whole program: a function of arguments and the outside world that
// returns the exit status.
func run(ctx context.Context, args []string, env environment) int {
	results := &results{Writer: env.stdout}
	env.stdout = results
	root := newRoot(&env)
	root.SetArgs(args)
	err := results.verdict(untilStopped(ctx, root.ExecuteContext))
	var usage usageError
	var inUse *outfile.InUseError
	var dash outfile.DashError
	var unwritten *ingest.UnwrittenError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errSetAside):
		return exitSetAside
	case errors.Is(err, errSaid):
		return exitFailed
	case errors.As(err, &unwritten):
		env.complain(err)
		return exitUnwritten
	case errors.As(err, &usage), errors.As(err, &inUse), errors.As(err, &dash):
		env.complain(err)
		return exitUsage
	case ctx.Err() != nil && !errors.Is(err, errUnanswered):
		fmt.Fprintln(env.stderr, "pourback: stopped; nothing of the unfinished step was kept")
		return exitFailed
	}
	env.complain(err)
	return exitFailed
}

// complain says what went wrong. Whatever a file is called, a terminal sees it
// and does not obey it.
func (env *environment) complain(err error) {
	for i, line := range strings.Split(unsecret(err), "\n") {
		if line = record.Shown(line); i == 0 {
			line = "pourback: " + line
		}
		fmt.Fprintln(env.stderr, line)
	}
}

// app is what every command works with once the settings are read.
type app struct {
	*environment
	settings settings
	flags    *cobra.Command
	files    *outfile.Out // how this call writes its files
	asOf     record.Date
	today    record.Date
}

func newRoot(env *environment) *cobra.Command {
	a := &app{environment: env}
	cobra.MousetrapHelpText = "" // who clicks it twice on Windows wants the site, not a lesson
	root := &cobra.Command{
		Use:   "pourback",
		Short: "Ask finished concrete jobs what the next one will take",
		Long: "pourback reads the records of completed flatwork jobs and answers what to order, how long it takes,\n" +
			"how often the pump clogs, which slabs crack and what each month earned.",
		SilenceErrors: true, SilenceUsage: true,
		CompletionOptions:          cobra.CompletionOptions{HiddenDefaultCmd: true},
		SuggestionsMinimumDistance: 2,
		PersistentPreRunE:          func(cmd *cobra.Command, _ []string) error { return a.prepare(cmd) },
		RunE: func(cmd *cobra.Command, _ []string) error {
			if a.opens == nil {
				return cmd.Help()
			}
			return openInBrowser(a, cmd.Context())
		},
	}
	root.Args = func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return nil
		}
		err := fmt.Errorf("no command %q; `pourback --help` lists them", args[0])
		if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
			err = fmt.Errorf("no command %q; did you mean %s?", args[0], near[0])
		}
		return usageError{err}
	}
	root.SetOut(env.stdout)
	root.SetErr(env.stderr)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		var bad *pflag.InvalidValueError
		if no := new(strconv.NumError); errors.As(err, &bad) && errors.As(err, &no) {
			return usagef("--%s %q: %q is not a number; `%s --help` lists the flags", bad.GetFlag().Name, bad.GetValue(), no.Num, cmd.CommandPath())
		}
		return usagef("%w; `%s --help` lists the flags", err, cmd.CommandPath())
	})
	addSettingsFlags(root)
	root.AddCommand(newDemo(a), newIngest(a), newBatches(a), newUndo(a), newFactors(a), newReport(a), newVisits(a), newBid(a), newBids(a), newBalance(a),
		newBacktest(a), newExport(a), newBackup(a), newRestore(a), newCheck(a), newFix(a), newPicture(a), newServe(a), newConfig(a))
	return root
}

// prepare reads the settings and the dates that every command shares.
func (a *app) prepare(cmd *cobra.Command) error {
	s, err := readSettings(cmd.Flags(), a.environ)
	if err != nil {
		return usageError{err}
	}
	a.settings, a.flags = s, cmd
	a.guard()
	a.today = record.DayOf(a.now())
	a.asOf = a.today
	if s.AsOf != "" {
		if a.asOf, err = record.ParseDate(s.AsOf); err != nil {
			return usagef("--as-of %w", err)
		}
	}
	return nil
}

// open opens the database that the settings name, which has to be there.
func (a *app) open(ctx context.Context) (*store.Store, error) {
	st, err := a.openWith(ctx, store.Options{Existing: true})
	var none *store.NoDatabaseError
	if errors.As(err, &none) {
		err = fmt.Errorf("%w (%s); `pourback ingest FILE…` makes one, or name another with --db", none, a.whereFrom("db"))
	}
	return st, err
}

// openOrMake is open, and makes the database where there is none.
func (a *app) openOrMake(ctx context.Context) (*store.Store, error) {
	return a.openWith(ctx, store.Options{})
}

func (a *app) openWith(ctx context.Context, opt store.Options) (*store.Store, error) {
	began := a.now()
	opt.Lock = a.settings.Lock
	opt.Notice = func(text string) { a.tell("pourback: %s", text) }
	st, err := store.Open(ctx, a.settings.DB, opt)
	if err == nil {
		a.detail("opened the %s database %s in %s", st.Engine(), store.Shown(a.settings.DB), a.now().Sub(began).Round(time.Millisecond))
	}
	return st, err
}

// secrets are what an error may repeat of an address that stood where none
// belongs: an argument, a heading of the settings file.
var secrets = regexp.MustCompile(`(?i)((?:password|passwd|pwd)["']?\s*[=:]\s*)('[^']*'|[^\s&]+)|(://[^\s:/@"]+):[^\s"]*@|(\b[^\s:/@"]+):[^\s"/][^\s"]*@`)

// pattern is how an address is written, as errors show it: no secret.
const pattern = "://user:password@"

// unsecret is a message without the passwords of addresses in it.
func unsecret(err error) string {
	return secrets.ReplaceAllStringFunc(err.Error(), func(found string) string {
		switch at := secrets.FindStringSubmatch(found); {
		case found == pattern || at[2] == "…" || at[2] == "'…'":
			return found
		case at[1] != "":
			return at[1] + "…"
		default:
			return at[3] + at[4] + ":…@"
		}
	})
}

// detail writes what only --verbose asks for.
func (a *app) detail(format string, args ...any) {
	if a.settings.Verbose {
		fmt.Fprintln(a.stderr, record.Shown(fmt.Sprintf(format, args...)))
	}
}

// tell writes a message for people, which --quiet silences.
func (a *app) tell(format string, args ...any) {
	if !a.settings.Quiet {
		fmt.Fprintln(a.stderr, record.Shown(fmt.Sprintf(format, args...)))
	}
}

// wantArgs makes a wrong number of arguments a usage error that says what the
// command takes: from least to most of them, or any number where most is below 0.
func wantArgs(least, most int, takes string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < least || most >= 0 && len(args) > most {
			return usagef("%s takes %s, and was given %d", cmd.CommandPath(), takes, len(args))
		}
		return nil
	}
}
