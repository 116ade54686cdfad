package spec

import (
	"fmt"
	"maps"
	"regexp"
	"slices"

	"go.yaml.in/yaml/v3"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// Codes of what can be wrong with a spec as a whole; its values have those of
// record files.
const (
	codeNotYAML    = "not-yaml"
	codeTooLarge   = "spec-too-large"
	codeUnknownKey = "unknown-key"
	codeTwice      = "key-twice"
	codeShape      = "spec-shape"
	codeComment    = "comment-for-value"
)

const (
	placementsKey  = "placements"
	pricesKey      = "prices"
	itemsKey       = "items"
	mostBytes      = 1 << 20
	mostPlacements = 200
)

// Word is a key and its value as a flag or a form gives them.
type Word struct {
	As         string // what the user calls it, such as --length
	Key, Value string
}

// Read reads a spec written in YAML, and words that win over it. What stands at
// the top and is asked of a placement holds for every placement that does not
// say otherwise, so that a bid for one placement needs no list; words of a
// placement are for its only one. Every problem is found; with an error among
// them there is no spec. file names the text in messages.
func Read(file string, text []byte, words []Word, opt sheet.Options) (*Spec, []record.Problem) {
	r := newReader(file, opt)
	if root := r.parse(text); root != nil {
		r.root(root)
	}
	return r.done(words)
}

// ReadWords reads a spec of words alone, for one placement.
func ReadWords(words []Word, opt sheet.Options) (*Spec, []record.Problem) {
	r := newReader("", opt)
	r.parts = []part{{group{}, map[string]bool{}, ""}}
	return r.done(words)
}

// reader gathers a spec and what is wrong with it.
type reader struct {
	file                   string
	opt                    sheet.Options
	job, prices, placement keyReader
	spec                   Spec
	parts                  []part
	base                   []group // the placements of the spec that this one is laid over
	problems               []record.Problem
}

// part is a placement being read: what has been read, which keys have been
// tried, and where it begins.
type part struct {
	group
	tried map[string]bool
	where string
}

func newReader(file string, opt sheet.Options) *reader {
	return &reader{file: file, opt: opt, spec: Spec{Job: group{}, Prices: group{}},
		job: newKeyReader(jobKeys, opt), prices: newKeyReader(priceKeys, opt), placement: newKeyReader(placementKeys, opt)}
}

func (r *reader) done(words []Word) (*Spec, []record.Problem) {
	for _, w := range words {
		r.word(w)
	}
	for _, p := range r.parts {
		r.require(p)
		p.group.place()
		r.spec.Placements = append(r.spec.Placements, p.group)
	}
	for _, p := range r.problems {
		if p.Severity == record.Error {
			return nil, r.problems
		}
	}
	return &r.spec, r.problems
}

// word reads a word into the job, its prices or its only placement.
func (r *reader) word(w Word) {
	if g, k := r.place(w.Key); k != nil {
		if w.Value == "" {
			delete(g, k.own(w.Key))
		}
		r.value(*k, g, w.Key, w.Value, "", w.As)
		return
	}
	if len(r.parts) != 1 {
		r.fail(codeShape, "", w.As, w.Value, fmt.Sprintf("asked of one placement, and the spec has %d", len(r.parts)), "write it into the spec")
		return
	}
	p, said := &r.parts[0], group{}
	name := r.value(r.placement, said, w.Key, w.Value, "", w.As)
	if p.tried[name] = true; r.base == nil {
		maps.Copy(p.group, said)
		return
	}
	if w.Value == "" {
		delete(p.group, name)
	}
	p.group = laidOver(p.group, said)
}

// place is the group of the whole job that a key belongs to, and its reader;
// nil where it belongs to none.
func (r *reader) place(key string) (group, *keyReader) {
	switch {
	case r.job.knows(key):
		return r.spec.Job, &r.job
	case priceKeys.Index(key) >= 0: // by its full name: a bare `mesh` is no price
		return r.spec.Prices, &r.prices
	}
	return nil, nil
}

func (r *reader) fail(code, where, key, value, wrong, right string) {
	r.problems = append(r.problems, record.Problem{Severity: record.Error, Code: code, File: r.file, Record: where, Column: key, Value: value, Wrong: wrong, Right: right})
}

// root reads the whole of a spec.
func (r *reader) root(n *yaml.Node) {
	shared, tried := group{}, map[string]bool{}
	var list *pair
	for _, p := range r.pairs(n) {
		switch record.Fold(p.key) {
		case placementsKey:
			list = &p
			continue
		case pricesKey:
			r.inner(p, r.prices, r.spec.Prices)
			continue
		case itemsKey:
			r.items(p)
			continue
		}
		if g, k := r.place(p.key); k != nil {
			r.pair(*k, g, p)
		} else if r.placement.knows(p.key) {
			tried[r.pair(r.placement, shared, p)] = true
		} else {
			r.unknown(p, []keyReader{r.job, r.placement}, placementsKey, pricesKey, itemsKey)
		}
	}
	if list == nil {
		r.parts = r.partsOver(part{shared, tried, ""}, "")
		return
	}
	for _, n := range r.list(*list) {
		r.one(n, shared, tried)
	}
}

// one reads a placement of the list.
func (r *reader) one(n *yaml.Node, shared group, sharedTried map[string]bool) {
	p, tried := maps.Clone(shared), maps.Clone(sharedTried)
	if !r.mapping(n) {
		return
	}
	for _, pair := range r.pairs(n) {
		if r.placement.knows(pair.key) {
			tried[r.pair(r.placement, p, pair)] = true
		} else if _, k := r.place(pair.key); k != nil {
			r.fail(codeUnknownKey, pair.line, pair.key, "", "asked of the whole job", "write it at the top, outside the list of placements")
		} else {
			r.unknown(pair, []keyReader{r.placement})
		}
	}
	r.parts = append(r.parts, part{r.over(p), tried, line(n)})
}

// inner reads a group of keys of its own.
func (r *reader) inner(p pair, k keyReader, into group) {
	if !r.mapping(p.value) {
		return
	}
	for _, pair := range r.pairs(p.value) {
		if k.knows(pair.key) {
			r.pair(k, into, pair)
		} else {
			r.unknown(pair, []keyReader{k})
		}
	}
}

// items reads further costs: a name and an amount each.
func (r *reader) items(p pair) {
	if !r.mapping(p.value) {
		return
	}
	amount := newKeyReader(amountTable, r.opt)
	for _, item := range r.pairs(p.value) {
		into := group{}
		if r.pair(amount, into, pair{key: amountKey, value: item.value, line: item.line}); into[amountKey] != nil {
			r.spec.Items = slices.DeleteFunc(r.spec.Items, func(was Item) bool { return r.base != nil && was.Item == item.key })
			r.spec.Items = append(r.spec.Items, Item{item.key, into[amountKey].(float64)})
		}
	}
}

const amountKey = "amount"

var amountTable = &record.Table{Columns: []record.Column{{Name: amountKey, Kind: record.KindMoney, Hard: upTo(1e9)}}}

func (r *reader) unknown(p pair, readers []keyReader, groups ...string) {
	means := map[string]string{} // what a name that may have been meant means
	for _, g := range groups {
		means[g] = g
	}
	for _, k := range readers {
		maps.Copy(means, k.names())
	}
	near, _ := record.Nearest(record.Fold(p.key), slices.Sorted(maps.Keys(means)))
	near = means[near]
	r.fail(codeUnknownKey, p.line, p.key, "", "unknown line", "did you mean "+near+"?")
}

// pair reads the value of a key that the reader knows, and returns the key's
// own name.
func (r *reader) pair(k keyReader, into group, p pair) string {
	n, name := p.value, k.own(p.key)
	if t := groupKeys[name]; t != nil && k.table == placementKeys {
		r.group(t, into, name, p)
		return name
	}
	if slices.Contains(shapeKeys, name) {
		if text, ok := inOneLine(n, betweens(name)...); ok {
			return r.value(k, into, p.key, text, p.line, p.key)
		}
	}
	if text, ok := inOneForecast(n); ok && name == forecastKey {
		return r.value(k, into, p.key, text, p.line, p.key)
	}
	switch {
	case n.Kind != yaml.ScalarNode:
		r.fail(codeShape, p.line, p.key, "", "not one value", "write one behind the colon")
		return k.own(p.key)
	case n.Value == "" && barNumber.MatchString(p.comment):
		r.fail(codeComment, p.line, p.key, p.comment, "a comment, since it begins with #", `write it in quotes, such as "#3"`)
		return k.own(p.key)
	}
	return r.value(k, into, p.key, n.Value, p.line, p.key)
}

// barNumber is a bar as people write it, which YAML takes for a comment.
var barNumber = regexp.MustCompile(`^#\d`)

// value reads a value, and returns its key's own name.
func (r *reader) value(k keyReader, into group, key, text, where, as string) string {
	if own := k.own(key); slices.Contains(shapeKeys, own) {
		r.shapeValue(into, own, text, where, as)
		return own
	}
	if own := k.own(key); ofTheDay(own) {
		r.dayValue(into, own, text, where, as)
		return own
	}
	name, said := k.read(into, key, text)
	for _, p := range said {
		p.File, p.Record, p.Column = r.file, where, as
		r.problems = append(r.problems, p)
	}
	if k.table != jobKeys || name != "on" || into[name] == nil {
		return name
	}
	on, err := when(text, r.opt)
	if err != nil {
		r.fail("not-a-date", where, as, text, err.Error(), "")
	}
	into[name] = on
	return name
}

// group reads keys of their own that make one value.
func (r *reader) group(t *record.Table, into group, name string, p pair) {
	inner := group{}
	before := len(r.problems)
	r.inner(p, newKeyReader(t, r.opt), inner)
	if len(r.problems) > before {
		return
	}
	for _, c := range t.Columns {
		if c.Required && inner[c.Name] == nil {
			r.fail(missing, p.line, name+": "+c.Name, "", missing, needed(&c))
		}
	}
	if v, said := inner["solid"]; said {
		inner["solid"] = v == "yes"
	}
	into[name] = inner
}

// require says what a placement cannot be bid on without, where nothing has
// been said about it yet.
func (r *reader) require(p part) {
	steps, _ := p.group["steps"].(group)
	for _, c := range placementKeys.Columns {
		thick := c.Name == "thickness_in" && (p.tried["depths"] || steps["solid"] == true && p.group["outline"] == nil)
		if c.Required && p.group[c.Name] == nil && !p.tried[c.Name] && !thick {
			r.fail(missing, p.where, c.Name, "", missing, needed(&c))
		}
	}
	if p.tried["outline"] || p.tried["steps"] {
		return
	}
	sides := p.group["length_ft"] != nil && p.group["width_ft"] != nil
	if p.group["area_sqft"] == nil && !sides && !p.tried["area_sqft"] && !(p.tried["length_ft"] && p.tried["width_ft"]) {
		r.fail(missing, p.where, "area_sqft", "", missing, "give the area, or the length and the width")
	}
}
