package desk

import (
	"cmp"
	"reflect"

	"github.com/go-viper/mapstructure/v2"

	"pourback/analysis/bid"
	"pourback/ingest/spec"
	"pourback/ingest/store"
)

// SpecOf hands a spec to the analysis: both name each key alike, which a test keeps so.
func SpecOf(s *spec.Spec) (bid.Spec, error) {
	var out bid.Spec
	dec, err := mapstructure.NewDecoder(&mapstructure.DecoderConfig{Result: &out, ErrorUnused: true})
	if err != nil {
		return out, err
	}
	return out, dec.Decode(s.Values())
}

// Revised is the spec of a kept bid, for a new version of it.
func Revised(kept store.Bid, offer *bid.Bid) *spec.Spec {
	from := offer.Spec
	from.JobNo = cmp.Or(kept.JobNo, from.JobNo)
	return spec.SpecOf(valuesOf(reflect.ValueOf(from)))
}

// Copied is the spec of a kept bid, for another job: its name, address and number are
// its own.
func Copied(offer *bid.Bid) *spec.Spec {
	from := offer.Spec
	from.Name, from.Site, from.JobNo = "", "", ""
	return spec.SpecOf(valuesOf(reflect.ValueOf(from)))
}

// valuesOf are the values of a spec by the names of its keys, those that are there.
func valuesOf(v reflect.Value) map[string]any {
	values := map[string]any{}
	for i := range v.NumField() {
		name, f := v.Type().Field(i).Tag.Get("mapstructure"), v.Field(i)
		switch {
		case f.IsZero():
		case f.Kind() == reflect.Pointer:
			values[name] = f.Elem().Interface()
		case f.Kind() == reflect.Struct:
			values[name] = valuesOf(f)
		case f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Struct:
			list := make([]map[string]any, f.Len())
			for k := range list {
				list[k] = valuesOf(f.Index(k))
			}
			values[name] = list
		default:
			values[name] = f.Interface()
		}
	}
	return values
}
