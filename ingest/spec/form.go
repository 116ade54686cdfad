package spec

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// Form is a spec as the fields of a form have it: each value as text under the name of
// its key, and nothing where a field is empty. The parts of steps and of a curb go by
// steps.risers, curb.length_ft and so on.
type Form struct {
	Job        map[string]string // of the whole job, and its prices
	Placements []map[string]string
	Items      []FormItem
}

// FormItem is a cost by its name.
type FormItem struct{ Name, Amount string }

// Field is the name of a form's field: a key of the job or a price by its own name, one
// of a placement behind its place, such as p0.length_ft, a cost as item0.
func Field(placement int, key string) string { return fmt.Sprintf("p%d.%s", placement, key) }

// ItemField is the name of a cost's field.
func ItemField(i int) string { return fmt.Sprintf("item%d", i) }

// ReadForm reads what stands in a form. Every problem names its field as Column.
func ReadForm(f Form, opt sheet.Options) (*Spec, []record.Problem) {
	r := newReader("", opt)
	for _, key := range slices.Sorted(maps.Keys(f.Job)) {
		if into, k := r.place(key); k != nil && f.Job[key] != "" {
			r.value(*k, into, key, f.Job[key], "", key)
		}
	}
	for i, fields := range f.Placements {
		r.parts = append(r.parts, r.formPart(i, fields))
	}
	for i, item := range f.Items {
		r.formItem(i, item)
	}
	s, problems := r.done(nil)
	for i, p := range problems {
		if p.Record != "" { // of what is missing: its placement stands there
			problems[i].Record, problems[i].Column = "", p.Record+strings.ReplaceAll(p.Column, ": ", ".")
		}
	}
	return s, problems
}

func (r *reader) formPart(i int, fields map[string]string) part {
	p := part{group{}, map[string]bool{}, Field(i, "")}
	inner := map[string]map[string]string{}
	for _, key := range slices.Sorted(maps.Keys(fields)) {
		of, name, within := strings.Cut(key, ".")
		switch {
		case fields[key] == "":
		case within && groupKeys[of] != nil:
			if inner[of] == nil {
				inner[of] = map[string]string{}
			}
			inner[of][name] = fields[key]
		case r.placement.knows(key):
			p.tried[r.value(r.placement, p.group, key, fields[key], "", Field(i, key))] = true
		}
	}
	for _, of := range slices.Sorted(maps.Keys(inner)) {
		p.tried[of] = true
		r.formGroup(i, of, inner[of], p.group)
	}
	return p
}

// formGroup reads the parts of steps or of a curb.
func (r *reader) formGroup(i int, of string, fields map[string]string, into group) {
	k, values, before := newKeyReader(groupKeys[of], r.opt), group{}, len(r.problems)
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		if k.knows(name) {
			r.value(k, values, name, fields[name], "", Field(i, of+"."+name))
		}
	}
	r.wholeGroup(groupKeys[of], values, of, Field(i, ""), len(r.problems) == before)
	into[of] = values
}

func (r *reader) formItem(i int, item FormItem) {
	into, name := group{}, strings.TrimSpace(item.Name)
	switch {
	case name == "" && item.Amount == "":
	case item.Amount == "":
		r.fail(missing, "", ItemField(i), "", "no amount", "write what it costs, or take its name out")
	case name == "":
		r.fail(missing, "", ItemField(i), item.Amount, "no name", "write what it is for")
	default:
		r.value(newKeyReader(amountTable, r.opt), into, amountKey, item.Amount, "", ItemField(i))
		if v, ok := into[amountKey].(float64); ok {
			r.spec.Items = append(r.spec.Items, Item{name, v})
		}
	}
}

// FormOf is a spec as a form has it: read again, it is the same spec.
func FormOf(s *Spec) Form {
	f := Form{Job: map[string]string{}}
	for _, of := range []struct {
		table  *record.Table
		values group
	}{{jobKeys, s.Job}, {priceKeys, s.Prices}} {
		maps.Copy(f.Job, textsOf(of.table, of.values))
	}
	for _, p := range s.Placements {
		fields := textsOf(placementKeys, p)
		for of, table := range groupKeys {
			inner, _ := p[of].(group)
			for name, text := range textsOf(table, inner) {
				fields[of+"."+name] = text
			}
		}
		f.Placements = append(f.Placements, fields)
	}
	for _, item := range s.Items {
		f.Items = append(f.Items, FormItem{item.Item, plainText(item.Amount)})
	}
	return f
}

// textsOf are the values of some keys as a form has them.
func textsOf(t *record.Table, values group) map[string]string {
	texts := map[string]string{}
	for i := range t.Columns {
		c := &t.Columns[i]
		if text := textOf(c, values[c.Name]); text != "" {
			texts[c.Name] = text
		}
	}
	return texts
}

func textOf(c *record.Column, v any) string {
	switch v := v.(type) {
	case string:
		if month, err := strconv.Atoi(v); err == nil && c.Name == "on" {
			return time.Month(month).String()
		}
		return v
	case bool:
		return map[bool]string{true: "yes", false: "no"}[v]
	case int:
		return strconv.Itoa(v)
	case int64:
		return strconv.FormatInt(v, 10)
	case float64:
		return numberText(c, v)
	case []string:
		return strings.Join(v, ", ")
	case []map[string]any:
		return listText(v, hourText, "; ")
	case []int:
		return listText(v, strconv.Itoa, ", ")
	case []float64:
		return listText(v, plainText, ", ")
	case [][]float64:
		return cornersText(v)
	case [][][]float64:
		return listText(v, cornersText, " | ")
	}
	return ""
}

func cornersText(corners [][]float64) string {
	return listText(corners, func(c []float64) string { return listText(c, plainText, ", ") }, "; ")
}

func listText[T any](list []T, text func(T) string, between string) string {
	parts := make([]string, len(list))
	for i, v := range list {
		parts[i] = text(v)
	}
	return strings.Join(parts, between)
}

// hourText is an hour of a forecast.
func hourText(hour map[string]any) string {
	text, _ := hour["at"].(string)
	for _, of := range []struct{ key, unit string }{{"air_f", "F"}, {"humidity_pct", "%"}, {"wind_mph", "mph"}} {
		if v, said := hour[of.key].(float64); said {
			text += " " + plainText(v) + of.unit
		}
	}
	return text
}

func plainText(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// numberText is a number as people write it: shares as percentages, feet that are no
// tenths as feet and inches where that reads as the same.
func numberText(c *record.Column, v float64) string {
	text := plainText(v)
	switch {
	case c.Unit == record.Percent && !strings.HasSuffix(c.Name, "_pct"): // a share
		for digits := range 17 {
			if p := strconv.FormatFloat(100*v, 'f', digits, 64); same(p, v, 100) {
				return p + " %"
			}
		}
	case c.Unit == record.Foot && len(text) > 7:
		feet := math.Floor(v)
		if in := math.Round(12 * (v - feet)); math.Abs(feet+in/12-v) < 1e-9 { // as read, to twelve digits
			return fmt.Sprintf("%.0f' %.0f\"", feet, in)
		}
	}
	return text
}

// same says whether a text over a number is a value.
func same(text string, v, over float64) bool {
	read, err := strconv.ParseFloat(text, 64)
	return err == nil && read/over == v
}
