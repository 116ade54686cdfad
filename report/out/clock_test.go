package out

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

// TestPrintedAsInJSON: each time of the trucks, the stages and the saws that the
// JSON of a bid holds stands on its page, in the row of its truck or its stage.
func TestPrintedAsInJSON(t *testing.T) {
	b := trial.MadeUpBid(t)
	var text bytes.Buffer
	if err := BidJSON(&text, 0, b, say.New("", "", "")); err != nil {
		t.Fatal(err)
	}
	type at struct {
		Clock string `json:"clock"`
		Day   int    `json:"day"`
	}
	var doc struct {
		Days []struct {
			Clock struct {
				Answer string                       `json:"answer"`
				Trucks []map[string]json.RawMessage `json:"trucks"`
				Line   []struct{ From, To at }      `json:"line"`
				Saw    []struct {
					From, To at
					Says     string
				} `json:"saw"`
				Cautions []struct{ Says string } `json:"cautions"`
				Call     struct{ By at }
			} `json:"clock"`
			Asked []struct{ Says string } `json:"asked"`
		} `json:"days"`
	}
	if err := json.Unmarshal(text.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	shown := func(a at) string { // as a person writes it: 06:25 is 6:25, 13:40 is 1:40 pm
		var h, m int
		if _, err := fmt.Sscanf(a.Clock, "%d:%d", &h, &m); err != nil {
			t.Fatalf("%q: %v", a.Clock, err)
		}
		switch {
		case h > 12:
			return fmt.Sprintf("%d:%02d pm", h-12, m)
		case h == 12:
			return fmt.Sprintf("12:%02d pm", m)
		}
		return fmt.Sprintf("%d:%02d", h, m)
	}
	tables := map[string]*page.Table{}
	p := page.BidPage(b, page.Options{})
	for _, e := range p.Exhibits {
		tables[e.Title] = e.Table
	}
	day, trucks, slab := doc.Days[0], tables["Trucks by the clock"], tables["The slab by the clock"]
	if len(day.Clock.Trucks) != len(trucks.Rows) || len(day.Clock.Line)+len(day.Clock.Saw) != len(slab.Rows) || len(trucks.Rows) < 2 {
		t.Fatalf("%d trucks and %d rows, %d stages and %d rows", len(day.Clock.Trucks), len(trucks.Rows), len(day.Clock.Line), len(slab.Rows))
	}
	for i, truck := range day.Clock.Trucks {
		for k, key := range []string{"batched", "leaves", "arrives", "starts", "empty", "gone", "limit_ends"} {
			var a at
			if err := json.Unmarshal(truck[key], &a); err != nil {
				t.Fatal(err)
			}
			if got := trucks.Rows[i][2+k].Text; got != shown(a) {
				t.Errorf("truck %d, %s: %q on the page, %q in the JSON", i+1, key, got, shown(a))
			}
		}
	}
	for i, s := range day.Clock.Line {
		if from, to := slab.Rows[i][1].Text, slab.Rows[i][2].Text; from != shown(s.From) || to != shown(s.To) {
			t.Errorf("%s to %s on the page, %v in the JSON", from, to, s)
		}
	}
	below := strings.Join(append(trucks.Below, slab.Below...), "\n")
	said := []string{"by " + shown(day.Clock.Call.By)}
	for i, s := range day.Clock.Saw {
		said = append(said, s.Says)
		if row := slab.Rows[len(day.Clock.Line)+i]; row[1].Text != shown(s.From) || row[2].Text != shown(s.To) {
			t.Errorf("saw %v, %v", row, s)
		}
	}
	for _, n := range day.Clock.Cautions {
		said = append(said, n.Says)
	}
	for _, s := range said {
		if s == "" || !strings.Contains(below, s) {
			t.Errorf("the page does not say %q", s)
		}
	}
	if mix := strings.Join(tables["To read to the dispatcher"].Below, "\n"); !strings.Contains(mix, day.Asked[0].Says) {
		t.Errorf("the dispatcher is not told %q", day.Asked[0].Says)
	}
	if want := regexp.MustCompile(`^Call the last load by 6:33, with 6 yd down\. First truck on site at 6:00, batched at 5:25\.`); !want.MatchString(day.Clock.Answer) {
		t.Errorf("%q", day.Clock.Answer)
	}
}
