package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// A sheet is a tab as the owner keeps it. A cell is nil, a string, an int, a float64 or a day (written as a serial).
type sheet struct {
	name   string
	rows   [][]any
	merges [][4]int // first column and row, last column and row, from 1
}

// add writes a row and returns its number in the spreadsheet.
func (s *sheet) add(cells ...any) int {
	s.rows = append(s.rows, cells)
	return len(s.rows)
}

func (s *sheet) merge(c1, r1, c2, r2 int) { s.merges = append(s.merges, [4]int{c1, r1, c2, r2}) }

func writeXLSX(path string, sheets []*sheet) error {
	f := excelize.NewFile()
	defer f.Close()
	style := "m/d/yy"
	day, err := f.NewStyle(&excelize.Style{CustomNumFmt: &style})
	if err != nil {
		return err
	}
	for i, s := range sheets {
		if i == 0 {
			err = f.SetSheetName("Sheet1", s.name)
		} else {
			_, err = f.NewSheet(s.name)
		}
		if err == nil {
			err = fill(f, s, day)
		}
		if err != nil {
			return fmt.Errorf("%s, %s: %w", path, s.name, err)
		}
	}
	out, err := f.WriteToBuffer()
	if err != nil {
		return err
	}
	return os.WriteFile(path, out.Bytes(), 0o644)
}

func fill(f *excelize.File, s *sheet, day int) error {
	for r, row := range s.rows {
		for c, v := range row {
			if v == nil {
				continue
			}
			name, err := excelize.CoordinatesToCellName(c+1, r+1)
			if err != nil {
				return err
			}
			if err = f.SetCellValue(s.name, name, v); err != nil {
				return err
			}
			if _, ok := v.(time.Time); ok {
				if err = f.SetCellStyle(s.name, name, name, day); err != nil {
					return err
				}
			}
		}
	}
	for _, m := range s.merges {
		from, _ := excelize.CoordinatesToCellName(m[0], m[1])
		till, _ := excelize.CoordinatesToCellName(m[2], m[3])
		if err := f.MergeCell(s.name, from, till); err != nil {
			return err
		}
	}
	return nil
}

// writeCSV writes rows as a spreadsheet saves them: parted by commas or tabs, with a byte-order mark where it is told,
// and lines ended its way.
func writeCSV(path string, rows [][]any, comma rune, mark bool) error {
	var out strings.Builder
	if mark {
		out.WriteString("\ufeff")
	}
	w := csv.NewWriter(&out)
	w.Comma, w.UseCRLF = comma, true
	for _, row := range rows {
		line := make([]string, len(row))
		for i, v := range row {
			line[i] = plain(v)
		}
		if err := w.Write(line); err != nil {
			return err
		}
	}
	w.Flush()
	return os.WriteFile(path, []byte(out.String()), 0o644)
}

func plain(v any) string {
	switch t := v.(type) {
	case nil:
		return ""
	case float64:
		return strconv.FormatFloat(t, 'f', -1, 64)
	case time.Time:
		return t.Format("1/2/2006")
	}
	return fmt.Sprint(v)
}
