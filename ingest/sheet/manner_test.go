package sheet

import (
	"fmt"
	"strings"
	"testing"

	"pourback/ingest/record"
)

// said is what a cell of a job log, below a heading that is sure, gives for the
// columns of its record: "column=value" in the order of the columns, and "!" where
// the cell could not be read.
func saidBy(t *testing.T, column, heading, text string) string {
	t.Helper()
	table := record.Placements
	if name, own, dotted := strings.Cut(column, "."); dotted {
		table, column = record.TableNamed(name), own
	}
	n := len(table.Columns)
	l := &layout{table: table, own: make([]bool, n), given: make([]bool, n), habit: habit{mark: '.'}, today: record.DateOf(2026, 12, 31), loose: true, why: "callback"}
	c := &fileColumn{heading: heading, senses: sensesOf(heading, ""), profile: newProfile(nil, l.habit, calendar{})}
	u := &insight{table: table, cols: []*fileColumn{c}, cal: calendar{years: []int{2025}, epoch: epoch1900}, named: []int{2025}}
	l.take(u, 0, pick{hypothesis: &hypothesis{name: column}, sure: true}, &Options{})
	r := cellReader{layout: l}
	rec, fields := l.newRecord()
	r.begin(fields)
	r.read(&l.columns[0], fieldOf(fields, &l.columns[0]), text)
	r.derive(rec)
	var said []string
	if r.left || len(r.problems) > 0 && r.problems[0].Severity == record.Error {
		said = append(said, "!")
	}
	for i, f := range fields {
		if v := record.FieldText(f); v != "" && !(table.Columns[i].Default == v) && table.Columns[i].Name != "why" {
			said = append(said, table.Columns[i].Name+"="+v)
		}
	}
	return strings.Join(said, " ")
}

// TestCellsAsPeopleWriteThem reads what job logs hold, each way of writing in
// common practice, no published source.
func TestCellsAsPeopleWriteThem(t *testing.T) {
	for _, c := range []struct{ column, cells, want string }{
		{"size", `24x40x4|24 x 40 x 4|24'x40'x4"|24' x 40' @ 4"|24 X 40 @ 4|24ft x 40ft x 4in|24 by 40 by 4|24*40*4|24 x 40 - 4"|24x40, 4"|24x40 4"|24' X 40' X 4"|24' by 40' 4" thick|24x40x4" slab|24x40 (4")|960 sf @ 4"|960sf 4in|960 sq ft x 4"|960 sq. ft. @ 4`, "area_sqft=960 thickness_in=4"},
		{"size", `24x40|24' x 40'|24'-0" x 40'-0"|24 ft by 40 ft|12x40 + 12x40|2 @ 12x40|(2) 12x40|960 sf|960 sq ft`, "area_sqft=960"},
		{"size", `12'6" x 20' x 4"|12'-6" x 20 x 4|12.5x20x4|12 1/2 x 20 x 4|12½ x 20 @ 4`, "area_sqft=250 thickness_in=4"},
		{"size", `6m x 4m x 10cm|6 m x 4 m x 100 mm`, "area_sqft=258.33385 thickness_in=3.93701"},
		{"size", `see drawing|L shaped|?x?|various|per plan`, "!"},
		{"area_sqft", `480|480 sf|480sf|480 sq ft|480 ft2|480 sqft|480 s.f.|~480|480+/-|about 480|24x20|24' x 20'|12x40|480 ft²|400+80|480 square feet`, "area_sqft=480"},
		{"thickness_in", `4|4"|4''|4 in|4in|4 inch|4 inches|4.0|4”|4 in.|4" thick|4" slab|4" nominal`, "thickness_in=4"},
		{"thickness_in", `4.5|4 1/2|4-1/2"|4½"|4 1/2 in|4½|4.5"|4-1/2|4 ½"`, "thickness_in=4.5"},
		{"thickness_in", `4" w/ thick edge|4 w/ thickened edge|4" thickened edge|4" + edge|4" w/ turndown`, "thickness_in=4"},
		{"thickness_in", `4" w/ 8" edge|4" w/ 8" thick edge|4 w/8" turndown|4" with 8" edges|4", 8" edge|4/8 edge|4" + 8" edge`, "thickness_in=4 edge_in=8"},
		{"thickness_in", `4-6|4-6"|4" to 6"|4 to 6`, "thickness_in=5"},
		{"thickness_in", `10 cm|100 mm|100mm`, "thickness_in=3.93701"},
		{"delivered_yd", `9.5|9 1/2|9.5 yds|9.5y|9.5 CY|9½|9.5 yd|9.5 yards|9 + .5|9+0.5|5 + 4.5|~9.5|9.5 cu yd|9.5 yds.|9 1/2 yds|9-1/2|9.5yd3|9.5 cubic yards|9.5 yd³|9,5 yd|9.5 yardas`, "delivered_yd=9.5"},
		{"delivered_yd", `a little|see ticket|lots|call plant|2 loads|full truck`, "!"},
		{"leftover_yd", `0|none|0 yd|nothing|zero|0.0|nada|no`, "leftover_yd=0"},
		{"leftover_yd", `1/2|.5|0.5 yd|½|½ yd|1/2 yd|half yard|half a yard|half|~1/2`, "leftover_yd=0.5"},
		{"leftover_yd", `1/4|¼ yd|quarter yard|quarter yd|a quarter yard`, "leftover_yd=0.25"},
		{"leftover_yd", `some|a bit|a little|bit|wheelbarrow full|couple barrows|un poco`, "!"},
		{"reinforcement", `mesh|WWM|wwf|wire|wire mesh|welded wire|W.W.M.|remesh|malla|roll mesh|mesh sheets|wire fabric`, "reinforcement=mesh"},
		{"reinforcement", `fiber|fibermesh|fiber mesh|fibre|fibers|fibra|poly fiber|micro fiber|fiber only|1.5 lb fiber`, "reinforcement=fiber"},
		{"reinforcement", `none|plain|no steel|no reinf|nothing|unreinforced|no|sin refuerzo|no rebar`, "reinforcement=none"},
		{"reinforcement", `rebar|bar|bars|steel|varilla|re-bar`, "reinforcement=rebar"},
		{"reinforcement", `#4 @ 18 oc|#4 @ 18" oc|#4 @ 18|#4@18|#4 18 oc|#4's @ 18|#4 rebar @ 18" o.c.|1/2" rebar 18" oc|no. 4 @ 18 in|#4 bar 18" on center|#4 @ 18" ew|#4 @ 18" o.c.e.w.|#4's at 18|4 bar @ 18|#4 18" centers|#4 x 18" oc|rebar #4 @ 18"|#4 @ 1.5' oc|#4 @ 18" grid|#4-18" oc|1/2 @ 18 oc|No.4 bars 18" c/c|#4 every 18"|varilla #4 @ 18|rebar 1/2" @ 18"|#4 @ 18" both ways|#4 (18" oc)|18" #4`, "reinforcement=rebar bar=#4 bar_spacing_in=18"},
		{"reinforcement", `#3 @ 24|3/8" @ 24 oc|3/8 rebar 2' oc|#3 @ 2'|#3 24"|#3 bars 2 ft oc`, "reinforcement=rebar bar=#3 bar_spacing_in=24"},
		{"reinforcement", `#4|#4 rebar|#4 bar|#4s|no 4|1/2" rebar|number 4 bar|1/2 bar`, "reinforcement=rebar bar=#4"},
		{"reinforcement", `6x6 wwm|6x6 wire|6x6 mesh|6 x 6 WWM`, "reinforcement=mesh bar=6x6"},
		{"reinforcement", `mesh + fiber|mesh & fiber|wire/fiber|fiber and mesh|mesh w/ fiber`, "reinforcement=mesh+fiber"},
		{"reinforcement", `fiber + #4 @ 18|#4 @ 18 oc w/ fiber|#4 @ 18" & fiber`, "reinforcement=rebar+fiber bar=#4 bar_spacing_in=18"},
		{"reinforcement", `ask Bob|per plan`, "!"},
		{"joint_spacing_ft", `8|8'|8 ft|8x8|8' x 8'|8x6|every 8|every 8'|8' o.c.|8 oc|8' OC|8 ft o.c.|8' each way|8'x8' panels|8ft squares|8' max|@ 8'|at 8'|8' centers|8 x 8 grid|8' ew|~8'|cada 8|8 foot|8.0|96"`, "joint_spacing_ft=8"},
		{"joint_spacing_ft", `saw 8'|sawcut 8'|saw cut @ 8'|8' saw|saw 8x8|sawn 8' oc|8' sawcuts|cut 8'|saw-cut every 8 ft|SC 8'|saw @ 8`, "joint_spacing_ft=8 joint_cut=saw"},
		{"joint_spacing_ft", `tooled 5'|5' tooled|hand tooled 5'|tool 5x5|tooled @ 5'|hand tool 5|grooved 5'`, "joint_spacing_ft=5 joint_cut=tooled"},
		{"joint_spacing_ft", `none|no joints`, "joint_cut=none"},
		{"joint_spacing_ft", `saw|sawcut`, "joint_cut=saw"},
		{"joint_spacing_ft", `as needed|per plan|ask|by eye|at corners`, "!"},
		{"labor_hours", `28|28 hrs|28h|28 hours|28.0|4 guys x 7|4x7|4 x 7 hrs|4 men 7 hrs|4 men x 7 hrs|4 men @ 7 hrs|4 guys 7 hours|4 @ 7|4 guys, 7 hrs each|4 men at 7|28 man hrs|28 mh|14 + 14|4 hombres x 7 hrs|4 people x 7h|4-man crew 7 hrs|4 guys @ 7 ea|4 guys for 7 hrs|4 man x 7|28 manhours|28 man-hours|4*7|7 hrs x 4 guys|7 hrs x 4 men`, "labor_hours=28"},
		{"labor_hours", `ask crew|all day|two days|see sheet`, "!"},
		{"air_temp_f", `88|88F|88 F|88°|88 °F|88 deg|88 degrees|~88|about 88|88ish|85-91|88 f|88º|88 deg F|high 88|88 hot|88+|low 88|88 °`, "air_temp_f=88"},
		{"air_temp_f", `HOT|hot|cold|nice|brr|warm`, "!"},
		{"contract_price", `8200|$8,200|8,200.00|$8200.00|8.2k|8200 even|$ 8200|8,200 usd|$8,200.-|8.2 K`, "contract_price=8200.00"},
		{"contract_price", `8200 + 450 CO|8200+450 CO|8200 + CO 450|8,200 + 450 extra|$8,200 + $450 CO|8200 (+450 CO)|8200 plus 450 change order|8200 + 450 add|8200 CO 450|8200 w/ 450 CO|8200 & 450 CO`, "contract_price=8200.00 change_orders=450.00"},
		{"contract_price", `8200 - 200 credit|8200 less 200|8200 -200 discount`, "contract_price=8200.00 change_orders=-200.00"},
		{"contract_price", `T&M|tbd later|ask|free`, "!"},
		{"actual_cost", `5,010|$5,010.00|5010.00|4,600 + 410|$ 5010|5010 total|~5010|5.01k`, "actual_cost=5010.00"},
		{"callback_on", `no|N|none|-|no callback|nope|n/a|never|ok|0`, ""},
		{"callback_on", `crack 8/12/25|8/12/25 crack|8/12/25 - crack|8/12/2025 cracked at corner|cracked 8/12/25|crack - 8/12/25|8/12/25: cracks|yes, crack 8/12/25|Y 8/12/25 crack|crack on 8/12/25|crack (8/12/25)|Aug 12 2025 crack|crack 2025-08-12|hairline 8/12/25|crack, 12-Aug-25|cracking @ joint 8/12/25|crack 8-12-25|Aug 12, 2025 - crack`, "callback_on=2025-08-12 callback_kind=crack"},
		{"callback_on", `8/12/25 spalling|scaling 8/12/25|flaking - 8/12/25|pop outs 8/12/25|surface scaling 8/12/25`, "callback_on=2025-08-12 callback_kind=scaling"},
		{"callback_on", `settled 8/12/25|8/12/25 sunk|sinking 8/12/25|8/12/25 dropped 1/2"`, "callback_on=2025-08-12 callback_kind=settlement"},
		{"callback_on", `puddle 8/12/25|water standing 8/12/25|8/12/25 birdbath|holds water 8/12/25|ponding 8/12/25`, "callback_on=2025-08-12 callback_kind=ponding"},
		{"callback_on", `8/12/25|8/12/2025|Aug 12, 2025`, "callback_on=2025-08-12"},
		{"callback_on", `yes|Y|called`, "!"},
		{"placed_on", `6/3/25|6/3/2025|6-3-25|06/03/2025|2025-06-03|Jun 3, 2025|June 3 2025|3-Jun-25|Tue 6/3/25|Tuesday, June 3, 2025|3 June 2025|6/3/'25|Jun. 3, 2025|June 3rd, 2025|6/3|Jun 3|3 de junio de 2025|martes 3 jun 2025|2025/06/03|Tue. 6/3/25|20250603`, "placed_on=2025-06-03"},
		{"placed_on", `mid month|early June|June|?|tbd|rained out|2025`, "!"},
		{"use", `driveway|DW|Drive|drvwy|Driveway - front|new driveway|driveway ext.|Drive Way|d/w|dwy|driveway replacement|conc driveway|driveway (rear)|DRIVEWAY|entrada`, "use=driveway"},
		{"use", `walk|sidewalk|front walk|swalk|s/w|walkway|side walk|SW|entry walk|garden path|banqueta|public walk|city sidewalk|walk to shed`, "use=walkway"},
		{"use", `patio|back patio|rear patio|patio slab|covered patio|patio w/ steps|stamped patio|patio ext|Patio #2`, "use=patio"},
		{"use", `garage|garage slab|garage floor|gar slab|garage fl|gar. flr|detached garage|2 car garage`, "use=garage slab"},
		{"use", `shed|shed pad|shed slab|shed floor|shed base|storage shed pad|garden shed`, "use=shed slab"},
		{"use", `apron|drive approach|approach|driveway apron|street apron|appr`, "use=apron"},
		{"use", `steps|front steps|stoop|stairs|porch steps`, "use=steps"},
		{"use", `curb|curbing|curb & gutter|C&G|kerb`, "use=curb"},
		{"method", `chute|tailgate|off truck|off the truck|direct|truck|from truck|right off the truck|straight off the truck|chuted|truck chute`, "method=chute"},
		{"method", `pump|line pump|boom|boom pump|pumped|pumper|trailer pump|bomba|pump truck`, "method=pump"},
		{"method", `buggy|power buggy|buggies|georgia buggy|buggied`, "method=buggy"},
		{"method", `wheelbarrow|barrow|wheel barrow|wheelbarrows|W/B|wb|hand wheeled|wheeled|carretilla|barrows`, "method=barrow"},
		{"crew_size", `4|4 men|4 guys|4 ppl|crew of 4`, "crew_size=4"},
		{"visits.finding", `corner crack|hairline cracks|crack across slab|cracked`, "finding=crack"},
		{"labor.task", `place|pour|pouring|pour day|placing|poured`, "task=place"},
		{"labor.task", `form|forms|set forms|forming|form up|building forms`, "task=form"},
		{"labor.task", `saw|saw cutting|sawcut|cutting joints|saw cut joints`, "task=joint"},
		{"labor.task", `strip|strip forms|stripping|wreck forms|clean up`, "task=strip"},
		{"labor.task", `rebar|tie steel|tying rebar|mesh`, "task=reinforce"},
	} {
		for _, text := range strings.Split(c.cells, "|") {
			got := roundSaid(saidBy(t, c.column, c.column, text))
			if c.column == "labor_hours" {
				got = strings.TrimPrefix(got, "crew_size=4 ")
			}
			if c.column == "visits.finding" {
				got, _, _ = strings.Cut(got, " note=")
			}
			if got != c.want && !(strings.HasPrefix(c.want, "!") && got == "!") {
				t.Errorf("%s %q: %s, want %s", c.column, text, got, c.want)
			}
		}
	}
}

// roundSaid rounds numbers to five decimals.
func roundSaid(s string) string {
	words := strings.Fields(s)
	for i, w := range words {
		name, value, found := strings.Cut(w, "=")
		var v float64
		if _, err := fmt.Sscanf(value, "%g", &v); found && err == nil && strings.Count(value, ".") == 1 && len(value) > 8 && !strings.Contains(value, "-") {
			words[i] = fmt.Sprintf("%s=%.5f", name, v)
		}
	}
	return strings.Join(words, " ")
}
