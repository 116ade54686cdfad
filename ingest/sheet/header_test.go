package sheet

import (
	"strings"
	"testing"

	"pourback/ingest/record"
)

func TestTableByName(t *testing.T) {
	for name, want := range map[string]*record.Table{
		"placements-2025": record.Placements, "Jobs 2025": record.Jobs, "jobs_2024_final": record.Jobs, "Job Log": record.Placements, "job costs": record.Costs, "JobLog2025": record.Placements,
		"our visits": record.Visits, "Callbacks": record.Visits, "tickets 6-2025": record.Loads, "time sheet": record.Labors, "delays": record.Delays, "Sheet1": nil, "jobsite": nil, "summary": nil,
	} {
		if got := tableNamed(name); got != want {
			t.Errorf("%q is taken for %v", name, got)
		}
	}
}

func TestTableByColumns(t *testing.T) {
	for _, c := range []struct{ name, header, want string }{
		{"book1.csv", good, "placements"}, {"jobs.csv", good + ",contract_price,site", "placements"}, {"jobs.csv", "job_no", "jobs"}, {"jobs.csv", "Job No.,Phone,Colour", "jobs"},
		{"book1.csv", "job_no,site,contract_price", "jobs"}, {"book1.csv", "job_no,item,actual_amount", "costs"}, {"book1.csv", "job,ticket,yards", "loads"},
		{"book1.csv", "job,date,task,hours", "labor"}, {"book1.csv", "job,cause,minutes", "delays"}, {"book1.csv", "job,date,why,finding", "visits"},
		{"loads.csv", "job,date,task,hours", "labor"},
	} {
		f, err := open(c.name, c.header+"\n", Options{})
		if err != nil {
			t.Errorf("%s %s: %v", c.name, c.header, err)
		} else if got := f.Tables[0].Records.Name; got != c.want {
			t.Errorf("%s %s: taken for %s", c.name, c.header, got)
		}
	}
	for name, header := range map[string]string{"book1.csv": "job_no,phone,colour", "placements.csv": "job_no,placed_on", "book2.csv": "a,b,c"} {
		if r := refused(t, name, header+"\nx,y,z\n", Options{}); r.Code != codeNoTable {
			t.Errorf("%s: %v", header, r)
		}
	}
	r := refused(t, "placements.csv", "job_no,placed_on,colour\n", Options{})
	if want := "placements.csv: nearest to placements, but without the columns use, area_sqft, thickness_in; add what is missing; a table of placements needs job_no, placed_on, use, area_sqft, thickness_in"; r.Error() != want {
		t.Errorf("refused with %q", r.Error())
	}
}

// Factors by NIST SP 811, appendix B.
func TestHeadings(t *testing.T) {
	for _, c := range []struct {
		table          *record.Table
		heading, means string
		cell, want     string
	}{
		{record.Placements, "AREA SQFT", "area_sqft", "420", "420"}, {record.Placements, "area-sqft", "area_sqft", "420", "420"}, {record.Placements, "Square Feet", "area_sqft", "420", "420"}, {record.Placements, "areaSqft", "area_sqft", "420", "420"}, {record.Placements, "Job #", "job_no", "J-1", "J-1"}, {record.Placements, "Job No.", "job_no", "J-1", "J-1"}, {record.Placements, "Pour Date *", "placed_on", "2025-06-03", "2025-06-03"},
		{record.Placements, "area_m2", "area_sqft", "10", "107.639104167"}, {record.Placements, "Area (m²)", "area_sqft", "10", "107.639104167"}, {record.Placements, "area in square metres", "area_sqft", "10", "107.639104167"},
		{record.Placements, "Thickness (mm)", "thickness_in", "101.6", "4"}, {record.Placements, "thickness in mm", "thickness_in", "101.6", "4"}, {record.Placements, "Depth [cm]", "thickness_in", "10.16", "4"},
		{record.Placements, "delivered m3", "delivered_yd", "0.764554857984", "1"}, {record.Placements, "air temp °C", "air_temp_f", "29", "84.2"}, {record.Placements, "Air Temp (deg C)", "air_temp_f", "29", "84.2"}, {record.Placements, "wind_kmh", "wind_mph", "16.09344", "10"}, {record.Placements, "Wind (km/h)", "wind_mph", "16.09344", "10"},
		{record.Placements, "labor hours", "labor_hours", "12", "12"}, {record.Placements, "Delay (h)", "delay_min", "1.5", "90"}, {record.Placements, "Humidity (%)", "humidity_pct", "65", "65"}, {record.Placements, "% humidity", "humidity_pct", "65", "65"}, {record.Placements, "Contract price ($)", "contract_price", "100", "100.00"}, {record.Placements, "price USD", "contract_price", "100", "100.00"},
		{record.Placements, "Pour date (dd/mm/yyyy)", "placed_on", "3/6/2025", "2025-06-03"}, {record.Placements, "Retarder (y/n)", "retarder", "y", "yes"}, {record.Placements, "thickness", "thickness_in", "4", "4"}, {record.Placements, "mix (MPa)", "mix_psi", "27.579029172673444", "4000"},
		{record.Loads, "Concrete Temp (C)", "concrete_temp_f", "20", "68"}, {record.Visits, "crack width (mm)", "width_in", "2.54", "0.1"}, {record.Labors, "Rate per hour", "rate", "46", "46.00"},
	} {
		m, ok := newHeadings(c.table, record.Dictionary{}).find(headingWords(c.heading))
		if !ok || c.table.Columns[m.column].Name != c.means {
			t.Errorf("%q is not understood as %s", c.heading, c.means)
			continue
		}
		col := newColumn(c.table, m.column, record.Dictionary{})
		if m.unit != "" {
			col.in(m.unit)
		}
		if m.calendar != nil {
			col.cal = *m.calendar
		}
		fields := c.table.New().Fields()
		r := cellReader{layout: &layout{habit: pointFile}}
		r.read(&col, fields[m.column], c.cell)
		if got := record.FieldText(fields[m.column]); got != c.want || len(r.problems) > 0 {
			t.Errorf("%s of %q: %s, want %s %v", c.heading, c.cell, got, c.want, r.problems)
		}
	}
	for _, heading := range []string{"labor", "saw delays", "phone", "planned", "", "m2", "colour (mm)"} {
		if m, ok := newHeadings(record.Placements, record.Dictionary{}).find(headingWords(heading)); ok {
			t.Errorf("%q is taken for %s", heading, record.Placements.Columns[m.column].Name)
		}
	}
}

func TestDictionary(t *testing.T) {
	d := record.Dictionary{Columns: map[string]string{"Slab Size": "area_sqft"}, Words: map[string]map[string]string{"use": {"RV pad": "driveway"}, "method": {"georgia buggy": "buggy"}}}
	g := read(t, "x.csv", lines("job_no,placed_on,use,Slab size (m2),thickness_in,method", "J-1,2025-06-03,rv pad,10,4,Georgia Buggy"), Options{Dictionary: d})
	equal(t, "use", g.column("use"), "driveway")
	equal(t, "method", g.column("method"), "buggy")
	equal(t, "area", g.column("area_sqft"), "107.639104167")
	equal(t, "said", g.said)
}

// TestHeadingsBelowOtherRows finds the headings where people put them.
func TestHeadingsBelowOtherRows(t *testing.T) {
	for name, c := range map[string]struct {
		content string
		codes   string
		rows    int
		first   int
	}{
		"plain":                 {lines(good, "J-1,2025-06-03,patio,420,4"), "", 1, 2},
		"title":                 {lines("Saltgrass Flatwork,,,,", "as of June,,,,", "", good, "J-1,2025-06-03,patio,420,4"), "title-row title-row", 1, 5},
		"groups above names":    {lines(",,,Slab,,Concrete,", "job_no,placed_on,use,area_sqft,thickness_in,planned yd,delivered yd", "J-1,2025-06-03,patio,420,4,5.25,5.5"), "title-row", 1, 3},
		"groups and their ends": {lines("job_no,placed_on,use,area_sqft,thickness_in,planned_yd,delivered_yd,Callback,,", ",,,,,,,on,kind,cost", "J-1,2025-06-03,patio,420,4,5.25,5.5,,,"), "", 1, 3},
		"merged groups":         {lines("Job,,Slab,,,Air,", "No,Pour date,Use,Area sqft,Thickness in,temp f,note", "J-1,2025-06-03,patio,420,4,80,x"), "", 1, 3},
		"units below":           {lines("job_no,placed_on,use,area,thickness", ",,,m²,mm", "J-1,2025-06-03,patio,39,101.6"), "", 1, 3},
		"blank rows between":    {good + strings.Repeat("\n", 51) + "J-1,2025-06-03,patio,420,4" + strings.Repeat("\n,,,,", 50) + "\nJ-2,2025-06-04,patio,420,4\n", "", 2, 52},
		"header again":          {lines(good, "J-1,2025-06-03,patio,420,4", "Job No,Placed On,Use,Area Sqft,Thickness In", "J-2,2025-06-03,patio,420,4"), "heading-again", 2, 2},
		"totals":                {lines(good, "J-1,2025-06-03,patio,420,4", ",,,,", "TOTAL:,,,420,"), "totals-row", 1, 2},
		"totals beside nothing": {lines(good+",", "J-1,2025-06-03,patio,420,4,", ",,,420,,Grand total"), "totals-row column-without-heading", 1, 2},
		"sep line":              {"sep=;\n" + strings.ReplaceAll(lines(good, "J-1,2025-06-03,patio,420,4"), ",", ";"), "", 1, 3},
		"header alone":          {good, "no-rows", 0, 0},
		"quoted header":         {lines(`"job_no","placed_on","use","area_sqft","thickness_in"`, `"J-1","2025-06-03","patio","420","4"`), "", 1, 2},
	} {
		g := read(t, "book.csv", c.content, Options{})
		if codes := strings.Join(g.codes(), " "); codes != c.codes {
			t.Errorf("%s: said %q, want %q", name, codes, c.codes)
		}
		if len(g.numbers) != c.rows || len(g.bad) > 0 || c.rows > 0 && g.numbers[0] != c.first {
			t.Errorf("%s: rows %v, bad %v, %v", name, g.numbers, g.bad, g.said)
		}
	}
	g := read(t, "book.csv", lines("job_no,placed_on,use,area,thickness", ",,,m²,mm", "J-1,2025-06-03,patio,39,101.6"), Options{})
	equal(t, "thickness", g.column("thickness_in"), "4")
	equal(t, "header", g.Header, "job_no", "placed_on", "use", "area (m²)", "thickness (mm)")
	g = read(t, "book.csv", lines("job_no,placed_on,use,area_sqft,thickness_in,Callback,,", ",,,,,on,kind,cost", "J-1,2025-06-03,patio,420,4,2025-07-01,crack,90"), Options{})
	equal(t, "callback", append(g.column("callback_on"), g.column("callback_cost")...), "2025-07-01", "90.00")
}

// A job may be called almost anything without being taken for a total.
func TestTotalsAreNoJobs(t *testing.T) {
	g := read(t, "jobs.csv", lines("job_no,site,contract_price", "Totten yard,Lot 1,100", "Total,Lot 2,100", "Sum,,100", ",,300"), Options{})
	equal(t, "jobs", g.column("job_no"), "Totten yard", "Total")
	equal(t, "left out", g.codes(), codeTotals, codeTotals)
	g = read(t, "placements.csv", lines(good+",remarks", "Total for June,,,420,,", ",,,420,,Hall of the school"), Options{})
	equal(t, "left out", g.codes(), codeTotals, codeRemarkRow, codeNoRows)
	g = read(t, "placements.csv", lines(good, ",2025-06-03,patio,420,4"), Options{})
	equal(t, "a row without its key is set aside, not left out", g.bad, 2)
}

func TestColumnsTwice(t *testing.T) {
	for _, more := range []string{",area_sqft", ",AREA SQFT", ",area_m2", ",square feet"} {
		if r := refused(t, "x.csv", lines(good+more, "J-1,2025-06-03,patio,420,4,420"), Options{}); r.Code != codeTwice {
			t.Errorf("%s: %v", more, r)
		}
	}
	g := read(t, "x.csv", lines(good+",phone,phone", "J-1,2025-06-03,patio,420,4,1,2"), Options{})
	equal(t, "kept out", g.Unknown, "phone", "phone")
}

func TestGivenColumns(t *testing.T) {
	g := read(t, "x.csv", lines(good+",colour", "J-1,2025-06-03,patio,420,4,grey"), Options{})
	given := 0
	for _, yes := range g.Given {
		if yes {
			given++
		}
	}
	if given != 5 || !g.Given[0] {
		t.Errorf("given: %v", g.Given)
	}
	equal(t, "unknown", g.Unknown, "colour")
	equal(t, "default", g.column("placement"), "A")
}
