package say

import (
	"strconv"
	"time"

	"pourback/ingest/record"
)

// Day is a date: "January 2, 2006".
func (v *Voice) Day(d record.Date) string {
	t := d.Time()
	return v.say("{month} {day}, {year}", with{"month": v.MonthName(int(t.Month())), "day": strconv.Itoa(t.Day()), "year": strconv.Itoa(t.Year())})
}

// Month is 2025-06 as "June 2025"; what is no month is said as it stands.
func (v *Voice) Month(month string) string {
	t, err := time.Parse("2006-01", month)
	if err != nil {
		return Clean(month, ShortName)
	}
	return v.say("{month} {year}", with{"month": v.MonthName(int(t.Month())), "year": strconv.Itoa(t.Year())})
}

// MonthName is the name of month 1 to 12.
func (v *Voice) MonthName(month int) string {
	if month < 1 || month > 12 {
		return strconv.Itoa(month)
	}
	return v.text(months[month-1])
}

// MonthLetters is the name of month 1 to 12 in three letters.
func (v *Voice) MonthLetters(month int) string {
	letters := []rune(v.MonthName(month))
	return string(letters[:min(3, len(letters))])
}

var months = [12]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

// AsOf is the data date in words, or as it stands where it is none.
func (v *Voice) AsOf(s string) string {
	d, err := record.ParseDate(s)
	if err != nil {
		return Clean(s, ShortName)
	}
	return v.Day(d)
}
