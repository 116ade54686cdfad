package sheet

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"pourback/ingest/record"
)

const flatHeader = "job_no,placement,placed_on,use,area_sqft,thickness_in,planned_yd,delivered_yd,leftover_yd,method,pump_outfit,clogs,delay_min,air_temp_f,concrete_temp_f,humidity_pct,wind_mph,reinforcement,joint_spacing_ft,saw_hours,crew,crew_size,labor_hours,contract_price,est_cost,actual_cost,callback_on,callback_kind,callback_cost"

// flatFile invents a job log of n rows.
func flatFile(n int) []byte {
	r := rand.New(rand.NewPCG(1, 2))
	pick := func(words ...string) string { return words[r.IntN(len(words))] }
	var b bytes.Buffer
	b.WriteString(flatHeader + "\n")
	for i := range n {
		day := record.DateOf(2018, 1, 1) + record.Date(i*2900/n+r.IntN(5))
		area := 100 + r.IntN(900)
		neat := float64(area) * 4 / 324
		method, outfit, clogs := pick("chute", "pump", "buggy"), "", ""
		if method == "pump" {
			outfit, clogs = pick("P1", "P2", "P3", "P4"), pick("0", "0", "1")
		}
		fmt.Fprintf(&b, "J%07d,%d,%s,%s,%d,4.0,%.2f,%.2f,0.25,%s,%s,%s,%d,%d,%d,%d,%d,%s,%d,%.1f,Crew %d,%d,%.2f,%.2f,%.2f,%.2f,", i/2, 1+i%2, day, pick("driveway", "patio", "sidewalk", "garage slab", "shop floor"), area, neat*1.1, neat*1.06+0.25,
			method, outfit, clogs, 60, 40+r.IntN(50), 50+r.IntN(30), 20+r.IntN(70), r.IntN(20), pick("none", "wire mesh", "rebar", "fiber"), 8+r.IntN(5), 1+r.Float64()*10, 1+r.IntN(12), 3+r.IntN(5), 5+r.Float64()*50, 1000+r.Float64()*5000, 1000+r.Float64()*4000, 1000+r.Float64()*4000)
		if r.IntN(25) == 0 {
			fmt.Fprintf(&b, "%s,%s,%.2f\n", day+100, pick("cracking", "scaling"), 100+r.Float64()*1000)
		} else {
			b.WriteString(",,\n")
		}
	}
	return b.Bytes()
}

const benchRows = 100_000

// BenchmarkCSV reads a job log into typed records, beside Go's own reader with
// strconv on the same columns.
func BenchmarkCSV(b *testing.B) {
	content := flatFile(benchRows)
	b.Run("ours", func(b *testing.B) {
		b.SetBytes(int64(len(content)))
		for b.Loop() {
			countRows(b, "x.csv", content)
		}
	})
	b.Run("encoding-csv", func(b *testing.B) {
		b.SetBytes(int64(len(content)))
		for b.Loop() {
			plainRead(b, content)
		}
	})
}

func countRows(b *testing.B, name string, content []byte) {
	f, err := OpenReader(name, bytes.NewReader(content), int64(len(content)), Options{})
	if err != nil {
		b.Fatal(err)
	}
	n := 0
	for row, err := range f.Tables[0].Rows() {
		if err != nil || row.Bad() {
			b.Fatal(err, row.Problems)
		}
		n++
	}
	if n != benchRows {
		b.Fatal(n, "rows")
	}
}

// plainRead is what a plain reader does: cells by encoding/csv, numbers and
// dates by the standard library, no checks.
func plainRead(b *testing.B, content []byte) {
	kinds := []record.Kind{}
	for _, name := range strings.Split(flatHeader, ",") {
		m, _ := newHeadings(record.Placements, record.Dictionary{}).find(headingWords(name))
		kinds = append(kinds, record.Placements.Columns[m.column].Kind)
	}
	r := csv.NewReader(bytes.NewReader(content))
	r.ReuseRecord = true
	r.Read()
	sum, n := 0.0, 0
	for ; ; n++ {
		row, err := r.Read()
		if err == io.EOF {
			break
		}
		for i, s := range row {
			if s == "" {
				continue
			}
			switch kinds[i] {
			case record.KindNumber, record.KindCount, record.KindMoney:
				v, err := strconv.ParseFloat(s, 64)
				if err != nil {
					b.Fatal(err)
				}
				sum += v
			case record.KindDate:
				d, err := time.Parse("2006-01-02", s)
				if err != nil {
					b.Fatal(err)
				}
				sum += float64(d.Year())
			}
		}
	}
	if n != benchRows || sum == 0 {
		b.Fatal(n, "rows")
	}
}

// BenchmarkXLSX reads the same job log from a workbook, beside excelize's raw
// rows of text.
func BenchmarkXLSX(b *testing.B) {
	content := flatWorkbook(b)
	b.Run("ours", func(b *testing.B) {
		for b.Loop() {
			countRows(b, "x.xlsx", content)
		}
	})
	b.Run("excelize-raw", func(b *testing.B) {
		for b.Loop() {
			x, err := excelize.OpenReader(bytes.NewReader(content), excelize.Options{RawCellValue: true})
			must(b, err)
			rows, err := x.Rows("placements")
			must(b, err)
			n := 0
			for rows.Next() {
				_, err := rows.Columns()
				must(b, err)
				n++
			}
			if n != benchRows+1 {
				b.Fatal(n, "rows")
			}
			must(b, x.Close())
		}
	})
}

// flatWorkbook is flatFile as a workbook, with numbers and dates as such.
func flatWorkbook(b *testing.B) []byte {
	x := excelize.NewFile()
	must(b, x.SetSheetName("Sheet1", "placements"))
	date, err := x.NewStyle(&excelize.Style{NumFmt: 14})
	must(b, err)
	w, err := x.NewStreamWriter("placements")
	must(b, err)
	for i, line := range strings.Split(strings.TrimSpace(string(flatFile(benchRows))), "\n") {
		var cells []any
		for _, s := range strings.Split(line, ",") {
			if v, err := strconv.ParseFloat(s, 64); err == nil {
				cells = append(cells, v)
			} else if d, err := time.Parse("2006-01-02", s); err == nil {
				cells = append(cells, excelize.Cell{StyleID: date, Value: d})
			} else if s == "" {
				cells = append(cells, nil)
			} else {
				cells = append(cells, s)
			}
		}
		must(b, w.SetRow("A"+strconv.Itoa(i+1), cells))
	}
	must(b, w.Flush())
	var out bytes.Buffer
	must(b, x.Write(&out))
	return out.Bytes()
}

// BenchmarkOpen opens and reads a file of one row.
func BenchmarkOpen(b *testing.B) {
	content := lines(flatHeader, "J-1,A,2025-06-03,patio,420,4,5.5,5.75,0.25,pump,P1,0,5,80,82,40,9,none,8,6,Wren,4,12,4200,3100,3000,,,")
	for b.Loop() {
		f, err := open("x.csv", content, Options{})
		if err != nil {
			b.Fatal(err)
		}
		for range f.Tables[0].Rows() {
		}
	}
}
