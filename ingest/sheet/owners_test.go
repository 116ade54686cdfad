package sheet

import (
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// Logs of this file are invented; how owners head their columns is common
// practice, no published source.

// TestThreeRowsOfHeadings reads groups, headings and units over one another, the
// same heading in two groups, and a cost that only its parts tell.
func TestThreeRowsOfHeadings(t *testing.T) {
	content := `JOB,,SLAB,,,YARDS,,,THE DAY,PRICE,COST,,,,
folder,poured,long,wide,deep,on paper,asked for,came,labor,base,carried,concrete,labor,pump,other
,m/d/y,ft,ft,in,yd,yd,yd,man-hr,$,$,$,$,$,$
` + slabs(12, func(i int, area, depth, neat float64) string {
		return fmt.Sprintf("P%02d,%d/%d/25,%.0f,10,%.0f,%.2f,%.2f,%.2f,%.1f,%.0f,%.0f,%.0f,%.0f,%s,%d", i, 3+i/3, 1+2*(i%3), area/10, depth, neat, quarter(neat*1.06), quarter(neat*1.1), 12+area/20, 7*area+200, 5*area, 2.6*area, 1.8*area, []string{"0", "250", "-"}[i%3], 60+i)
	})
	g := read(t, "log.csv", content, Options{})
	for i, v := range g.values {
		area := float64(100 + 40*i)
		part := []float64{0, 250, 0}[i%3] + 60 + float64(i) + 4.4*area
		equal(t, fmt.Sprint("row ", i), []string{v[g.Records.Index("area_sqft")], v[g.Records.Index("actual_cost")], v[g.Records.Index("contract_price")], v[g.Records.Index("labor_hours")]},
			fmt.Sprint(area), fmt.Sprintf("%.2f", part), fmt.Sprintf("%.2f", 7*area+200), trimFloat(12+area/20))
	}
	for _, h := range g.Table.file.Reading().Doubtful() {
		t.Errorf("doubtful: %+v", h)
	}
}

// TestPartsOfTheCost leaves parts alone where a column bears their sum, and the
// cost empty where one of them cannot be read.
func TestPartsOfTheCost(t *testing.T) {
	log := func(total bool) string {
		head := "job,date,sf,thick,bid cost,price,cost concrete,cost labor,cost other"
		if total {
			head += ",cost total"
		}
		return head + "\n" + slabs(10, func(i int, area, depth, neat float64) string {
			labor := fmt.Sprint(area)
			if i == 3 && !total {
				labor = "ask Jo"
			}
			row := fmt.Sprintf("J%02d,5/%d/25,%.0f,%.0f,%.0f,%.0f,%.0f,%s,%d", i, i+1, area, depth, 4*area, 7*area, 2.5*area, labor, 100+i)
			if total {
				row += fmt.Sprintf(",%.0f", 3.5*area+100+float64(i))
			}
			return row
		})
	}
	for _, total := range []bool{false, true} {
		g := read(t, "log.csv", log(total), Options{})
		want := make([]string, 10)
		for i := range want {
			if want[i] = fmt.Sprintf("%.2f", 3.5*float64(100+40*i)+100+float64(i)); i == 3 && !total {
				want[i] = ""
			}
		}
		equal(t, fmt.Sprint("with a total: ", total), g.column("actual_cost"), want...)
	}
}

// TestKeyOfCodes reads codes by the file's own key: below the rows, above them,
// and on a tab of codes.
func TestKeyOfCodes(t *testing.T) {
	rows := "JOBNO\tPOURDT\tKIND\tAREASF\tTHKIN\tCYRECD\tPLACBY\n" + strings.ReplaceAll(slabs(8, func(i int, area, depth, neat float64) string {
		return fmt.Sprintf("%04d,5/%d/25,%s,%.0f,%.0f,%.2f,%s", i, i+1, []string{"Q", "ZZ"}[i%2], area, depth, quarter(neat*1.08), []string{"K", "L"}[i%2])
	}), ",", "\t")
	foot := "\nKIND\tQ=DRIVEWAY\tZZ=WALK\nPLACBY\tK=CHUTE\tL=LINE PUMP\n"
	for name, content := range map[string]string{"below": rows + foot, "above": "codes: Q=driveway; ZZ=walk; K=chute; L=line pump\n\n" + rows} {
		g := read(t, "log.csv", content, Options{})
		equal(t, name+": use", slices.Compact(slices.Sorted(slices.Values(g.column("use")))), "driveway", "walkway")
		equal(t, name+": method", slices.Compact(slices.Sorted(slices.Values(g.column("method")))), "chute", "pump")
		if len(g.values) != 8 {
			t.Errorf("%s: %d rows", name, len(g.values))
		}
	}
}

// TestTabOfACrew takes the crew from the tab, whatever the order of its columns.
func TestTabOfACrew(t *testing.T) {
	head := []any{"Folder", "When we poured", "What we made", "How long", "How wide", "How deep", "Yards we asked for"}
	rows := func(from int) (rows [][]any) {
		for i := from; i < from+6; i++ {
			rows = append(rows, []any{fmt.Sprintf("F-%02d", i), fmt.Sprintf("6/%d/2025", i+1), []string{"patio", "driveway", "walk"}[i%3], 10 + 2*i, 12, 4, quarter(float64(10+2*i) * 12 * 4 / 324 * 1.05)})
		}
		return rows
	}
	swap := func(row []any) []any { return append([]any{row[0], row[2], row[1]}, row[3:]...) }
	book := makeWorkbook(t, "Una", append([][]any{{"What Una's crew poured"}, head}, rows(0)...), func(x *excelize.File) {
		_, err := x.NewSheet("Otto")
		must(t, err)
		more := [][]any{{"What Otto's crew poured"}, swap(head)}
		for _, row := range rows(6) {
			more = append(more, swap(row))
		}
		for i, row := range more {
			must(t, x.SetSheetRow("Otto", fmt.Sprintf("A%d", i+1), &row))
		}
	})
	f, err := open("x.xlsx", string(book), Options{})
	must(t, err)
	for _, table := range f.Tables {
		g := readTable(t, table)
		equal(t, table.Sheet, g.column("crew"), slices.Repeat([]string{table.Sheet}, 6)...)
		equal(t, table.Sheet, slices.Compact(slices.Sorted(slices.Values(g.column("use")))), "driveway", "patio", "walkway")
	}
	if len(f.Tables) != 2 {
		t.Errorf("%d tables", len(f.Tables))
	}
}

// TestHeadingsThatSayNothing gives every column of a log a heading without
// meaning: no column may be read as another for sure, most are read or asked
// about, and five questions are asked at most, those without which no row can be
// read among them.
func TestHeadingsThatSayNothing(t *testing.T) {
	grid, err := csv.NewReader(strings.NewReader(strings.SplitN(string(messyLog(120)), "\n\n", 2)[1])).ReadAll()
	must(t, err)
	meant := map[string]string{}
	f, err := open("log.csv", string(messyLog(120)), Options{})
	must(t, err)
	for _, h := range f.Reading().Tables[0].Headings {
		meant[h.Heading] = h.Column
	}
	for seed := range uint64(4) {
		r := rand.New(rand.NewPCG(seed, 1))
		is := map[string]string{}
		for k, heading := range grid[0] {
			grid[0][k] = fmt.Sprintf("%c%c%s", "zvqx"[r.IntN(4)], "aou"[r.IntN(3)], []string{"jiq", "xoz", "kuv", "vaq"}[r.IntN(4)]) + string(rune('a'+k))
			if seed == 0 {
				is[grid[0][k]] = meant[heading]
			} else {
				is[grid[0][k]] = meant[fmt.Sprint(k)]
			}
			meant[fmt.Sprint(k)] = is[grid[0][k]]
		}
		var b strings.Builder
		must(t, csv.NewWriter(&b).WriteAll(grid))
		f, err := open("log.csv", b.String(), Options{})
		must(t, err)
		read, asked := 0, 0
		for _, h := range f.Reading().Tables[0].Headings {
			switch want := is[h.Heading]; {
			case !h.Sure:
				asked++
			case h.Column == want && want != "":
				read++
			case h.Column != "" && h.Column != want:
				t.Errorf("%q, %q, is read as %s, not %s", h.Heading, h.Samples, h.Column, want)
			}
		}
		if asked > mostQuestions || read < 8 {
			t.Errorf("%d headings are read, %d asked about", read, asked)
		}
	}
}

// TestRowsOfExplanations leaves out what explains the headings below them.
func TestRowsOfExplanations(t *testing.T) {
	content := "Which job,When,How thick?,How big (sf),What showed up,Who poured it\nfrom the folder,day of the pour,inches at the form,by the tape,from the tickets,lead only\n" + slabs(14, func(i int, area, depth, neat float64) string {
		return fmt.Sprintf("K-%d,5/%d/25,%.0f,%.0f,%.2f yd,%s", 10+i, i+1, depth, area, quarter(neat*1.07), []string{"Una", "Otto"}[i%2])
	})
	g := read(t, "log.csv", content, Options{})
	if len(g.values) != 14 || len(g.bad) > 0 {
		t.Errorf("%d rows, bad %v: %v", len(g.values), g.bad, g.said)
	}
	equal(t, "crew", g.column("crew")[:2], "Una", "Otto")
	equal(t, "delivered", g.column("delivered_yd")[:1], "1.25")
}

// slabs writes rows about slabs of 100 ft² and more.
func slabs(n int, row func(i int, area, depth, neat float64) string) string {
	var b strings.Builder
	for i := range n {
		area, depth := float64(100+40*i), float64(4+i%3)
		fmt.Fprintln(&b, row(i, area, depth, area*depth/324))
	}
	return b.String()
}

// quarter rounds to quarters, as plants deliver.
func quarter(v float64) float64 { return float64(int(4*v+0.5)) / 4 }
