package record

import (
	"testing"

	"pgregory.net/rapid"
)

// drawField fills a field with any value it can hold, or with none.
func drawField(t *rapid.T, field any) {
	if rapid.Bool().Draw(t, "missing") {
		return
	}
	switch f := field.(type) {
	case *string:
		*f = rapid.StringMatching(`[ -~äé½]{1,12}`).Draw(t, "text")
	case *Number:
		*f = Some(rapid.Float64Range(-1e9, 1e9).Draw(t, "number"))
	case *Count:
		*f = Some(rapid.Int64().Draw(t, "count"))
	case *Money:
		*f = Some(Cents(rapid.Int64Range(-1e12, 1e12).Draw(t, "money")))
	case *Date:
		*f = Date(rapid.IntRange(1, 3652059).Draw(t, "date"))
	case *Moment:
		*f = MomentOf(Date(rapid.IntRange(1, 3652059).Draw(t, "date")), rapid.IntRange(0, 86399).Draw(t, "second"))
	case *Flag:
		*f = rapid.SampledFrom([]Flag{Yes, No}).Draw(t, "flag")
	}
}

func drawRecord(t *rapid.T, table *Table) Record {
	r := table.New()
	for _, f := range r.Fields() {
		drawField(t, f)
	}
	return r
}

func TestFieldsReadBackFromTheirText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := rapid.SampledFrom(Stored).Draw(t, "table")
		r, back := drawRecord(t, table), table.New()
		fields, got := r.Fields(), back.Fields()
		for i := range fields {
			if err := SetField(got[i], FieldText(fields[i])); err != nil {
				t.Fatalf("%s: %v", table.Columns[i].Name, err)
			}
			if IsMissing(got[i]) != IsMissing(fields[i]) || FieldText(got[i]) != FieldText(fields[i]) {
				t.Fatalf("%s: %q came back as %q", table.Columns[i].Name, FieldText(fields[i]), FieldText(got[i]))
			}
		}
	})
}

func TestKeysDoNotCollide(t *testing.T) {
	a := &Load{JobNo: "J-1", Placement: "2", TicketNo: "3"}
	b := &Load{JobNo: "J-1", Placement: "", TicketNo: "23"}
	if Key(a) == Key(b) {
		t.Errorf("two loads share the key %q", Key(a))
	}
}
