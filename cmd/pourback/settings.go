package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
	_ "time/tzdata" // where the system has no time zones of its own

	"github.com/go-viper/mapstructure/v2"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/spf13/viper"

	"pourback/analysis/setting"
	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/report/say"
)

// settings are what the owner can set, by flag, environment, config file or
// not at all.
type settings struct {
	DB            string                       `mapstructure:"db"`
	AsOf          string                       `mapstructure:"as_of"`
	Units         string                       `mapstructure:"units"`
	Lang          string                       `mapstructure:"lang"`
	Company       company                      `mapstructure:"company"`
	SiteURL       string                       `mapstructure:"site_url"`
	Proposal      proposal                     `mapstructure:"proposal"`
	Currency      string                       `mapstructure:"currency"`
	Level         float64                      `mapstructure:"level"`
	Event         string                       `mapstructure:"event"`
	SpacingBands  []float64                    `mapstructure:"spacing_bands"`
	DateOrder     string                       `mapstructure:"date_order"`
	DecimalComma  string                       `mapstructure:"decimal_comma"`
	Encoding      string                       `mapstructure:"encoding"`
	Columns       map[string]string            `mapstructure:"columns"`
	Words         map[string]map[string]string `mapstructure:"words"`
	ConcretePerYd float64                      `mapstructure:"concrete_per_yd"`
	LaborPerHour  float64                      `mapstructure:"labor_per_hour"`
	Order         setting.OrderCosts           `mapstructure:"order"`
	Steel         setting.SteelCosts           `mapstructure:"steel"`
	WastePriors   setting.OveragePriors        `mapstructure:"waste_priors"`
	Bid           setting.BidPractice          `mapstructure:"bid"`
	Pour          setting.PourDay              `mapstructure:"pour"`
	Visits        setting.VisitPlan            `mapstructure:"visits"`
	Pictures      ingest.PictureRules          `mapstructure:"pictures"`
	Seed          uint64                       `mapstructure:"seed"`
	Lock          string                       `mapstructure:"lock"`
	NoNames       bool                         `mapstructure:"no_names"`
	FileAccess    string                       `mapstructure:"file_access"`
	Listen        string                       `mapstructure:"listen"`
	Hosts         []string                     `mapstructure:"hosts"`
	Lan           string                       `mapstructure:"lan"`
	ViewersRead   []string                     `mapstructure:"viewers_read"`
	OpenBrowser   bool                         `mapstructure:"open_browser"`
	JSON          bool                         `mapstructure:"json"`
	Quiet         bool                         `mapstructure:"quiet"`
	Verbose       bool                         `mapstructure:"verbose"`

	file   string // the config file that was read, if any
	source map[string]string
}

// setting describes one key: its default, its flag and what it is for.
type settingKey struct {
	key, flag string
	value     any
	about     string
	oneOf     []string
}

// settingKeys are in the order in which `pourback config` shows them. A key
// without a flag is set in the file or the environment.
var settingKeys = []settingKey{
	{"db", "db", "pourback.db", "the database: a path, or a server as postgres://… or host=…", nil},
	{"as_of", "as-of", "", "the data date, such as 2025-06-30; today where not set", nil},
	{"units", "units", "us", "units to show", []string{"us", "si"}},
	{"lang", "lang", "en", "language of what is read; errors, help and progress stay English", say.Languages()},
	{"company", "", "", "the company's name on reports; or its name, address, email, license and phones (plant, pump, owner) for papers", nil},
	{"site_url", "", "", "the address of the crew's own site, for the code on the pour-day sheet", nil},
	{"proposal", "", keysOf(usualProposal()), "the customer's proposal: how many days its price holds, and your words on payment and warranty", nil},
	{"currency", "", "$", "the sign before amounts of money", nil},
	{"level", "level", 0.90, "confidence of intervals, between 0 and 1", nil},
	{"event", "event", setting.EventCallback, "what counts as a crack: called about, or seen at a visit", []string{setting.EventCallback, setting.EventSeen}},
	{"spacing_bands", "", setting.DefaultBands, "lower ends of the joint spacing bands, in ft", nil},
	{"date_order", "date-order", "mdy", "how 3/4/2025 is read: month or day first", []string{"mdy", "dmy"}},
	{"decimal_comma", "", "auto", "whether 12,5 is twelve and a half", []string{"auto", "yes", "no"}},
	{"encoding", "encoding", "auto", "of record files", []string{"auto", "utf-8", "utf-16", "windows-1252"}},
	{"columns", "", map[string]string{}, "further headings: {heading: column}", nil},
	{"words", "", map[string]any{}, "further words: {column: {word: term}}", nil},
	{"concrete_per_yd", "", setting.DefaultStandardRates().ConcretePerYd.Dollars(), "a yard of concrete, delivered", nil},
	{"labor_per_hour", "", setting.DefaultStandardRates().LaborPerHour.Dollars(), "an hour of one person's work, with its burden", nil},
	{"order", "", keysOf(orderCosts()), "the money around an order of concrete; a price of 0 is concrete_per_yd", nil},
	{"steel", "", keysOf(setting.DefaultSteelCosts()), "the costs of mesh, rebar and callbacks", nil},
	{"waste_priors", "", keysOf(setting.DefaultOveragePriors()), "beliefs about waste before the records", nil},
	{"bid", "", keysOf(setting.DefaultBidPractice()), "what bids go by where the records are too few", nil},
	{"pour", "", keysOf(setting.DefaultPourDay()), "what a pour day is put on the clock with: start, trucks, the time to discharge, finishing", nil},
	{"visits", "", keysOf(setting.DefaultVisitPlan()), "when finished slabs are looked at, in days after the pour", nil},
	{"pictures", "", keysOf(ingest.DefaultPictureRules()), "how many megabytes pictures may take, and what is kept beside them: when and where they were taken", nil},
	{"seed", "", 0, "of everything that is drawn by chance", nil},
	{"lock", "", "advisory", "how writers queue on a PostgreSQL server", []string{"advisory", "none"}},
	{"no_names", "no-names", false, "name no site, customer or person in what is written", nil},
	{"file_access", "", accessOwner, "who may read the files that are written: their owner alone, or whom the system's umask lets", []string{accessOwner, accessUmask}},
	{"listen", "listen", "127.0.0.1:8377", "the address and port that the site listens at", nil},
	{"hosts", "host", []string{}, "further names by which browsers may ask for the site", nil},
	{"lan", "lan", "", "the network's address at which phones reach the crew's forms without https, beside a site on this computer: auto, or one such as 192.168.1.20", nil},
	{"viewers_read", "", []string{}, "pages of the site that viewers may read, by the names in their addresses: waste, crews, bids …; all where none is named", nil},
	{"open_browser", "", true, "whether the site is opened in the browser where it is to be", nil},
	{"json", "json", false, "print JSON", nil},
	{"quiet", "quiet", false, "print results only", nil},
	{"verbose", "verbose", false, "print more of what is done", nil},
}

// Who may read what is written.
const (
	accessOwner = "owner"
	accessUmask = "umask"
)

func settingNamed(key string) *settingKey {
	i := slices.IndexFunc(settingKeys, func(s settingKey) bool { return s.key == key })
	if i < 0 {
		return nil
	}
	return &settingKeys[i]
}

func addSettingsFlags(root *cobra.Command) {
	flags := root.PersistentFlags()
	flags.String("config", "", "the settings file; pourback.yaml here where not given")
	flags.Bool("force", false, "write over files that are not pourback's; never over what the call reads")
	for _, s := range settingKeys {
		if s.flag == "" || slices.Contains([]string{"listen", "host", "lan"}, s.flag) { // those are serve's own
			continue
		}
		about := s.about
		if s.oneOf != nil {
			about += " (" + strings.Join(s.oneOf, ", ") + ")"
		}
		switch v := s.value.(type) {
		case string:
			flags.String(s.flag, v, about)
		case float64:
			flags.Float64(s.flag, v, about)
		case bool:
			flags.Bool(s.flag, v, about)
		}
	}
}

const envPrefix = "POURBACK_"

// readSettings merges flags, environment, config file and defaults, in that
// order of weight, and refuses keys that mean nothing.
func readSettings(flags *pflag.FlagSet, environ []string) (settings, error) {
	v := viper.NewWithOptions(viper.KeyDelimiter("::"))
	s := settings{source: map[string]string{}}
	env := environment2map(environ)
	for _, k := range settingKeys {
		v.SetDefault(k.key, plainValue(k.value))
		s.source[k.key] = "default"
	}
	if err := s.readFile(v, flags, env); err != nil {
		return s, err
	}
	if err := s.readEnvironment(v, env); err != nil {
		return s, err
	}
	for _, k := range settingKeys {
		if f := flags.Lookup(k.flag); k.flag != "" && f != nil && f.Changed {
			if all, several := f.Value.(pflag.SliceValue); several {
				v.Set(k.key, all.GetSlice())
			} else {
				v.Set(k.key, f.Value.String())
			}
			s.source[k.key] = "flag --" + k.flag
		}
	}
	if _, text := v.Get("db").(string); !text {
		return s, fmt.Errorf("db by %s: want one text, a path or the address of a server", s.source["db"])
	}
	if err := v.UnmarshalExact(&s, nameAlone); err != nil {
		return s, fmt.Errorf("settings: %w", err)
	}
	return s, s.validate()
}

func environment2map(environ []string) map[string]string {
	env := map[string]string{}
	for _, kv := range environ {
		if k, val, ok := strings.Cut(kv, "="); ok && strings.HasPrefix(k, envPrefix) {
			env[k] = val
		}
	}
	return env
}

// readFile reads the config file: the one that is named, or else pourback.yaml
// in the current folder, if there is one.
func (s *settings) readFile(v *viper.Viper, flags *pflag.FlagSet, env map[string]string) error {
	path, named := env[envPrefix+"CONFIG"], true
	if f := flags.Lookup("config"); f != nil && f.Changed {
		path = f.Value.String()
	}
	if path == "" {
		path, named = "pourback.yaml", false
	}
	if _, err := os.Stat(path); err != nil {
		if !named && errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		return fmt.Errorf("settings file: %w", err)
	}
	v.SetConfigFile(path)
	if filepath.Ext(path) == "" {
		v.SetConfigType("yaml")
	}
	if err := v.ReadInConfig(); err != nil {
		return fmt.Errorf("settings file %s: %w", path, err)
	}
	s.file = path
	for _, k := range settingKeys {
		if v.InConfig(k.key) {
			s.source[k.key] = path
		}
	}
	for _, key := range sortedKeys(v.AllSettings()) {
		k := settingNamed(key)
		if k == nil {
			return fmt.Errorf("settings file %s: no setting is called %q; did you mean %q?", path, key, nearestKey(key))
		}
		check := k.checkInner
		if key == "company" {
			check = checkCompany
		}
		if err := check(v.GetStringMap(key)); err != nil {
			return fmt.Errorf("settings file %s: %w", path, err)
		}
	}
	return nil
}

// orderCosts are the defaults, with the price of concrete left to its own
// setting.
func orderCosts() setting.OrderCosts {
	c := setting.DefaultOrderCosts()
	c.PricePerYd = 0
	return c
}

// keysOf lays a struct of settings out by the names it has in the settings file.
func keysOf(defaults any) group {
	out := group{}
	if err := mapstructure.Decode(defaults, &out); err != nil {
		panic(err) // a struct of ours, read at every start
	}
	return out
}

// group is a setting that holds settings of its own.
type group map[string]any

// checkInner refuses names inside a group that mean nothing.
func (s *settingKey) checkInner(given map[string]any) error {
	known, isGroup := s.value.(group)
	if !isGroup {
		return nil
	}
	for _, key := range sortedKeys(given) {
		if _, ok := known[key]; !ok {
			near, _ := record.Nearest(key, sortedKeys(known))
			return fmt.Errorf("%s has no %q; did you mean %q?", s.key, key, near)
		}
	}
	return nil
}

// readEnvironment takes POURBACK_KEY. Names that ask tests for something
// (POURBACK_REQUIRE_…) are no settings.
func (s *settings) readEnvironment(v *viper.Viper, env map[string]string) error {
	for _, name := range sortedKeys(env) {
		key := strings.ToLower(strings.TrimPrefix(name, envPrefix))
		if key == "config" || strings.HasPrefix(key, "require_") {
			continue
		}
		if settingNamed(key) == nil {
			return fmt.Errorf("environment: no setting is called %s; did you mean %s%s?", name, envPrefix, strings.ToUpper(nearestKey(key)))
		}
		switch settingNamed(key).value.(type) {
		case []float64, []string:
			v.Set(key, strings.Split(env[name], ","))
		case map[string]string, map[string]any, group:
			return fmt.Errorf("environment: %s: write %s into pourback.yaml instead", name, key)
		default:
			v.Set(key, env[name])
		}
		s.source[key] = "environment " + name
	}
	return nil
}

func (s *settings) validate() error {
	for key, value := range map[string]string{"units": s.Units, "lang": s.Lang, "event": s.Event, "date_order": s.DateOrder,
		"decimal_comma": s.DecimalComma, "encoding": s.Encoding, "lock": s.Lock, "file_access": s.FileAccess} {
		if k := settingNamed(key); !slices.Contains(k.oneOf, value) {
			return fmt.Errorf("%s is %q by %s: want one of %s", key, value, s.source[key], strings.Join(k.oneOf, ", "))
		}
	}
	if !(s.Level > 0 && s.Level < 1) {
		return fmt.Errorf("level is %v by %s: want a number between 0 and 1, such as 0.90", s.Level, s.source["level"])
	}
	if s.DB == "" {
		return fmt.Errorf("db is empty by %s: want a path or postgres://…", s.source["db"])
	}
	if _, err := s.options(); err != nil {
		return err
	}
	if err := errors.Join(s.Pictures.Validate(), s.Proposal.check(), checkSite(s.SiteURL)); err != nil {
		return err
	}
	return s.validateDictionary()
}

// validateDictionary demands that headings and words are given for columns
// that exist.
func (s *settings) validateDictionary() error {
	for _, heading := range sortedKeys(s.Columns) {
		if !anyTable(func(t *record.Table) bool { return t.Column(s.Columns[heading]) != nil }) {
			return fmt.Errorf("columns in %s: %q is to mean %q, which is no column", s.file, heading, s.Columns[heading])
		}
	}
	for _, column := range sortedKeys(s.Words) {
		if !anyTable(func(t *record.Table) bool { c := t.Column(column); return c != nil && c.Words != nil }) {
			return fmt.Errorf("words in %s: %q is no column that holds words", s.file, column)
		}
	}
	return nil
}

func anyTable(has func(*record.Table) bool) bool { return slices.ContainsFunc(record.Tables, has) }

// plainValue is a default as viper wants it.
func plainValue(v any) any {
	if g, ok := v.(group); ok {
		return map[string]any(g)
	}
	return v
}

// options are the settings that the analysis goes by.
func (s *settings) options() (setting.Options, error) {
	concrete, err1 := record.CentsOf(s.ConcretePerYd)
	labor, err2 := record.CentsOf(s.LaborPerHour)
	opt := setting.Options{Level: s.Level, Event: s.Event, Bands: s.SpacingBands, Seed: s.Seed,
		Rates: setting.StandardRates{ConcretePerYd: concrete, LaborPerHour: labor},
		Order: s.Order, Steel: s.Steel, Overage: s.WastePriors, Bid: s.Bid, Pour: s.Pour, Visits: setting.VisitOptions{Plan: s.Visits}}
	zone, err3 := s.zone()
	opt.Zone = zone
	return opt, errors.Join(err1, err2, err3, opt.Validate())
}

// zone is the time zone of the sites: the machine's where none is set.
func (s *settings) zone() (*time.Location, error) {
	name := s.Pour.TimeZone
	if name == "" {
		return time.Local, nil
	}
	zone, err := time.LoadLocation(name)
	if err != nil || name == "Local" {
		return nil, fmt.Errorf("pour day: time_zone is %q: want a name of the IANA list, such as America/Phoenix, or none for the machine's", record.Shown(name))
	}
	return zone, nil
}

// values are the settings by key.
func (s *settings) values() map[string]any {
	return map[string]any{"db": s.DB, "as_of": s.AsOf, "units": s.Units, "lang": s.Lang, "company": s.Company.value(), "site_url": s.SiteURL, "proposal": keysOf(s.Proposal), "currency": s.Currency,
		"level": s.Level, "event": s.Event, "spacing_bands": s.SpacingBands, "date_order": s.DateOrder,
		"decimal_comma": s.DecimalComma, "encoding": s.Encoding, "columns": s.Columns, "words": s.Words,
		"concrete_per_yd": s.ConcretePerYd, "labor_per_hour": s.LaborPerHour, "order": keysOf(s.Order), "steel": keysOf(s.Steel),
		"waste_priors": keysOf(s.WastePriors), "bid": keysOf(s.Bid), "pour": keysOf(s.Pour), "visits": keysOf(s.Visits), "pictures": keysOf(s.Pictures), "seed": s.Seed, "lock": s.Lock, "no_names": s.NoNames, "file_access": s.FileAccess, "listen": s.Listen, "hosts": s.Hosts, "lan": s.Lan, "viewers_read": s.ViewersRead, "open_browser": s.OpenBrowser, "json": s.JSON, "quiet": s.Quiet, "verbose": s.Verbose}
}
