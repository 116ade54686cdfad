package sheet

import (
	"math"
	"slices"
	"strings"
)

// undated takes days without their year for days, where they stand among whole
// dates of one year, or where the titles name one.
func (p *profile) undated(cal calendar) {
	if p.dates == p.filled || p.filled == 0 {
		return
	}
	var years []int
	for _, d := range p.days {
		if d != 0 && !slices.Contains(years, d.Time().Year()) {
			years = append(years, d.Time().Year())
		}
	}
	if cal.years = years; len(years) == 0 {
		cal.years = cal.titled
	}
	if len(cal.years) == 0 {
		return
	}
	found := map[int]day{}
	named := p.dates > 0
	for i, text := range p.texts {
		var ignored remarks
		s := strings.ToLower(plainSigns(text))
		if p.days[i] != 0 || !strings.ContainsAny(s, "/-") || !strings.ContainsAny(s, "0123456789") {
			continue
		}
		if d, ok := parseDay(s, cal, &ignored); ok && looksDated(s) {
			found[i] = d
			name, _ := cutWeekday(s)
			named = named || name != ""
		}
	}
	named = named || p.inOrder(found)
	if !named || len(found) == 0 || 10*(p.dates+len(found)) < 7*p.filled {
		return
	}
	for i, d := range found {
		p.days[i] = d.date
		p.dates++
		if !math.IsNaN(p.values[i]) {
			p.values[i] = math.NaN()
			p.numbers--
		}
	}
}

// inOrder says whether days follow one another as those of a log do: hardly two
// fractions would.
func (p *profile) inOrder(found map[int]day) bool {
	rising, falling, last := 0, 0, day{}
	for i := range p.texts {
		d, ok := found[i]
		switch {
		case !ok:
			continue
		case d.date > last.date:
			rising++
		case d.date < last.date:
			falling++
		}
		last = d
	}
	return len(found) >= fewest && rising*2 > len(found) && falling*10 <= rising
}

// shortYear finds a year of two digits in a title: Pours 24, '24, FY25, 23-24.
var shortYear = patternOf(`(?:['’]|\bFY ?|[A-Za-z] )([1-3]\d)$|^(?:['’]|FY ?)([1-3]\d)\b|^([1-3]\d)$|\b([12]\d)[-/]([123]\d)$`)

// shortYears are the years of two digits that a title names.
func shortYears(title string) []int {
	p := shortYear.FindStringSubmatch(strings.TrimSpace(title))
	if p == nil {
		return nil
	}
	var years []int
	for _, s := range p[1:] {
		if s != "" {
			years = append(years, 2000+atoi(s))
		}
	}
	if len(years) == 2 && years[1] != years[0]+1 {
		return nil
	}
	return years
}
