// Package spec reads what a bid is asked for: a short YAML file, or single
// values from flags or a form. Its keys are named, and its values read, as
// columns and cells of record files are: with units, synonyms and every problem
// at once.
package spec

import (
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// Spec is a bid as asked for, by the names of its keys. What was not said is
// not in it; what stands for it is for the analysis to say.
type Spec struct {
	Job, Prices group
	Placements  []group
	Items       []Item
}

// Item is a cost beside those that the bid works out.
type Item struct {
	Item   string
	Amount float64
}

// group is the values of one group of keys: numbers, whole numbers and words.
// Money is in whole units of the currency, a percentage a share.
type group map[string]any

// Values are the whole spec as nested maps: the job's keys, "prices",
// "placements" and "items". A bid without a name is called by its site.
func (s *Spec) Values() map[string]any {
	all := map[string]any{}
	for k, v := range s.Job {
		all[k] = v
	}
	if site, told := all["site"]; told && all["name"] == nil {
		all["name"] = site
	}
	placements := make([]map[string]any, len(s.Placements))
	for i, p := range s.Placements {
		placements[i] = p
	}
	items := make([]map[string]any, len(s.Items))
	for i, item := range s.Items {
		items[i] = map[string]any{"item": item.Item, "amount": item.Amount}
	}
	all["prices"], all["placements"], all["items"] = map[string]any(s.Prices), placements, items
	return all
}

// keyReader reads the values of one group of keys.
type keyReader struct {
	table *record.Table
	form  *sheet.Form
}

func newKeyReader(t *record.Table, opt sheet.Options) keyReader {
	return keyReader{t, sheet.NewForm(t, opt)}
}

func (k keyReader) knows(key string) bool { return k.form.Column(key) >= 0 }

// own is the name of the key that another name for it means.
func (k keyReader) own(key string) string { return k.table.Columns[k.form.Column(key)].Name }

// names are the names by which keys go, with the key that each means.
func (k keyReader) names() map[string]string {
	names := map[string]string{}
	for _, c := range k.table.Columns {
		for _, name := range append([]string{c.Name}, c.Synonyms...) {
			names[record.Fold(name)] = c.Name
		}
		if c.Unit != nil {
			names[record.Fold(strings.TrimSuffix(c.Name, "_"+c.Unit.Name))] = c.Name
		}
	}
	return names
}

// read reads the value of a key into its group, and returns the name of the key
// and what is to be said about the value.
func (k keyReader) read(into group, key, text string) (string, []record.Problem) {
	at := k.form.Column(key)
	c := &k.table.Columns[at]
	field := newField(c.Kind)
	fields := make([]any, len(k.table.Columns))
	fields[at] = field
	var said []record.Problem
	for _, p := range k.form.Read(fields, key, text) {
		if strings.HasPrefix(p.Code, "unusual") {
			continue // what is unwise the analysis says, with its source
		}
		if p.Wrong == missing {
			p.Right = needed(c)
		}
		said = append(said, p)
	}
	if v := plainValue(field); v != nil {
		into[c.Name] = v
		if c.Unit == record.Percent && !strings.HasSuffix(c.Name, "_pct") {
			into[c.Name] = asShare(v.(float64), text)
		}
	}
	return c.Name, said
}

const missing = "missing"

// needed says what a key without a value is for.
func needed(c *record.Column) string { return "it is needed (" + c.Doc + ")" }

// asShare reads 25, 25 % and 0.25 all as a quarter.
func asShare(v float64, text string) float64 {
	if v > 1 || strings.Contains(text, "%") {
		return v / 100
	}
	return v
}

func newField(k record.Kind) any {
	switch k {
	case record.KindNumber:
		return new(record.Number)
	case record.KindCount:
		return new(record.Count)
	case record.KindMoney:
		return new(record.Money)
	}
	return new(string)
}

// plainValue is a field's value, or nil where it is missing.
func plainValue(field any) any {
	if record.IsMissing(field) {
		return nil
	}
	switch f := field.(type) {
	case *record.Number:
		return f.V
	case *record.Count:
		return f.V
	case *record.Money:
		return f.V.Dollars()
	case *string:
		return *f
	}
	return nil
}
