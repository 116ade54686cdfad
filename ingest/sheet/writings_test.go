package sheet

import (
	"slices"
	"strings"
	"testing"
)

// writings are cells as people write them, by column: those parted by | all say
// what stands behind them ("!" for what nobody can read). Bars by number are of
// ASTM A615, wire styles of ASTM A1064, 10M of CSA G30.18, N12 and SL72 of AS/NZS
// 4671, words of joints and curing of ACI CT; all else is common practice, no
// published source.
var writings = []struct{ column, cells, want string }{
	// steel
	{"reinforcement", `half-inch bars, every 16"|half inch rebar 16 inches both ways|1/2" rod 16 o.c.|NO. 4 AT 16|NO. 4 BARS 16 IN. APART|number 4 bar, every 16"|R4-16|4 bar 16" EW|#4 @16" OCEW|1/2 in rods 16 in oc|#4's, 16 inch squares|four bar at sixteen|1/2" bars in 16" squares|#4 bar tied at 16|#4 @ 16 oc e.w.|#4 rebar - 16" grid|half inch bar @ 16|16" o.c. #4|#4 at 16 inches o.c. each way|#4 gr 60 @ 16" oc|#4 @ 16" x 16"|1/2" rebar @ 16" on chairs`, "reinforcement=rebar bar=#4 bar_spacing_in=16"},
	{"reinforcement", `4 bar 2' EW|#4 2' oc|#4 @ 2 ft|1/2 in rods 2 ft oc|half-inch bars in 2' squares|#4 every 2 feet|number four bar, 24 inches apart|#4 - 24|#4 @ 24" w/ 2" chairs|#4 @ 24, 12" laps`, "reinforcement=rebar bar=#4 bar_spacing_in=24"},
	{"reinforcement", `half-inch bars 1'-6" both ways|number 4 bar, 1'-6" both ways|#4 @ 1' 6"|#4 1'6" oc`, "reinforcement=rebar bar=#4 bar_spacing_in=18"},
	{"reinforcement", `3/8 rebar, 24" apart|3/8 inch bars, 24" apart|3/8 rod 24|#3 2' squares|three-eighths bar at 24|3/8" rebar 24" o.c. both ways|3 bar @ 24`, "reinforcement=rebar bar=#3 bar_spacing_in=24"},
	{"reinforcement", `5/8 bar @ 12|#5 @ 12" oc|#5 1' oc|5/8" rebar one foot on center`, "reinforcement=rebar bar=#5 bar_spacing_in=12"},
	{"reinforcement", `10M @ 400|10M bars @ 400 mm|10m rebar 400mm oc|10M 40 cm`, "reinforcement=rebar bar=10M bar_spacing_in=15.74803"},
	{"reinforcement", `N12|N12 bars`, "reinforcement=rebar bar=N12"},
	{"reinforcement", `rebar 18" oc|bars @ 18|steel rebar 18" each way|rods every 18 inches|varilla a cada 18"`, "reinforcement=rebar bar_spacing_in=18"},
	{"reinforcement", `rod|rebars|bars only|steel rods|iron|deformed bar|2 bars|3 rows of rebar`, "reinforcement=rebar"},
	{"reinforcement", `wire|mat|wire mat|roll of mesh|roll wire|wire mesh sheets|road mesh|WWF|W.W.F.|mesh rolls|rolled wire|wire fabric|welded wire|mesh on chairs|sheets of wire`, "reinforcement=mesh"},
	{"reinforcement", `6x6 10/10|6-6-10-10 wire|6x6-10/10 WWF|6-6-10/10|6x6 10x10 wire mesh|6 x 6 - 10 x 10|66-1010 wire`, "reinforcement=mesh bar=6x6-10/10"},
	{"reinforcement", `6x6 W1.4xW1.4|6x6-W1.4/W1.4 WWR|6x6 w1.4 x w1.4 mesh`, "reinforcement=mesh bar~6x6"},
	{"reinforcement", `SL72|SL72 mesh|sl72 sheets`, "reinforcement=mesh bar~sl72"},
	{"reinforcement", `10 ga wire|10 gauge mesh`, "reinforcement=mesh bar~10 ga"},
	{"reinforcement", `fiber in the mix|the hairy mix (fiber)|fibers in the mud|fiber 1.5 lb|1.5# / yd fiber|macro fiber 4 lb/yd|polypropylene fibers|fibre 3 lbs|synthetic fiber|fiber mix only|poly fibers|fiber, no steel|no wire, fiber instead|nothing but fiber`, "reinforcement=fiber"},
	{"reinforcement", `wire, fiber|wire and fiber|fibers AND wire mesh|mesh sheets plus fibers|mesh/fiber|WWF w/ fiber|fiber & wire|mesh with fiber|malla y fibra|wire + 1.5 lb fiber`, "reinforcement=mesh+fiber"},
	{"reinforcement", `#4 @ 18 + fiber|fiber and #4 18" oc|#4 18" oc, fiber|1/2" bars 18" both ways plus fibers`, "reinforcement=rebar+fiber bar=#4 bar_spacing_in=18"},
	{"reinforcement", `mesh + #4 @ 18|#4 @ 18 & wire|wire with #4 bars 18" oc`, "reinforcement=mesh+rebar bar=#4 bar_spacing_in=18"},
	{"reinforcement", `nothing in it|no steel in this one|none|NONE|plain|no wire|no rebar or mesh|no reinforcing|no iron|without steel|just concrete|straight mud|unreinforced|no rebar/mesh|sin malla|nothing`, "reinforcement=none"},
	{"reinforcement", `ask|per plan|see dwg|mesh or fiber|?|TBD|rebar or wire|whatever was on the truck|4|owner did it`, "!"},
	// joints
	{"joint_spacing_ft", `10|10 by 10|10X10|9 x 10|10 ft squares|10'-0"|every 10|10' squares|10 o.c.|10' panels|10 feet|10ft oc|ten feet|10' +/-|10 ft both ways|10 x 8 panels|10' on center each way|120"|max 10'|10' max spacing|10 foot grid|10' c-c|lines every 10'`, "joint_spacing_ft=10"},
	{"joint_spacing_ft", `sawed next morning, 10' apart|10' - Ray sawed them|sawed every 10 ft|saw 10x10|saw cut 10' oc|10' saw cuts 1" deep|saw @ 10', 1/4 depth|cut at 10 the next day|sawn 10'|1/4 saw @ 10|saw 10' after 6 hrs|10 ft saw|wet saw 10'|saw cut 9x10`, "joint_spacing_ft=10 joint_cut=saw"},
	{"joint_spacing_ft", `tooled in every 5 ft|5', with the hand groover|hand tooled 5'|grooved every 5'|5' tooled|tool joints 5 oc|tooled 5x5|5x4 tooled|5' w/ groover|hand grooved 5'|tooled by Sal, 5 ft`, "joint_spacing_ft=5 joint_cut=tooled"},
	{"joint_spacing_ft", `soff-cut 8'|soft cut 8'|early entry 8' oc|green cut every 8 ft`, "joint_spacing_ft=8 joint_cut=early-entry"},
	{"joint_spacing_ft", `2.4 m|2.4m|240 cm`, "joint_spacing_ft=7.87402"},
	{"joint_spacing_ft", `by engr|BY ENGR|see plan|per plan|where needed|at the corners|ask Lou|8 or 10|varies|?x?|as drawn`, "!"},
	{"joint_cut", `sawed|saw|SAWCUT|saw cut|cut|sawn|saw cut next day|wet saw`, "joint_cut=saw"},
	{"joint_cut", `tooled|hand|tool|grooved|hand tooled|groover|tooled by hand`, "joint_cut=tooled"},
	{"joint_cut", `early entry|soff cut|soft-cut|green cut`, "joint_cut=early-entry"},
	// weather
	{"air_temp_f", `59 and muggy|59, clear|clear, 59|breezy, 59|59 degrees|muggy 59|59F|59 F|about 59|59ish|~59|59 at noon|59 at 7 am|59, rain after 3 pm|59 - windy|59/|59 and raining|sunny 59|cold, 59|59°|59 deg|59 °F sunny|59, froze overnight|15C|15 C|15 °C|15C sunny|59 F, rained 1/2"|59 in the shade|59, 7:30 start|59, felt fine|59 (cloudy)|low 59|59.0|Fifty-nine, 59`, "air_temp_f=59"},
	{"air_temp_f", `62, wind 12 mph|62 w/ 12 mph wind|62, winds 10-14 mph|62 wind 12|62F wind at 12 mph|62, wind NW 12 mph|wind 12 mph, 62`, "air_temp_f=62 wind_mph=12"},
	{"air_temp_f", `88, 40% humidity|88 RH 40%|88, hum 40`, "air_temp_f=88 humidity_pct=40"},
	{"air_temp_f", `88 air / 79 conc|88 air, 79 concrete|air 88 mix 79|88, mud 79`, "air_temp_f=88 concrete_temp_f=79"},
	{"air_temp_f", `hot|jacket|in the 90s|90's|shorts weather|low 80s|frost|HOT HOT|60s|see ticket|ask|85/62|freezing`, "!"},
	{"air_temp_f", `75-81|75 to 81|75 - 81F|78|75-81, clear`, "air_temp_f=78"},
	// the crew's time
	{"labor_hours", `31:30|31.5|31 1/2|31½|31.5 hrs|31.5 mh|31.5 man-hr|31 1/2 hours`, "labor_hours=31.5"},
	{"labor_hours", `4 men, 7.5 hrs each|4 of them 7.5 hours apiece|4X7.5|4 guys x 7.5|4 @ 7.5|4 guys 7 1/2 hrs each|4 men 7.5|4 men at 7 1/2 hours|4 guys for 7.5 hrs|four men, 7.5 hours each|4 hands x 7.5|4 guys - 7.5 hrs|4x7:30|7.5 hrs x 4 men|7 1/2 hours each, 4 men|7.5 hrs ea x 4 guys|4 fellas 7.5 hrs apiece|crew of 4 x 7.5|4 of us, 7.5 hrs|4 workers @ 7.5 hrs ea.|4 men worked 7.5 hrs`, "crew_size=4 labor_hours=30"},
	{"labor_hours", `4 men x 6 + 1 man x 6|24 + 6|3x8 + 6`, "labor_hours=30"},
	{"labor_hours", `2 men all day|all day|ask RLD|Boyd has the sheet|see sheet|?? |half a day|4 guys|two days|1 day|on the other sheet|till dark`, "!"},
	// yards
	{"delivered_yd", `10.5|10 1/2|10-1/2|10½|10.5 yds|9 + 1.5|9+1.5|9 & 1.5|10.5 CY|ten and a half|10.5y|about 10.5|10 1/2 yds total|10.50|10.5 yards|9 yds + 1 1/2 yds|9 then 1.5`, "delivered_yd=10.5"},
	{"delivered_yd", `10 less 1/2 back|10, 1/2 came back|10 - 1/2 back|10 (1/2 back)|10 w/ half a yard left|10 minus 1/2 returned|10 yds, 1/2 yd went back`, "delivered_yd=10 leftover_yd=0.5"},
	{"delivered_yd", `one full + a short|2 loads|2 trucks|full load|see ticket|ask plant|10?5|lots|one load|short load`, "!"},
	{"leftover_yd", `0|none|NONE|not a bit|nothing|.00|zero|no|nada|zip|used it all|0 yds|not any`, "leftover_yd=0"},
	{"leftover_yd", `half|half a yard|1/2 yd|.5|1/2|½ yd|a half|1/2 yard|about half a yard|0.5 yd back|1/2 yd left|half yard`, "leftover_yd=0.5"},
	{"leftover_yd", `3/4|3/4 yd|three quarters|.75|¾|3/4 yard left over`, "leftover_yd=0.75"},
	{"leftover_yd", `quarter yard|1/4|a quarter|.25 yd|1/4 yd`, "leftover_yd=0.25"},
	{"leftover_yd", `PART BARROW|a barrow|some|went in the neighbor's post holes|couple of buckets|a bit|one wheelbarrow|filled a hole|a few shovels|dumped it`, "!"},
}

// TestWritings reads cells in the ways of many hands.
func TestWritings(t *testing.T) {
	for _, c := range slices.Concat(writings, moreWritings, shortWritings) {
		for _, text := range strings.Split(c.cells, "|") {
			got := roundSaid(saidBy(t, c.column, c.column, text))
			want := c.want
			if head, bar, found := strings.Cut(want, " bar~"); found {
				if !strings.HasPrefix(got, head+" bar=") || !strings.Contains(strings.ToLower(got), bar) {
					t.Errorf("%s %q: %s, want %s", c.column, text, got, want)
				}
				continue
			}
			if c.column == "labor_hours" && !strings.Contains(want, "crew_size") && !strings.Contains(text, ":") {
				_, got, _ = strings.Cut(" "+got, "labor_hours")
				got = "labor_hours" + got
				if want == "!" {
					got = saidBy(t, c.column, c.column, text)
				}
			}
			if got != want && !(want == "!" && (got == "!" || got == "")) {
				t.Errorf("%s %q: %s, want %s", c.column, text, got, want)
			}
		}
	}
}

// TestWritingsComeBack reads what was read of them once more, as an export writes
// it: each value of a record's column means itself.
func TestWritingsComeBack(t *testing.T) {
	for _, c := range slices.Concat(writings, moreWritings, shortWritings) {
		var said []string
		for _, word := range strings.Fields(c.want) {
			if n := len(said); n > 0 && !strings.ContainsAny(word, "=~") {
				said[n-1] += " " + word // a term of two words
			} else {
				said = append(said, word)
			}
		}
		for _, x := range said {
			name, value, found := strings.Cut(x, "=")
			if !found || name == "bar" || strings.Contains(value, " bar~") || strings.HasPrefix(c.column, "visits.") {
				continue
			}
			if got := roundSaid(saidBy(t, name, name, value)); got != x {
				t.Errorf("%s %q comes back as %s", name, value, got)
			}
		}
	}
}
