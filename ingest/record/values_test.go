package record

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// sameAs holds a column against the plain list of its values.
func sameAs[T comparable](t rapid.TB, v *Values[T], want []T) {
	t.Helper()
	if v.Len() != len(want) {
		t.Fatalf("%d rows, want %d", v.Len(), len(want))
	}
	distinct, coded := v.Distinct()
	for i, value := range want {
		if got := v.At(i); got != value {
			t.Fatalf("row %d is %v, want %v", i, got, value)
		}
		if coded && distinct[v.Code(i)] != value {
			t.Fatalf("row %d has code %d, which is %v, want %v", i, v.Code(i), distinct[v.Code(i)], value)
		}
	}
}

// Whatever is added, set, gathered and joined, a column holds what a list would:
// with few values, with more than a byte tells apart, and with too many for codes.
func TestColumnsHoldWhatListsHold(t *testing.T) {
	for name, most := range map[string]int{"one byte": 40, "two bytes": 3000, "packed": 80_000} {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				var v, other Values[Number]
				var want, more []Number
				number := func(k int) Number {
					if k%7 == 0 {
						return Number{}
					}
					return Some(float64(k%most) / 4)
				}
				step := rapid.IntRange(1, 40).Draw(t, "step")
				for k := range most + most/3 {
					v.Add(number(k * step))
					want = append(want, number(k*step))
				}
				for k := range rapid.IntRange(0, 600).Draw(t, "more") {
					other.Add(number(k + most/2))
					more = append(more, number(k+most/2))
				}
				v.join(&other)
				want = append(want, more...)
				for range 20 {
					i, value := rapid.IntRange(0, len(want)-1).Draw(t, "row"), number(rapid.IntRange(0, 3*most).Draw(t, "value"))
					v.Set(i, value)
					want[i] = value
				}
				var rows []int32
				var picked []Number
				for i := len(want) - 1; i >= 0; i -= rapid.IntRange(1, 1+len(want)/50).Draw(t, "skip") {
					rows, picked = append(rows, int32(i), -1), append(picked, want[i], Number{})
				}
				v.gather(rows)
				sameAs(t, &v, picked)
			})
		})
	}
}

func TestColumnsOfEveryKind(t *testing.T) {
	const rows = 70_000 // more than there are codes
	var texts Values[string]
	var counts Values[Count]
	var money Values[Money]
	var days Values[Date]
	var flags Values[Flag]
	var t1 []string
	var c1 []Count
	var m1 []Money
	var d1 []Date
	var f1 []Flag
	for k := range rows {
		t1, c1, m1 = append(t1, strings.Repeat("é", k%3)+strconv.Itoa(k)), append(c1, Some(int64(k-40))), append(m1, Some(Cents(-k)))
		d1, f1 = append(d1, Date(k)), append(f1, Flag(k%3))
		texts.Add(t1[k])
		counts.Add(c1[k])
		money.Add(m1[k])
		days.Add(d1[k])
		flags.Add(f1[k])
	}
	for _, i := range []int{0, 7, rows - 1} {
		t1[i], c1[i], m1[i], d1[i] = "changed", Count{}, Money{}, 0
		texts.Set(i, t1[i])
		counts.Set(i, c1[i])
		money.Set(i, m1[i])
		days.Set(i, d1[i])
	}
	sameAs(t, &texts, t1)
	sameAs(t, &counts, c1)
	sameAs(t, &money, m1)
	sameAs(t, &days, d1)
	sameAs(t, &flags, f1)
	if _, coded := texts.Distinct(); coded {
		t.Error("seventy thousand texts cannot have codes of two bytes")
	}
}

// A column in which nothing is written takes no memory, and reads as missing.
func TestColumnsWithoutValues(t *testing.T) {
	var v Values[string]
	for range 1000 {
		v.Add("")
	}
	if v.Written() || v.narrow != nil || v.wide != nil || v.packed != nil || v.distinct != nil {
		t.Errorf("it keeps %+v", v)
	}
	sameAs(t, &v, make([]string, 1000))
	var written Values[string]
	written.Add("a")
	written.join(&v)
	sameAs(t, &written, append([]string{"a"}, make([]string, 1000)...))
}

// A row of columns says what the row of the table says, by the same names.
func TestRowsOfColumnsAreRowsOfTables(t *testing.T) {
	p := Placement{JobNo: "7", Placement: "A", Log: Job{Site: "1 Tern St"}}
	for i, field := range p.Fields() {
		if IsMissing(field) {
			fill := map[Kind]string{KindText: "t" + strconv.Itoa(i), KindWord: "w" + strconv.Itoa(i), KindNumber: strconv.Itoa(i), KindCount: strconv.Itoa(i),
				KindMoney: strconv.Itoa(i), KindDate: "2025-06-03", KindFlag: "yes"}
			if err := SetField(field, fill[Placements.Columns[i].Kind]); err != nil {
				t.Fatal(err)
			}
		}
	}
	var c PlacementColumns
	c.Columns().Add(&Placement{})
	c.Columns().Add(&p)
	if got := c.Row(1); got != p {
		t.Errorf("\n got %+v\nwant %+v", got, p)
	}
	job := p.Log
	job.JobNo, job.Note, job.SaidRight = "7", "a note", "bid_cost=1"
	var jobs JobColumns
	jobs.Columns().Add(&job)
	saysTheSame(t, reflect.ValueOf(c.At(1)), reflect.ValueOf(&p))
	saysTheSame(t, reflect.ValueOf(jobs.At(0)), reflect.ValueOf(&job))
}

// saysTheSame calls every method of a row and holds it against the field or the
// method of that name.
func saysTheSame(t *testing.T, row, record reflect.Value) {
	t.Helper()
	asked := 0
	for i := range row.NumMethod() {
		name := row.Type().Method(i).Name
		want := record.Elem().FieldByName(name)
		if !want.IsValid() {
			want = record.MethodByName(name).Call(nil)[0]
		} else {
			asked++
		}
		if got := row.Method(i).Call(nil)[0]; !reflect.DeepEqual(got.Interface(), want.Interface()) {
			t.Errorf("%s is %v, want %v", name, got, want)
		}
	}
	fields := slices.DeleteFunc(reflect.VisibleFields(record.Elem().Type()), func(f reflect.StructField) bool { return f.Name == "Log" })
	if asked != len(fields) {
		t.Errorf("a row tells %d of %d fields", asked, len(fields))
	}
}
