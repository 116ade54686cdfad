package spec

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

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
	mostBytes      = 1 << 20
	mostPlacements = 200
)

// Read reads a spec written in YAML. What stands at the top and is asked of a
// placement holds for every placement that does not say otherwise, so that a
// bid for one placement needs no list. Every problem is found; with an error
// among them the spec is not to be used. file names the source in messages.
func Read(file string, text []byte, opt sheet.Options) (*Spec, []record.Problem) {
	r := newReader(file, opt)
	root := r.parse(text)
	if root == nil {
		return nil, r.problems
	}
	top, list := r.pairs(root), (*pair)(nil)
	shared := r.top(top, &list)
	s := &Spec{Job: r.job}
	for _, node := range r.items(list) {
		p := shared
		r.fill(&p, r.pairs(node))
		r.require(&p, line(node))
		s.Placements = append(s.Placements, p)
	}
	if list == nil {
		r.require(&shared, "")
		s.Placements = []Placement{shared}
	}
	return s, r.problems
}

// reader gathers a spec and what is wrong with it.
type reader struct {
	file            string
	job             Job
	jobs, placement *sheet.Form
	problems        []record.Problem
}

func newReader(file string, opt sheet.Options) *reader {
	return &reader{file: file, jobs: sheet.NewForm(Jobs, opt), placement: sheet.NewForm(Placements, opt)}
}

func (r *reader) fail(code, where, key, value, wrong, right string) {
	r.problems = append(r.problems, record.Problem{Severity: record.Error, Code: code, File: r.file, Record: where, Column: key, Value: value, Wrong: wrong, Right: right})
}

// parse is the mapping that the text is, or nil.
func (r *reader) parse(text []byte) *yaml.Node {
	if len(text) > mostBytes {
		r.fail(codeTooLarge, "", "", "", "larger than a megabyte", "a spec takes ten lines")
		return nil
	}
	dec := yaml.NewDecoder(bytes.NewReader(text))
	var doc, second yaml.Node
	if err := dec.Decode(&doc); errors.Is(err, io.EOF) {
		r.fail(codeShape, "", "", "", "nothing is written in it", example)
		return nil
	} else if err != nil {
		r.fail(codeNotYAML, "", "", "", strings.TrimPrefix(err.Error(), "yaml: "), "write a line for each value, such as `use: driveway`")
		return nil
	}
	if err := dec.Decode(&second); !errors.Is(err, io.EOF) {
		r.fail(codeShape, "", "", "", "a second document begins in it", "write one spec a file")
	}
	if len(doc.Content) != 1 || doc.Content[0].Kind != yaml.MappingNode {
		r.fail(codeShape, "", "", "", "no list of keys and values", example)
		return nil
	}
	return doc.Content[0]
}

const example = "begin with lines such as `use: driveway`, `length: 40 ft`"

// pair is a key with its value, and the line on which it stands.
type pair struct {
	key   string
	value *yaml.Node
	line  string
}

func line(n *yaml.Node) string { return fmt.Sprintf("line %d", n.Line) }

// pairs are those of a mapping; a key written twice counts once.
func (r *reader) pairs(n *yaml.Node) []pair {
	var list []pair
	seen := map[string]bool{}
	if n.Kind != yaml.MappingNode {
		r.fail(codeShape, line(n), "", n.Value, "no keys and values", "write a placement as `- use: driveway` with its other keys below `use`")
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if seen[k.Value] {
			r.fail(codeTwice, line(k), k.Value, "", "given twice", "keep one of them")
			continue
		}
		seen[k.Value] = true
		list = append(list, pair{k.Value, v, line(k)})
	}
	return list
}

// items are the placements of the list, if there is one.
func (r *reader) items(list *pair) []*yaml.Node {
	switch {
	case list == nil:
		return nil
	case list.value.Kind != yaml.SequenceNode || len(list.value.Content) == 0:
		r.fail(codeShape, list.line, list.key, list.value.Value, "no list of placements", "write each placement as `- use: driveway` with its other keys below `use`")
		return nil
	case len(list.value.Content) > mostPlacements:
		r.fail(codeTooLarge, list.line, list.key, "", fmt.Sprintf("%d placements", len(list.value.Content)), fmt.Sprintf("bid on at most %d at a time", mostPlacements))
		return nil
	}
	return list.value.Content
}

// top reads what stands at the top: the job, and what all placements share.
func (r *reader) top(pairs []pair, list **pair) (shared Placement) {
	for i, p := range pairs {
		switch {
		case record.Fold(p.key) == placementsKey:
			*list = &pairs[i]
		case r.jobs.Column(p.key) >= 0:
			r.value(r.jobs, r.job.Fields(), p)
		case r.placement.Column(p.key) >= 0:
			r.value(r.placement, shared.Fields(), p)
		default:
			r.unknown(p, names(Jobs), names(Placements), []string{placementsKey})
		}
	}
	return shared
}

// fill reads a placement's own keys.
func (r *reader) fill(into *Placement, pairs []pair) {
	for _, p := range pairs {
		switch {
		case r.placement.Column(p.key) >= 0:
			r.value(r.placement, into.Fields(), p)
		case r.jobs.Column(p.key) >= 0:
			r.fail(codeUnknownKey, p.line, p.key, "", "asked of the whole job", "write it at the top, outside the list of placements")
		default:
			r.unknown(p, names(Placements))
		}
	}
}

func (r *reader) unknown(p pair, known ...[]string) {
	var all []string
	for _, k := range known {
		all = append(all, k...)
	}
	near, _ := record.Nearest(p.key, all)
	r.fail(codeUnknownKey, p.line, p.key, "", "no key of a spec", "did you mean "+near+"?")
}

// value reads one value, as a cell of a record file is read.
func (r *reader) value(f *sheet.Form, fields []any, p pair) {
	n := p.value
	switch {
	case n.Kind != yaml.ScalarNode:
		r.fail(codeShape, p.line, p.key, "", "holds more than one value", "write one, such as `"+p.key+": …`")
		return
	case n.Tag == "!!null" && n.Value == "" && (n.LineComment != "" || n.HeadComment != ""):
		r.fail(codeComment, p.line, p.key, "", "no value: what stands behind # is a comment", `write it in quotes, such as "#3"`)
		return
	}
	r.read(f, fields, p.key, n.Value, p.line)
}

func (r *reader) read(f *sheet.Form, fields []any, key, text, where string) {
	for _, problem := range f.Read(fields, key, text) {
		problem.File, problem.Record, problem.Column = r.file, where, key
		r.problems = append(r.problems, problem)
	}
}

// require says what a placement cannot be bid on without.
func (r *reader) require(p *Placement, where string) {
	for i, field := range p.Fields() {
		if c := &Placements.Columns[i]; c.Required && record.IsMissing(field) && !r.complained(where, c.Name) {
			r.fail("missing", where, c.Name, "", "missing", "a bid needs it ("+c.Doc+")")
		}
	}
	if !p.AreaSqft.OK && !(p.LengthFt.OK && p.WidthFt.OK) && !r.complained(where, "area_sqft", "length_ft", "width_ft") {
		r.fail("missing", where, "area_sqft", "", "missing", "give the area, or length and width")
	}
}
