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

// when brings the day or month of a pour to 2026-07-14, 2026-07 or 7.
func when(text string, opt sheet.Options) (string, error) {
	s := strings.TrimSpace(text)
	if n, err := strconv.Atoi(s); err == nil && n >= 1 && n <= 12 {
		return strconv.Itoa(n), nil
	}
	for _, layout := range []string{"2006-01", "January 2006", "Jan 2006"} {
		if t, err := time.Parse(layout, s); err == nil && t.Year() >= 1900 {
			return t.Format("2006-01"), nil
		}
	}
	for _, layout := range []string{"January", "Jan"} {
		if t, err := time.Parse(layout, s); err == nil {
			return strconv.Itoa(int(t.Month())), nil
		}
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
