package spec

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

var dayTable = &record.Table{Columns: []record.Column{{Name: "on", Kind: record.KindDate}}}

// when brings the day or month of a pour, in English or Spanish, to 2026-07-14,
// 2026-07 or 7.
func when(text string, opt sheet.Options) (string, error) {
	s := strings.TrimSpace(text)
	if n, err := strconv.Atoi(s); err == nil && n >= 1 && n <= 12 {
		return strconv.Itoa(n), nil
	}
	if t, err := time.Parse("2006-01", s); err == nil && t.Year() >= 1900 {
		return s, nil
	}
	switch month, year := sheet.MonthNamed(s); {
	case year > 0:
		return fmt.Sprintf("%d-%02d", year, month), nil
	case month > 0:
		return strconv.Itoa(month), nil
	}
	var day record.Date
	for _, p := range sheet.NewForm(dayTable, opt).Read([]any{&day}, "on", s) {
		if p.Severity == record.Error {
			return "", fmt.Errorf("no day and no month; write 2026-07-14, 2026-07 or July")
		}
	}
	if day == 0 {
		return "", nil
	}
	return day.String(), nil
}
