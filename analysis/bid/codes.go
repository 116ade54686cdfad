package bid

import (
	"cmp"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// Codes are what the JSON of a bid leaves to the words beside it: the fields that it
// has no keys for, by where they stand, such as Labor.Mean.Basis.Of. A bid is kept with
// them, so that it can be shown again in any words.
func (b *Bid) Codes() map[string]any {
	codes := map[string]any{}
	eachHidden(reflect.ValueOf(b).Elem(), "", func(at string, v reflect.Value) { codes[at] = v.Interface() })
	return codes
}

// eachHidden visits the fields without a key below v that hold anything.
func eachHidden(v reflect.Value, at string, visit func(at string, v reflect.Value)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			eachHidden(v.Elem(), at, visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			eachHidden(v.Index(i), at+"."+strconv.Itoa(i), visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() || v.Field(i).IsZero() {
				continue
			}
			hidden, below := f.Tag.Get("json") == "-", strings.TrimPrefix(at+"."+f.Name, ".")
			if hidden {
				visit(below, v.Field(i))
			}
			eachHidden(v.Field(i), below, visit)
		}
	}
}

// Recall puts codes back that a bid was kept with. Those of fields that are no more
// are passed over; one that cannot be read is an error.
func (b *Bid) Recall(codes map[string]json.RawMessage) error {
	depth := func(at string) int { return strings.Count(at, ".") }
	most := 0
	for at := range codes {
		most = max(most, depth(at))
	}
	for level := 0; level <= most; level++ { // a part before what is in it
		for at, text := range codes {
			if depth(at) != level {
				continue
			}
			field := fieldAt(reflect.ValueOf(b).Elem(), strings.Split(at, "."))
			if !field.IsValid() {
				continue
			}
			if err := json.Unmarshal(text, field.Addr().Interface()); err != nil {
				return fmt.Errorf("%s: %w", at, err)
			}
		}
	}
	return nil
}

// fieldAt is the field at a path, invalid where there is none.
func fieldAt(v reflect.Value, path []string) reflect.Value {
	for _, name := range path {
		if v.Kind() == reflect.Pointer {
			if v.IsNil() {
				return reflect.Value{}
			}
			v = v.Elem()
		}
		switch v.Kind() {
		case reflect.Slice:
			i, err := strconv.Atoi(name)
			if err != nil || i < 0 || i >= v.Len() {
				return reflect.Value{}
			}
			v = v.Index(i)
		case reflect.Struct:
			v = v.FieldByName(name)
		default:
			return reflect.Value{}
		}
	}
	return v
}

// ReadKept reads a bid as it was kept, with its codes. One that was kept without has
// the words of its day where it has them, and a note that the rest is lost.
func ReadKept(text []byte) (*Bid, error) {
	var kept struct {
		Codes    map[string]json.RawMessage
		Settings []struct{ Name SettingName }
	}
	b := &Bid{}
	if err := json.Unmarshal(text, b); err != nil {
		return nil, err
	}
	if err := json.Unmarshal(text, &kept); err != nil {
		return nil, err
	}
	if kept.Codes == nil {
		for i := range min(len(b.Settings), len(kept.Settings)) {
			b.Settings[i].Name = kept.Settings[i].Name
		}
		b.Notes = append(b.Notes, Note{Kind: NoteBare})
		b.Price.Asked, b.Records.AllPumped = cmp.Or(b.Price.Asked, b.Price.Price), max(b.Records.AllPumped, b.Records.Pumped)
	}
	return b, b.Recall(kept.Codes)
}

// Bare says whether a bid was kept without codes.
func (b *Bid) Bare() bool {
	return slices.ContainsFunc(b.Notes, func(n Note) bool { return n.Kind == NoteBare })
}
