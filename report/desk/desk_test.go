package desk

import (
	"reflect"
	"testing"

	"pourback/analysis/bid"
	"pourback/ingest/sheet"
	"pourback/ingest/spec"
	"pourback/ingest/store"
)

// TestASpecComesBackFromWhereItWasKept: a bid revised or copied without a change asks
// for the same, whether it is laid over or goes through a form.
func TestASpecComesBackFromWhereItWasKept(t *testing.T) {
	text := `
name: Lot 14
site: 14 Mesquite Lane
job_no: J-9
month: July
start: 6:30
forecast: 6:00 78F 40% 5mph; 12:00 101F
overhead: 12 %
none_needed: [permits]
prices: {concrete_per_yd: 172.55}
items: {survey: 250}
placements:
  - {use: driveway, length: 40' 5", width: 24, thickness: 4.5, method: pump, reinforcement: rebar, bar: "#4", air: 0, against: [1]}
  - {use: patio, outline: circle 30, holes: [circle 4], thickness: 4}
  - {use: steps, steps: {risers: 4, rise: 7 in, tread: 12 in, width: 4 ft, solid: yes}}
`
	asked, problems := spec.Read("", []byte(text), nil, sheet.Options{})
	if asked == nil {
		t.Fatal(problems)
	}
	want, err := SpecOf(asked)
	if err != nil {
		t.Fatal(err)
	}
	offer := &bid.Bid{Spec: want}
	again := func(s *spec.Spec) bid.Spec {
		t.Helper()
		got, err := SpecOf(s)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	revised := Revised(store.Bid{}, offer)
	if got := again(revised); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v\nwant %+v", got, want)
	}
	form, problems := spec.ReadForm(spec.FormOf(revised), sheet.Options{})
	if form == nil {
		t.Fatal(problems)
	}
	if got := again(form); !reflect.DeepEqual(got, want) {
		t.Errorf("through a form: %+v\nwant %+v", got, want)
	}
	if got := again(Revised(store.Bid{JobNo: "J-12"}, offer)); got.JobNo != "J-12" {
		t.Errorf("the job that it was linked to is lost: %q", got.JobNo)
	}
	copied := again(Copied(offer))
	if copied.Name != "" || copied.Site != "" || copied.JobNo != "" || len(copied.Placements) != 3 {
		t.Errorf("a copy: %+v", copied)
	}
}
