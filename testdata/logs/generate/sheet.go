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

// A sheet is a tab as the owner keeps it. A cell is nil, a string, an int, a float64, a day (written as a serial), a
// time of day (a part of a day) or a formula.
type sheet struct {
	name   string
	rows   [][]any
	merges [][4]int       // first column and row, last column and row, from 1
	day    string         // how the tab shows a day; "m/d/yy" where empty
	paint  map[int]string // the colour of a row, as RRGGBB
	hidden []int          // columns not shown, from 1
	heads  int            // rows that stay in sight, with the first column
}

// A formula is a cell that the spreadsheet worked out, with the value it kept.
type formula struct {
	text  string
	value float64
}

// add writes a row and returns its number in the spreadsheet.
func (s *sheet) add(cells ...any) int {
	s.rows = append(s.rows, cells)
	return len(s.rows)
}

// head writes two heading rows, with a group merged over its headings.
func (s *sheet) head(columns []column) {
	groups, heads := make([]any, len(columns)), make([]any, len(columns))
	row := len(s.rows) + 1
	for i := 0; i < len(columns); {
		till := i
		for till < len(columns) && columns[till].group == columns[i].group {
			heads[till] = columns[till].head
			till++
		}
		if columns[i].group != "" {
			groups[i] = columns[i].group
			if till-i > 1 {
				s.merge(i+1, row, till, row)
			}
		}
		i = till
	}
	s.add(groups...)
	s.add(heads...)
}

func (s *sheet) merge(c1, r1, c2, r2 int) { s.merges = append(s.merges, [4]int{c1, r1, c2, r2}) }

func writeXLSX(path string, sheets []*sheet) error {
	f := excelize.NewFile()
	defer f.Close()
	var err error
	for i, s := range sheets {
		if i == 0 {
			err = f.SetSheetName("Sheet1", s.name)
		} else {
			_, err = f.NewSheet(s.name)
		}
		if err == nil {
			err = fill(f, s)
		}
		if err == nil {
			err = dress(f, s)
		}
		if err != nil {
			return fmt.Errorf("%s, %s: %w", path, s.name, err)
		}
	}
	out, err := f.WriteToBuffer()
	if err != nil {
		return err
	}
	text, err := numbersAsNumbers(out.Bytes())
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return os.WriteFile(path, text, 0o644)
}

func fill(f *excelize.File, s *sheet) error {
	day, err := s.dayStyle(f, "")
	if err != nil {
		return err
	}
	for r, row := range s.rows {
		for c, v := range row {
			if v == nil {
				continue
			}
			name, err := excelize.CoordinatesToCellName(c+1, r+1)
			if err != nil {
				return err
			}
			if worked, ok := v.(formula); ok {
				v = worked.value
			}
			if err = f.SetCellValue(s.name, name, v); err != nil {
				return err
			}
			if worked, ok := row[c].(formula); ok {
				if err = f.SetCellFormula(s.name, name, worked.text); err != nil {
					return err
				}
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
	text, err := csvText(rows, comma)
	if err != nil {
		return err
	}
	if mark {
		text = "\ufeff" + text
	}
	return os.WriteFile(path, []byte(text), 0o644)
}

func csvText(rows [][]any, between rune) (string, error) {
	var out strings.Builder
	w := csv.NewWriter(&out)
	w.UseCRLF, w.Comma = true, between
	for _, row := range rows {
		line := make([]string, len(row))
		for i, v := range row {
			line[i] = plain(v)
		}
		if err := w.Write(line); err != nil {
			return "", err
		}
	}
	w.Flush()
	return out.String(), w.Error()
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
