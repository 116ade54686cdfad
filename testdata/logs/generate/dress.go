package main

import (
	"archive/zip"
	"bytes"
	"io"
	"time"

	"github.com/xuri/excelize/v2"
)

// dress gives a tab its looks: coloured rows, columns not shown, headings that stay in sight.
func dress(f *excelize.File, s *sheet) error {
	for r := range s.rows {
		if err := s.paintRow(f, r+1); err != nil {
			return err
		}
	}
	for _, c := range s.hidden {
		name, err := excelize.ColumnNumberToName(c)
		if err != nil {
			return err
		}
		if err = f.SetColVisible(s.name, name, false); err != nil {
			return err
		}
	}
	if s.heads == 0 {
		return nil
	}
	corner, err := excelize.CoordinatesToCellName(2, s.heads+1)
	if err != nil {
		return err
	}
	return f.SetPanes(s.name, &excelize.Panes{Freeze: true, XSplit: 1, YSplit: s.heads, TopLeftCell: corner, ActivePane: "bottomRight"})
}

// paintRow colours the row numbered row, its empty cells as well.
func (s *sheet) paintRow(f *excelize.File, row int) error {
	colour := s.paint[row]
	if colour == "" {
		return nil
	}
	plain, err := f.NewStyle(&excelize.Style{Fill: fillOf(colour)})
	if err != nil {
		return err
	}
	day, err := s.dayStyle(f, colour)
	if err != nil {
		return err
	}
	for c, v := range s.rows[row-1] {
		style := plain
		if _, ok := v.(time.Time); ok {
			style = day
		}
		name, err := excelize.CoordinatesToCellName(c+1, row)
		if err != nil {
			return err
		}
		if err = f.SetCellStyle(s.name, name, name, style); err != nil {
			return err
		}
	}
	return nil
}

func (s *sheet) dayStyle(f *excelize.File, colour string) (int, error) {
	format := s.day
	if format == "" {
		format = "m/d/yy"
	}
	style := &excelize.Style{CustomNumFmt: &format}
	if colour != "" {
		style.Fill = fillOf(colour)
	}
	return f.NewStyle(style)
}

func fillOf(colour string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}
}

// numbersAsNumbers marks what formulas came to as numbers, as a spreadsheet does: excelize marks it as text.
func numbersAsNumbers(book []byte) ([]byte, error) {
	const asText, asNumber = ` t="str"><f>`, `><f>`
	in, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	w, changed := zip.NewWriter(&out), false
	for _, part := range in.File {
		from, err := part.Open()
		if err != nil {
			return nil, err
		}
		text, err := io.ReadAll(from)
		if err != nil {
			return nil, err
		}
		to, err := w.Create(part.Name)
		if err != nil {
			return nil, err
		}
		changed = changed || bytes.Contains(text, []byte(asText))
		if _, err = to.Write(bytes.ReplaceAll(text, []byte(asText), []byte(asNumber))); err != nil {
			return nil, err
		}
	}
	if err := w.Close(); err != nil || !changed {
		return book, err
	}
	return out.Bytes(), nil
}
