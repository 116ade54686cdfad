package spec

import (
	"fmt"
	"maps"
	"slices"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// SpecOf is a spec from its values, by the names of its keys, as [Spec.Values] gives
// them.
func SpecOf(values map[string]any) *Spec {
	s := &Spec{Job: group{}, Prices: group{}}
	for key, v := range values {
		switch v := v.(type) {
		case []map[string]any:
			for _, one := range v {
				if key == itemsKey {
					name, _ := one["item"].(string)
					amount, _ := one[amountKey].(float64)
					s.Items = append(s.Items, Item{name, amount})
				} else {
					s.Placements = append(s.Placements, groupOf(one))
				}
			}
		case map[string]any:
			s.Prices = groupOf(v)
		default:
			s.Job[key] = v
		}
	}
	return s
}

// groupOf is a group of keys, and those within it.
func groupOf(values map[string]any) group {
	g := group{}
	for key, v := range values {
		if inner, ok := v.(map[string]any); ok {
			v = groupOf(inner)
		}
		g[key] = v
	}
	return g
}

// ReadOver reads a spec that is laid over another: what it does not say stays as it
// was, and a word without a value takes what was away. Text may be nil. A list of
// placements takes the place of the one that was, each laid over the one of its name.
func ReadOver(base *Spec, file string, text []byte, words []Word, opt sheet.Options) (*Spec, []record.Problem) {
	r := newReader(file, opt)
	r.spec.Job, r.spec.Items = maps.Clone(base.Job), slices.Clone(base.Items)
	maps.Copy(r.spec.Prices, base.Prices)
	r.base = base.Placements
	if text == nil {
		r.parts = r.partsOver(part{group: group{}, tried: map[string]bool{}}, "")
	} else if root := r.parse(text); root != nil {
		r.root(root)
	}
	return r.done(words)
}

// partsOver are the placements that a spec is laid over, with what it says of them all.
func (r *reader) partsOver(shared part, where string) (parts []part) {
	if r.base == nil {
		return []part{shared}
	}
	if len(r.base) > 1 && len(shared.group) > 0 {
		r.fail(codeShape, where, firstKey(shared.group), "", fmt.Sprintf("asked of one placement, and the bid has %d", len(r.base)), "give them as a list under placements, each by its name")
	}
	for _, b := range r.base {
		parts = append(parts, part{laidOver(b, shared.group), maps.Clone(shared.tried), where})
	}
	return parts
}

func firstKey(g group) string { return slices.Sorted(maps.Keys(g))[0] }

// over is a placement of a list, laid over the one of its name where there is one.
func (r *reader) over(p group) group {
	for _, b := range r.base {
		if name, named := p["name"]; named && name == b["name"] {
			return laidOver(b, p)
		}
	}
	return p
}

// others are the keys that say the same as another in another way, and go where that
// is given anew.
var others = map[string][]string{
	"area_sqft":     {"length_ft", "width_ft", "notch_length_ft", "notch_width_ft", "outline", "holes", "depths"},
	"length_ft":     {"area_sqft", "outline"},
	"width_ft":      {"area_sqft", "outline"},
	"outline":       {"area_sqft", "length_ft", "width_ft", "notch_length_ft", "notch_width_ft"},
	"thickness_in":  {"depths"},
	"reinforcement": {"bar", "bar_spacing_in"},
}

// laidOver is a placement with what is said over it.
func laidOver(was, said group) group {
	now := maps.Clone(was)
	for key, v := range said {
		if was[key] == v && !slices.Contains(shapeKeys, key) {
			continue
		}
		for _, other := range others[key] {
			delete(now, other)
		}
	}
	maps.Copy(now, said)
	return now
}
