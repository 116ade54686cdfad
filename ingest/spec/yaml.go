package spec

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"go.yaml.in/yaml/v3"
)

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
	key     string
	value   *yaml.Node
	line    string
	comment string // behind the colon, where no value stands there
}

func line(n *yaml.Node) string { return fmt.Sprintf("line %d", n.Line) }

// pairs are those of a mapping; a key written twice counts once.
func (r *reader) pairs(n *yaml.Node) []pair {
	var list []pair
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if seen[k.Value] {
			r.fail(codeTwice, line(k), k.Value, "", "given twice", "keep one of them")
			continue
		}
		seen[k.Value] = true
		list = append(list, pair{k.Value, v, line(k), k.LineComment})
	}
	return list
}

// mapping says whether a node holds keys and values.
func (r *reader) mapping(n *yaml.Node) bool {
	if n.Kind != yaml.MappingNode {
		r.fail(codeShape, line(n), "", n.Value, "no keys with values", "write `key: value`, a line each, set in by two spaces")
		return false
	}
	return true
}

// list are the placements of the list.
func (r *reader) list(p pair) []*yaml.Node {
	switch n := len(p.value.Content); {
	case p.value.Kind != yaml.SequenceNode || n == 0:
		r.fail(codeShape, p.line, p.key, p.value.Value, "no list of placements", "begin each placement with `- use: driveway`, its other keys below `use`")
		return nil
	case n > mostPlacements:
		r.fail(codeTooLarge, p.line, p.key, "", fmt.Sprintf("%d placements", n), fmt.Sprintf("bid on at most %d at a time", mostPlacements))
		return nil
	}
	return p.value.Content
}
