package record

import (
	"math"
	"strings"
)

// packing keeps values one by one, in as few bytes as their kind takes.
type packing[T comparable] interface {
	at(i int) T
	add(T)
	set(i int, value T)
}

// packingOf is the packing of a kind of values: empty, with room for so many.
func packingOf[T comparable](room int) packing[T] {
	var p any
	switch any(*new(T)).(type) {
	case string:
		p = &texts{ends: make([]int, 0, room)}
	case Number:
		p = new(make(numbers, 0, room))
	case Count:
		p = new(make(integers[int64], 0, room))
	case Money:
		p = new(make(integers[Cents], 0, room))
	default:
		p = new(make(plain[T], 0, room))
	}
	return p.(packing[T])
}

// plain keeps values as they are.
type plain[T comparable] []T

func (p *plain[T]) at(i int) T         { return (*p)[i] }
func (p *plain[T]) add(value T)        { *p = append(*p, value) }
func (p *plain[T]) set(i int, value T) { (*p)[i] = value }

// numbers keeps numbers in eight bytes: what is not a number is missing.
type numbers []float64

func (p *numbers) at(i int) Number {
	if v := (*p)[i]; v == v {
		return Some(v)
	}
	return Number{}
}

func (p *numbers) add(value Number)        { *p = append(*p, value.Or(math.NaN())) }
func (p *numbers) set(i int, value Number) { (*p)[i] = value.Or(math.NaN()) }

// integers keeps whole numbers in eight bytes: the least of them is missing.
type integers[T int64 | Cents] []T

func (p *integers[T]) at(i int) Opt[T] {
	if v := (*p)[i]; v != math.MinInt64 {
		return Some(v)
	}
	return Opt[T]{}
}

func (p *integers[T]) add(value Opt[T])        { *p = append(*p, value.Or(math.MinInt64)) }
func (p *integers[T]) set(i int, value Opt[T]) { (*p)[i] = value.Or(math.MinInt64) }

// texts keeps texts in one, end to end.
type texts struct {
	all     strings.Builder
	ends    []int
	changed map[int]string // the few that were changed afterwards
}

func (p *texts) at(i int) string {
	if changed, ok := p.changed[i]; ok {
		return changed
	}
	from := 0
	if i > 0 {
		from = p.ends[i-1]
	}
	return p.all.String()[from:p.ends[i]]
}

func (p *texts) add(value string) {
	p.all.WriteString(value)
	p.ends = append(p.ends, p.all.Len())
}

func (p *texts) addBytes(value []byte) {
	p.all.Write(value)
	p.ends = append(p.ends, p.all.Len())
}

func (p *texts) set(i int, value string) {
	if p.changed == nil {
		p.changed = map[int]string{}
	}
	p.changed[i] = value
}
