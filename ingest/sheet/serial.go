package sheet

import (
	"math"
	"strconv"

	"pourback/ingest/record"
)

// epoch is the day from which a workbook counts: serial number 0.
type epoch record.Date

var (
	epoch1900 = epoch(record.DateOf(1899, 12, 30)) // right from 1 March 1900 on
	epoch1904 = epoch(record.DateOf(1904, 1, 1))
)

// moment is the date and time that a serial number stands for, to the second.
// The 1900 system believes in a 29 February 1900, serial 60: the days before it
// lie one day later than the later ones would have it, and itself there never
// was.
func (e epoch) moment(serial float64) (record.Moment, bool) {
	if !(serial >= 0 && serial < 2958466) || e == epoch1900 && (serial < 1 || math.Floor(serial) == 60) {
		return 0, false
	}
	day := math.Floor(serial)
	seconds := math.Round((serial - day) * 86400)
	if e == epoch1900 && serial < 60 {
		day++
	}
	return record.MomentOf(record.Date(e), 0) + record.Moment(day)*86400 + record.Moment(seconds), true
}

// Serial numbers that stand bare in a date column are taken for dates from 1950
// to 2099.
const firstSerial, lastSerial = 18264, 73050

// serialDay reads a bare number as the spreadsheet date it is.
func serialDay(s string, from epoch, say *remarks) (record.Date, bool) {
	m, ok := serialMoment(s, from)
	if !ok {
		return 0, false
	}
	say.warn(codeSerial, "a spreadsheet's number for a date", "read as "+m.Date().String())
	return m.Date(), true
}

func serialMoment(s string, from epoch) (record.Moment, bool) {
	if len(s) < 5 || len(s) > 5 && s[5] != '.' {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || v < firstSerial || v > lastSerial {
		return 0, false
	}
	return from.moment(v)
}
