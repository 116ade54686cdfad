package main

import (
	"time"
)

// tabsBySeason writes log c.
func tabsBySeason() *book {
	b := newBook(99, oddOfC)
	jobs := jobsOfC()
	b.explain("", append(columnsOfC, sentOfC))
	b.explain("Time", timeOfC)
	for _, season := range []string{"Spring", "Summer", "Fall"} {
		b.sheets = append(b.sheets, b.season(season, jobs))
	}
	cards := b.timeCards(jobs)
	phones := &sheet{name: "Ph list"}
	phones.add("plant dispatch", "555-0141", "call by 2 the day before")
	phones.add("pump man", "555-0172", "4 hr min")
	phones.add("rental yard", "555-0118", "acct 36")
	b.sheets = append(b.sheets, cards, phones)
	return b
}

func (b *book) season(season string, jobs []*job) *sheet {
	s := &sheet{name: season + " 25"}
	columns := columnsOfC
	if season == "Fall" {
		columns = append(append(append([]column{}, columnsOfC[:17]...), sentOfC), columnsOfC[17:]...)
		s.add("Fall - keep it neater this time")
	}
	s.add(headings(columns)...)
	var mine []*job
	for _, j := range jobs {
		if seasonOf(j.slabs[0].day) != season {
			continue
		}
		mine = append(mine, j)
		b.keep(s, columns, j)
		if last := len(s.rows); len(j.slabs) == 2 && season != "Fall" { // day, customer and price span both rows
			for _, c := range []int{2, 3, 4, 18} {
				s.merge(c, last-1, c, last)
			}
		}
	}
	// Scribbles right of the table: what is left on the plant's account, a thing not to forget.
	s.rows[3] = append(s.rows[3], nil, map[string]any{"Spring": "permit!", "Summer": 3.5, "Fall": "call roofer"}[season])
	s.add()
	_, _, yards, price := sums(mine)
	total := make([]any, len(columns))
	total[3], total[10] = "ttl", yards
	for i, c := range columns {
		if c.is == "contract_price" {
			total[i] = price
		}
	}
	s.add(total...)
	return s
}

// timeCards is the tab of the crew's time, a line a hand, with a total now and then. A job with two slabs has its time
// in one, so neither slab's hours can be read.
func (b *book) timeCards(jobs []*job) *sheet {
	s := &sheet{name: "Time"}
	s.add("Wk day", "Hand", "J#", "Doing", "Hrs")
	hands, sum := []string{"Dub", "Cal", "Moe", "Gus", "Tito", "Whit"}, 0.0
	for i, j := range jobs {
		if j.fate == "cancelled" {
			continue
		}
		total := 0.0
		for _, slab := range j.slabs {
			total += slab.hours()
		}
		day, people := j.slabs[0].day, j.slabs[0].people
		each := total / float64(people)
		for k := range people {
			hours := each
			if k == 0 && i%2 == 0 {
				s.add(b.cardDay(workdayBefore(day)), hands[k], j.no, "forms", 1.5)
				hours -= 1.5
			}
			s.add(b.cardDay(day), hands[(i+k)%len(hands)], j.no, oneOf(b.r, "pour", "pour", "finish", "pour + finish"), b.cardHours(hours))
		}
		if sum += total; len(j.slabs) == 1 && j.fate == "" {
			b.truth.Rows[j.no]["labor_hours"] = total
		}
		if i%9 == 8 {
			s.add(nil, nil, nil, "so far", sum)
			s.add()
		}
	}
	return s
}

func workdayBefore(day time.Time) time.Time {
	if day.Weekday() == time.Monday {
		return day.AddDate(0, 0, -3)
	}
	return day.AddDate(0, 0, -1)
}

func (b *book) cardDay(day time.Time) any {
	return oneOf[any](b.r, day, day, day.Format("Mon 1/2/06"))
}

func (b *book) cardHours(x float64) any {
	return oneOf[any](b.r, x, x, x, vulgar(x, false))
}
