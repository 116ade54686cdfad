package sheet

import (
	"fmt"
	"strings"
	"testing"

	"pourback/ingest/record"
)

// hastyLog is a log whose columns stand below headings given in their order; what
// they hold is invented, how it is written common practice, no published source.
func hastyLog(title string, heads ...string) string {
	uses := []string{"pto", "Drvwy", "sdwk", "shed flr", "gar flr"}
	steels := []string{"#4 RB 18", "wire", "fib", "none", "4s@18"}
	ways := []string{"chute", "no - buggy", "yes - Osprey", "wheelbarrow", "chute"}
	leads := []string{"Ivo", "Bea", "Cy"}
	var b strings.Builder
	fmt.Fprintf(&b, "%s%s\n%s\n", title, strings.Repeat(";", len(heads)-1), strings.Join(heads, ";"))
	b.WriteString(slabs(30, func(i int, _, depth, _ float64) string {
		area := float64(100 + 40*(7*i%30))
		neat := area * depth / 324
		day := fmt.Sprintf("%s%d/%d", []string{"", "6/", ""}[0], 3+i/10, 1+2*(i%10))
		cost := 4*area + 300 + float64(7*i%60)
		return fmt.Sprintf("%d;%s;%s %c;%d Elm Ct;%s;%.0fx10;%.0f;%s;%d' OC saw;%.2f;%.2f;%s;%s;%s %d;%d guys x %.1f;%.1fk;%.0f;%.0f;%s;%s",
			301+i, day, []string{"Heron", "Wren", "Egret", "Finch", "Plover", "Rail", "Tern", "Grebe", "Stork", "Swift", "Crane", "Dipper", "Snipe"}[i%13], 'A'+rune(i%7), 100+13*i,
			uses[i%5], area/10, depth, steels[i%5], 8+2*(i%2), quarter(neat*1.02), quarter(neat*1.06), []string{"0", "1/4", ".5", "none"}[i%4], ways[i%5],
			[]string{"cool", "hot"}[i%2], 48+i, 3+i%3, 4+float64(i%4)/2, (1.6*cost)/1000, cost-10, cost+25, []string{"no", "crk 12/4 $150", "", ""}[i%4], leads[i%3])
	}))
	return b.String()
}

// TestValuesTellWhatHeadingsDoNot reads logs whose headings are a letter or two, cut
// short, or of other countries: every one alone, with nothing asked.
func TestValuesTellWhatHeadingsDoNot(t *testing.T) {
	want := []string{"job_no", "placed_on", "customer", "site", "use", "size", "thickness_in", "reinforcement", "joint_spacing_ft", "planned_yd", "delivered_yd", "leftover_yd", "method", "air_temp_f", "labor_hours", "contract_price", "bid_cost", "actual_cost", "callback_on", "crew"}
	for _, heads := range []string{
		"No;Dt;Nm;Addr;Jb;Sz;Thk;Stl;Jt;Yd est;Yd;Back;Pmp;Wx;Hrs;$;Est $;Cst;Trbl;Ld",
		"#;Day;Cust;Loc;Wk;Dim;Dp;Rnf;Jts;Ord;Dlv;Lft;How;Tmp;MH;Prc;Bdgt;Spnt;Cb;Boss",
		"Ref;Poured;Client;Site addr;Element;Size;Depth;Reo;CJs;Booked;Dockets;Surplus;Pump / chute;Weather;Labour;Quote ex GST;Costed at;Came out at;Defects;Leading hand",
		"Job;When;Whose;Where;What;How big;How thick;What's in it;Joints;Asked for;Showed up;Left;How it got there;What it was like out;Hours;Price;Cost I figured;Cost for real;Trouble;Who ran it",
	} {
		f, err := open("log.csv", hastyLog("Pours 24", strings.Split(heads, ";")...), Options{})
		must(t, err)
		for i, h := range f.Reading().Tables[0].Headings {
			if h.Column != want[i] && !(want[i] == "size" && h.Column == "area_sqft") || !h.Sure {
				t.Errorf("%q is read as %q (sure: %v, %q), want %q", h.Heading, h.Column, h.Sure, h.Choices, want[i])
			}
		}
	}
}

// TestValuesDoNotTellWhatIsNot leaves columns that look like a record's alone where
// another is that already, or their headings say otherwise.
func TestValuesDoNotTellWhatIsNot(t *testing.T) {
	for _, heading := range []string{"Inspector", "Plant", "Paid on", "Photos", "Permit"} {
		rows := strings.Split(strings.TrimRight(hastyLog("Pours 24", strings.Split("No;Dt;Nm;Addr;Jb;Sz;Thk;Stl;Jt;Yd est;Yd;Back;Pmp;Wx;Hrs;$;Est $;Cst;Trbl;Ld;"+heading, ";")...), "\n"), "\n")
		for i := 2; i < len(rows); i++ {
			rows[i] += ";" + map[string]string{"Inspector": "Ames", "Plant": "North " + fmt.Sprint(i%3), "Paid on": fmt.Sprintf("%d/20/24", 4+i/10), "Photos": []string{"yes", "no"}[i%2], "Permit": fmt.Sprint(7000 + 3*i)}[heading]
		}
		f, err := open("log.csv", strings.Join(rows, "\n")+"\n", Options{})
		must(t, err)
		heads := f.Reading().Tables[0].Headings
		if h := heads[len(heads)-1]; h.Column != "" && h.Sure {
			t.Errorf("%q is read as %q", heading, h.Column)
		}
	}
}

// TestOtherTabsCallJobsByTheirFigures finds the job that a list of calls means.
func TestOtherTabsCallJobsByTheirFigures(t *testing.T) {
	n := &jobNumbers{map[string]bool{}, map[string]string{}}
	u := &insight{picks: []pick{{hypothesis: &hypothesis{name: "job_no"}, sure: true}}, cols: []*fileColumn{{profile: &profile{texts: []string{"J101", "J102", "K102", "J101 ", "J-0077"}}}}}
	n.learn(u)
	for text, want := range map[string]string{"101": "J101", "j101": "J101", "J101": "J101", "102": "102", "k102": "K102", "77": "J-0077", "9": "9", "Z101": "Z101"} {
		if got := n.meant(text); got != want {
			t.Errorf("%q means %q, want %q", text, got, want)
		}
	}
}

// A note tells of a call back where the log has no column for them, and only
// where it says so plainly.
func TestNotesTellOfCalls(t *testing.T) {
	const head = "Job,Date,Kind,Sq Ft,Depth,Yards Planned,Yards Delivered,Notes\n"
	for note, want := range map[string]string{
		"they called us back 7/4/25 for a crack, repair cost $400": "2025-07-04 crack 400.00",
		"Called back 8/28/25, one edge settled":                    "2025-08-28 settlement ",
		"owner called 5/29/25 to say thanks, all good":             "  ",
		"old walk next to it was cracked before we came":           "  ",
		"neighbor called 7/4/25 about the noise":                   "  ",
		"cracked the corner, fixed 7/4/25":                         "  ",
		"called back 4/1/25 for a crack in the slab next door":     "  ", // before the pour
		"called back 7/4/25 and again 8/4/25 for a crack":          "  ", // of two days neither is sure
		"homeowner called 6/17/25: scaling along the garage, ugly": "2025-06-17 scaling ",
		"called 6/17/25, said the crack is none of ours?":          "  ",
	} {
		text := head
		for i := range 12 {
			text += fmt.Sprintf("J%03d,5/%d/25,patio,%d,4,%g,%g,\n", i, i+1, 300+i, 4.0, 4.25)
		}
		text += fmt.Sprintf("J099,5/20/25,patio,400,4,5.25,5.5,%q\n", note)
		g := read(t, "log 2025.csv", text, Options{Today: record.DateOf(2026, 1, 1)})
		last := g.values[len(g.values)-1]
		cell := func(column string) string { return last[record.Placements.Index(column)] }
		if got := cell("callback_on") + " " + cell("callback_kind") + " " + cell("callback_cost"); got != want {
			t.Errorf("%q: %q, want %q", note, got, want)
		}
	}
}
