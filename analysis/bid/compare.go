package bid

import (
	"cmp"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
)

// Comparison is two bids side by side.
type Comparison struct {
	One, Other *Kept
	Rows       []Compared // in the order of the sheet
	Spec       []SpecChange
	Settings   []SettingChange
}

// Compared is one quantity of two bids.
type Compared struct {
	What       ComparedWhat
	Item       CostItem // of [CompareCost]
	Unit       string
	One, Other float64
	Differs    bool // by what shows
}

// ComparedWhat is a quantity of a bid that is compared.
type ComparedWhat string

// What is compared.
const (
	CompareAsked     ComparedWhat = "asked"
	CompareArea      ComparedWhat = "area"
	CompareNeat      ComparedWhat = "neat_yd"
	CompareUsed      ComparedWhat = "used_yd"
	CompareOrder     ComparedWhat = "order_yd"
	CompareHours     ComparedWhat = "hours"
	CompareSteel     ComparedWhat = "steel_lb"
	CompareJoints    ComparedWhat = "joints_ft"
	CompareCost      ComparedWhat = "cost_line"
	CompareTotal     ComparedWhat = "cost"
	CompareLoaded    ComparedWhat = "cost_with_overhead"
	ComparePrice     ComparedWhat = "price"
	CompareTarget    ComparedWhat = "target_margin"
	CompareCertainty ComparedWhat = "certainty"
	CompareMargin    ComparedWhat = "expected_margin"
	CompareLoss      ComparedWhat = "chance_of_loss"
)

// Compare sets two kept bids side by side.
func Compare(one, other *Kept) *Comparison {
	a, b := one.Bid, other.Bid
	c := &Comparison{One: one, Other: other, Spec: specChanges(a.Spec, b.Spec), Settings: settingChanges(a.Settings, b.Settings)}
	row := func(what ComparedWhat, unit string, of func(*Bid) float64) {
		c.Rows = append(c.Rows, comparedOf(Compared{What: what, Unit: unit, One: of(a), Other: of(b)}))
	}
	row(CompareAsked, "$", func(b *Bid) float64 { return cmp.Or(b.Price.Asked, b.Price.Price) })
	row(CompareArea, "ft²", func(b *Bid) float64 { return b.AreaSqft.Figure.Value })
	row(CompareNeat, "yd", func(b *Bid) float64 { return b.NeatYd.Figure.Value })
	row(CompareUsed, "yd", func(b *Bid) float64 { return b.UsedYd.Mean })
	row(CompareOrder, "yd", (*Bid).orderYd)
	row(CompareHours, "person-hours", func(b *Bid) float64 { return b.Labor.Mean.Figure.Value })
	row(CompareSteel, "lb", (*Bid).steelLb)
	row(CompareJoints, "ft", (*Bid).jointsFt)
	c.costs(a, b)
	row(CompareTotal, "$", func(b *Bid) float64 { return b.Cost.Total.Mean })
	if a.Cost.Loaded.Mean > a.Cost.Total.Mean || b.Cost.Loaded.Mean > b.Cost.Total.Mean {
		row(CompareLoaded, "$", func(b *Bid) float64 { return cmp.Or(b.Cost.Loaded.Mean, b.Cost.Total.Mean) })
	}
	row(ComparePrice, "$", func(b *Bid) float64 { return b.Price.Price })
	row(CompareTarget, "share", func(b *Bid) float64 { return b.Price.Target })
	row(CompareCertainty, "share", func(b *Bid) float64 { return b.Price.Certainty })
	row(CompareMargin, "share", func(b *Bid) float64 { return b.Price.ExpectedMargin })
	row(CompareLoss, "share", func(b *Bid) float64 { return b.Price.ChanceOfLoss })
	return c
}

// comparedOf says whether a quantity differs by what shows: half a dollar, a
// hundredth of a yard, a tenth of an hour, of a foot and of a pound, half a percent.
func comparedOf(c Compared) Compared {
	shows := map[string]float64{"$": 0.5, "yd": 0.005, "share": 0.005, "ft²": 0.5}
	least, known := shows[c.Unit]
	if !known {
		least = 0.05
	}
	c.Differs = math.Abs(c.Other-c.One) >= least
	return c
}

func (b *Bid) orderYd() float64 {
	sum := 0.0
	for _, d := range b.Days {
		sum += d.Order.Yd
	}
	return sum
}

func (b *Bid) steelLb() float64 {
	sum := 0.0
	for _, p := range b.Placements {
		for _, way := range p.Steel {
			if way.Chosen {
				sum += way.WeightLb
			}
		}
	}
	return sum
}

func (b *Bid) jointsFt() float64 {
	sum := 0.0
	for _, p := range b.Placements {
		sum += p.Joints.CutFt.Figure.Value
	}
	return sum
}

// costs are the lines that either bid has, those of the first in its order.
func (c *Comparison) costs(a, b *Bid) {
	named := func(item CostItem) func(CostItem) bool {
		return func(other CostItem) bool { return other.Item == item.Item && other.Named == item.Named }
	}
	for _, item := range a.Cost.Items {
		row := Compared{What: CompareCost, Item: item, Unit: "$", One: item.Cost.Mean}
		if i := slices.IndexFunc(b.Cost.Items, named(item)); i >= 0 {
			row.Other = b.Cost.Items[i].Cost.Mean
		}
		c.Rows = append(c.Rows, comparedOf(row))
	}
	for _, item := range b.Cost.Items {
		if !slices.ContainsFunc(a.Cost.Items, named(item)) {
			c.Rows = append(c.Rows, comparedOf(Compared{What: CompareCost, Item: item, Unit: "$", Other: item.Cost.Mean}))
		}
	}
}

// Row is a quantity of the comparison.
func (c *Comparison) Row(what ComparedWhat) Compared {
	for _, r := range c.Rows {
		if r.What == what {
			return r
		}
	}
	return Compared{}
}

// mostNamed is how many lines of cost a sentence about two bids names.
const mostNamed = 3

// Biggest are the lines of cost that differ most, at most three, and none that is less
// than a tenth of the one that differs most.
func (c *Comparison) Biggest() []Compared {
	var lines []Compared
	for _, r := range c.Rows {
		if r.What == CompareCost && r.Differs {
			lines = append(lines, r)
		}
	}
	apart := func(r Compared) float64 { return math.Abs(r.Other - r.One) }
	slices.SortStableFunc(lines, func(a, b Compared) int { return cmp.Compare(apart(b), apart(a)) })
	for i, r := range lines {
		if i == mostNamed || apart(r) < apart(lines[0])/10 {
			return lines[:i]
		}
	}
	return lines
}

// Same says whether nothing that shows differs.
func (c *Comparison) Same() bool {
	return len(c.Spec) == 0 && !slices.ContainsFunc(c.Rows, func(r Compared) bool { return r.Differs })
}

// SpecChange is a key of a spec with what it says in either bid, "" where that does not
// give it.
type SpecChange struct {
	Of         string `json:"of"` // the placement; "" of the job
	Key        string `json:"key"`
	One, Other string
}

// specValue is a key of a spec with its value as text.
type specValue struct{ of, key, value string }

// specChanges are the keys of two specs that differ, in the order of the first.
// Placements are known by their names.
func specChanges(a, b Spec) []SpecChange {
	was, is := specValues(a), specValues(b)
	find := func(all []specValue, v specValue) string {
		for _, w := range all {
			if w.of == v.of && w.key == v.key {
				return w.value
			}
		}
		return ""
	}
	changes := []SpecChange{}
	for _, v := range was {
		if now := find(is, v); now != v.value {
			changes = append(changes, SpecChange{v.of, v.key, v.value, now})
		}
	}
	for _, v := range is {
		if find(was, v) == "" {
			changes = append(changes, SpecChange{v.of, v.key, "", v.value})
		}
	}
	return changes
}

func specValues(s Spec) []specValue {
	placements, items, prices := s.Placements, s.Items, s.Prices
	s.Placements, s.Items, s.Prices = nil, nil, Prices{}
	values := keyValues("", "", reflect.ValueOf(s))
	values = append(values, keyValues("", "", reflect.ValueOf(prices))...)
	for _, i := range items {
		values = append(values, specValue{"", "items." + i.Item, textOf(reflect.ValueOf(i.Amount))})
	}
	for i, p := range placements {
		of := p.name(i)
		if len(placements) == 1 {
			of, p.Name = "", ""
		}
		values = append(values, keyValues(of, "", reflect.ValueOf(p))...)
	}
	return values
}

// keyValues are the keys of a struct that have a value.
func keyValues(of, under string, v reflect.Value) (all []specValue) {
	for i := range v.NumField() {
		name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		switch f := v.Field(i); {
		case f.IsZero() || name == "-":
		case f.Kind() == reflect.Struct:
			all = append(all, keyValues(of, under+name+".", f)...)
		default:
			all = append(all, specValue{of, under + name, textOf(f)})
		}
	}
	return all
}

// textOf is a value as a spec has it.
func textOf(v reflect.Value) string {
	text, err := json.Marshal(v.Interface())
	if err != nil {
		return ""
	}
	return strings.Trim(string(text), `"`)
}

// SettingChange is a rate, price or belief that differs between two bids.
type SettingChange struct{ One, Other Setting }

// settingChanges are those that both bids go by and that differ, in the order of the
// first.
func settingChanges(a, b []Setting) []SettingChange {
	changes := []SettingChange{}
	for _, was := range a {
		for _, is := range b {
			if was.Name == is.Name && was.Of == is.Of && math.Abs(was.Value-is.Value) > 1e-9*math.Abs(was.Value) {
				changes = append(changes, SettingChange{was, is})
			}
		}
	}
	return changes
}
