package record

import (
	"database/sql/driver"
	"fmt"
	"time"
)

// Date is a calendar day without a time zone. Its zero value is missing.
type Date int32

// Days are counted so that 1 is the first of January of the year 1.
const daysToUnix = 719163

// DateOf is the day year-month-day; out-of-range parts carry over as in
// [time.Date].
func DateOf(year int, month time.Month, day int) Date {
	return Date(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix()/86400 + daysToUnix)
}

// DayOf is the calendar day of t in t's own zone.
func DayOf(t time.Time) Date { y, m, d := t.Date(); return DateOf(y, m, d) }

// ParseDate reads the ISO 8601 form 2006-01-02.
func ParseDate(s string) (Date, error) {
	y, m, d, ok := isoDate(s)
	if !ok || len(s) != 10 {
		return 0, fmt.Errorf("%q is no date such as 2025-06-03", s)
	}
	return DateOf(y, m, d), nil
}

func isoDate(s string) (year int, month time.Month, day int, ok bool) {
	if len(s) < 10 || s[4] != '-' || s[7] != '-' {
		return 0, 0, 0, false
	}
	year, okY := digits(s[:4])
	mon, okM := digits(s[5:7])
	day, okD := digits(s[8:10])
	month = time.Month(mon)
	ok = okY && okM && okD && ValidDate(year, month, day)
	return year, month, day, ok
}

func digits(s string) (int, bool) {
	n := 0
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = n*10 + int(s[i]-'0')
	}
	return n, true
}

// ValidDate says whether the calendar has such a day, from the year 1 to 9999.
func ValidDate(year int, month time.Month, day int) bool {
	if year < 1 || year > 9999 || month < 1 || month > 12 || day < 1 {
		return false
	}
	return day <= 28 || day <= time.Date(year, month+1, 0, 0, 0, 0, 0, time.UTC).Day()
}

// Time is midnight UTC of the day.
func (d Date) Time() time.Time {
	return time.Unix(int64(d-daysToUnix)*86400, 0).UTC()
}

// Month is the day's month as 2006-01.
func (d Date) Month() string { return d.String()[:7] }

// String is the ISO 8601 form, or "" where the date is missing.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return string(d.append(make([]byte, 0, 10)))
}

func (d Date) append(b []byte) []byte {
	y, m, day := d.Time().Date()
	return append(b, byte('0'+y/1000%10), byte('0'+y/100%10), byte('0'+y/10%10), byte('0'+y%10), '-',
		byte('0'+m/10), byte('0'+m%10), '-', byte('0'+day/10), byte('0'+day%10))
}

// Scan reads the ISO form; NULL is missing.
func (d *Date) Scan(src any) error {
	s, ok, err := scanText(src)
	if err != nil || !ok {
		*d = 0
		return err
	}
	*d, err = ParseDate(s)
	return err
}

// Value is the ISO form, or NULL.
func (d Date) Value() (driver.Value, error) {
	if d == 0 {
		return nil, nil
	}
	return d.String(), nil
}

// Moment is a date and time of day without a time zone, in seconds. Its zero
// value is missing.
type Moment int64

// MomentOf is so many seconds after midnight of the day.
func MomentOf(d Date, seconds int) Moment { return Moment(d)*86400 + Moment(seconds) }

// Date is the calendar day of the moment.
func (m Moment) Date() Date { return Date(m / 86400) }

// ParseMoment reads the ISO 8601 forms 2006-01-02T15:04 and 2006-01-02T15:04:05,
// with a space in place of the T allowed.
func ParseMoment(s string) (Moment, error) {
	y, mo, d, ok := isoDate(s)
	h, mi, sec := 0, 0, 0
	if ok = ok && (len(s) == 16 || len(s) == 19) && (s[10] == 'T' || s[10] == ' ') && s[13] == ':'; ok {
		var okH, okM, okS bool
		h, okH = digits(s[11:13])
		mi, okM = digits(s[14:16])
		okS = len(s) == 16
		if !okS && s[16] == ':' {
			sec, okS = digits(s[17:19])
		}
		ok = okH && okM && okS && h < 24 && mi < 60 && sec < 60
	}
	if !ok {
		return 0, fmt.Errorf("%q is no date and time such as 2025-06-03T07:15", s)
	}
	return MomentOf(DateOf(y, mo, d), h*3600+mi*60+sec), nil
}

// String is the ISO 8601 form, with seconds only where they are not zero.
func (m Moment) String() string {
	if m == 0 {
		return ""
	}
	s := int(m % 86400)
	text := fmt.Sprintf("%sT%02d:%02d", m.Date(), s/3600, s/60%60)
	if s%60 != 0 {
		text += fmt.Sprintf(":%02d", s%60)
	}
	return text
}

// Scan reads the ISO form; NULL is missing.
func (m *Moment) Scan(src any) error {
	s, ok, err := scanText(src)
	if err != nil || !ok {
		*m = 0
		return err
	}
	*m, err = ParseMoment(s)
	return err
}

// Value is the ISO form, or NULL.
func (m Moment) Value() (driver.Value, error) {
	if m == 0 {
		return nil, nil
	}
	return m.String(), nil
}

func scanText(src any) (s string, ok bool, err error) {
	switch x := src.(type) {
	case nil:
		return "", false, nil
	case string:
		return x, true, nil
	case []byte:
		return string(x), true, nil
	}
	return "", false, fmt.Errorf("cannot read a %T as text", src)
}
