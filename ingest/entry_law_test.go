package ingest

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// merged is what a row makes of a record, with what was wrong with it; nothing is
// stored.
func merged(row EntryRow, old record.Record) (en *enterer, rec *enteredRecord, clashes []EntryClash) {
	en = &enterer{Entry: &Entry{Sheet: sheet.Options{Today: record.DateOf(2026, 3, 31)}}, forms: map[*record.Table]*sheet.Form{}}
	rec = &enteredRecord{table: old.Table(), old: old, now: copyOf(old), set: make([]bool, len(old.Table().Columns)), texts: map[string]string{}}
	if s, ok := en.saying(&row); ok && en.values(s, rec) {
		clashes, _ = en.merge(s, rec)
		en.check(rec)
	}
	return en, rec, clashes
}

// TestThreeWay holds the merge against the plainest model of it: what was not
// touched stays as it is, what is new takes the place of what was shown, and what
// somebody else has changed clashes.
func TestThreeWay(t *testing.T) {
	values := map[string][]string{ // canonical, so that reading them adds nothing of its own
		"air_temp_f": {"", "60", "70.5", "81"}, "retarder": {"", "yes", "no"}, "curing": {"", "water", "sheet"}, "crew_size": {"", "3", "4"},
		"crew": {"", "Heron", "Wren"}, "note": {"", "gate code", "dog in yard"}, "callback_cost": {"", "12.50", "80.00"}, "callback_on": {"", "2025-08-01", "2025-09-02"}}
	seen := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		old := &record.Placement{JobNo: "J-1", Placement: "A", PlacedOn: record.DateOf(2025, 6, 3), Use: "patio", AreaSqft: record.Some(300.0), ThicknessIn: record.Some(4.0)}
		row := EntryRow{Table: "placements", Was: map[string]string{}}
		want, clashing := map[string]string{}, []string{}
		for _, c := range record.Placements.Columns {
			choices := values[c.Name]
			if choices == nil {
				continue
			}
			pick := func(what string) string { return rapid.SampledFrom(choices).Draw(t, c.Name+what) }
			there, shown, mine := pick(" on record"), pick(" shown"), pick(" entered")
			if err := record.SetField(old.Fields()[record.Placements.Index(c.Name)], there); err != nil {
				t.Fatal(err)
			}
			row.Values = append(row.Values, [2]string{c.Name, mine})
			if shown != "" || rapid.Bool().Draw(t, c.Name+" said empty") {
				row.Was[c.Name] = shown
			}
			switch want[c.Name] = there; {
			case mine == there:
				seen["same"]++
			case mine == shown:
				seen["not touched"]++
			case there == shown:
				seen["taken"]++
				want[c.Name] = mine
			default:
				seen["clash"]++
				clashing = append(clashing, c.Name)
			}
		}
		en, rec, clashes := merged(row, old)
		if len(en.wrong) > 0 && !slices.ContainsFunc(en.wrong, func(p record.Problem) bool { return strings.HasPrefix(p.Code, "callback") }) {
			t.Fatal(en.wrong)
		}
		for name, text := range want {
			if got := record.FieldText(rec.now.Fields()[record.Placements.Index(name)]); got != text {
				t.Errorf("%s is %q, want %q", name, got, text)
			}
		}
		var got []string
		for _, c := range clashes {
			got = append(got, c.Column)
		}
		if !slices.Equal(got, clashing) {
			t.Errorf("%v clash, want %v", got, clashing)
		}
	})
	for _, what := range []string{"same", "not touched", "taken", "clash"} {
		if seen[what] == 0 {
			t.Errorf("nothing was %s", what)
		}
	}
}

// TestAppend: a note stands behind what was there, once however often it comes, and
// what does not fit clashes and is not cut.
func TestAppend(t *testing.T) {
	long := strings.Repeat("x", 9_990)
	for _, c := range []struct {
		there, more, want string
		clash             bool
	}{
		{"", "hot", "hot", false}, {"windy", "hot", "windy; hot", false}, {"windy; hot", "hot", "windy; hot", false}, {"hot", "hot", "hot", false},
		{"too hot", "hot", "too hot; hot", false}, {"windy", "", "windy", false}, {"windy", " \r\n", "windy", false}, {"windy", "a\r\nb", "windy; a\nb", false},
		{long, "12345678", long + "; 12345678", false}, {long, "123456789", long, true}, {"", "ñ" + long + "12345678é", "ñ" + long + "12345678é", false},
	} {
		en, rec, clashes := merged(EntryRow{Table: "loads", Values: [][2]string{{"note", c.more}}, Append: []string{"note"}}, &record.Load{JobNo: "J-1", Placement: "A", TicketNo: "1", Yards: record.Some(9.0), Note: c.there})
		if got := rec.now.(*record.Load).Note; got != c.want || (len(clashes) == 1) != c.clash || len(en.wrong) > 0 {
			t.Errorf("%.20q and %.20q: %.40q, %v, %v", c.there, c.more, got, clashes, en.wrong)
		}
	}
}

// TestBesides: what a text says of other columns goes there, and is refused where
// those say otherwise.
func TestBesides(t *testing.T) {
	for _, c := range []struct {
		values []string
		want   map[string]string // nil where it is refused
	}{
		{[]string{"air_temp_f", "88, wind 12 mph"}, map[string]string{"air_temp_f": "88", "wind_mph": "12"}},
		{[]string{"air_temp_f", "88, wind 12 mph", "wind_mph", ""}, map[string]string{"air_temp_f": "88", "wind_mph": "12"}},
		{[]string{"air_temp_f", "88, wind 12 mph", "wind_mph", "12"}, map[string]string{"wind_mph": "12"}},
		{[]string{"wind_mph", "10", "air_temp_f", "88, wind 12 mph"}, nil},
		{[]string{"labor_hours", "4 guys x 7"}, map[string]string{"labor_hours": "28", "crew_size": "4"}},
		{[]string{"labor_hours", "7 each"}, nil},
		{[]string{"delivered_yd", "10 yd, 1/2 back"}, map[string]string{"delivered_yd": "10", "leftover_yd": "0.5"}},
		{[]string{"thickness_in", "4"}, map[string]string{"thickness_in": "4"}},
		{[]string{"joint_depth_in", "5"}, nil}, // deeper than the slab is thick
		{[]string{"note", "#N/A"}, nil},
		{[]string{"area_sqft", ""}, map[string]string{"area_sqft": "300"}}, // it was not shown
		{[]string{"said_right", "area_sqft=300"}, nil},
		{[]string{"air_temp_f", "88", "Air Temp", "89"}, nil},
		{[]string{"air temp c", "20"}, map[string]string{"air_temp_f": "68"}},
		{[]string{"tempperature", "20"}, nil},
	} {
		row := EntryRow{Table: "placements"}
		for i := 0; i < len(c.values); i += 2 {
			row.Values = append(row.Values, [2]string{c.values[i], c.values[i+1]})
		}
		en, rec, clashes := merged(row, &record.Placement{JobNo: "J-1", Placement: "A", PlacedOn: record.DateOf(2025, 6, 3), Use: "patio", AreaSqft: record.Some(300.0), ThicknessIn: record.Some(4.0)})
		if len(en.wrong) > 0 != (c.want == nil) || len(clashes) > 0 && c.want == nil {
			t.Errorf("%v: %v, %v", c.values, en.wrong, clashes)
		}
		for name, want := range c.want {
			if got := record.FieldText(rec.now.Fields()[record.Placements.Index(name)]); got != want && !slices.ContainsFunc(clashes, func(x EntryClash) bool { return x.Column == name }) {
				t.Errorf("%v: %s is %q, want %q", c.values, name, got, want)
			}
		}
	}
}

// oddTexts are what people write, and what nobody would.
var oddTexts = []string{"88, wind 12 mph", "4 guys x 7", "7 each", "24x40x4", "#4 @ 18 oc", "crack 8/12/25", "7/1/2025 8:15 am", "0815", "9 + 1.5", "n/a", "#REF!", "hairline crack by the door", "a\x00b", "\xff", "-0", "1e400", "=1+1", "sí", "88/79", "yes - Wren", "10 yd, 1/2 back", "; ", "'", "8' saw", "none", "5 min", "3/4\"", "$8,200 + 450 CO", "4 in, 6 at the edge"}

// TestAnyTextInAnyColumn: it is on record then, or it clashes, or it is refused with
// a reason, and nothing else of the record is another.
func TestAnyTextInAnyColumn(t *testing.T) {
	for _, text := range oddTexts {
		for _, there := range []string{"", "4"} {
			for _, table := range record.Tables {
				for i := range table.Columns {
					enteredAnyway(t, text, there, table, i)
				}
			}
		}
	}
}

// FuzzEntry is the same of any text.
func FuzzEntry(f *testing.F) {
	for n, text := range oddTexts {
		f.Add(text, "", uint8(n), uint8(3*n))
		f.Add(text, "4", uint8(n/7), uint8(5*n))
	}
	f.Fuzz(func(t *testing.T, text, there string, table, column uint8) {
		of := record.Tables[int(table)%len(record.Tables)]
		enteredAnyway(t, text, there, of, int(column)%len(of.Columns))
	})
}

// enteredAnyway enters a text in each way where another is on record.
func enteredAnyway(t *testing.T, text, there string, table *record.Table, i int) {
	t.Helper()
	c := table.Columns[i]
	if c.Key || c.Name == "said_right" {
		return
	}
	for _, how := range []EntryRow{{}, {Was: map[string]string{c.Name: there}}, {Append: []string{c.Name}}} {
		old := table.New()
		if record.SetField(old.Fields()[i], there) != nil {
			continue
		}
		how.Table, how.Values = table.Name, [][2]string{{c.Name, text}}
		en, rec, clashes := merged(how, old)
		holds(t, text, i, old, en, rec, clashes)
	}
}

// holds is the law of any text.
func holds(t *testing.T, text string, i int, old record.Record, en *enterer, rec *enteredRecord, clashes []EntryClash) {
	t.Helper()
	c := rec.table.Columns[i]
	for _, p := range en.wrong {
		if p.Column == "" || p.Wrong == "" || p.Right == "" || p.Code == "" || p.Severity != record.Error {
			t.Errorf("%s.%s %q: %+v", rec.table.Name, c.Name, text, p)
		}
	}
	if len(en.wrong) > 0 {
		return
	}
	alone := rec.table.New()
	en.form(rec.table).ReadBeside(alone.Fields(), c.Name, strings.ToValidUTF8(text, "\uFFFD"))
	said := 0
	for k, f := range rec.now.Fields() {
		read, was, now := record.FieldText(alone.Fields()[k]), record.FieldText(old.Fields()[k]), record.FieldText(f)
		if read != "" {
			said++
		}
		if now != was && now != read && now != was+between+read && now != strings.ToValidUTF8(text, "\uFFFD") {
			t.Errorf("%s.%s %q: %s was %q, is %q", rec.table.Name, c.Name, text, rec.table.Columns[k].Name, was, now)
		}
		clash := slices.ContainsFunc(clashes, func(x EntryClash) bool { return x.Column == rec.table.Columns[k].Name })
		if read != "" && now != read && now != was+between+read && !clash && now != text && !strings.HasSuffix(was, between+read) {
			t.Errorf("%s.%s %q: %s is %q, it says %q", rec.table.Name, c.Name, text, rec.table.Columns[k].Name, now, read)
		}
	}
	if said == 0 && !sheet.SaysNothing(text) && record.FieldText(old.Fields()[i]) != text {
		t.Errorf("%s.%s %q is lost", rec.table.Name, c.Name, text)
	}
}
