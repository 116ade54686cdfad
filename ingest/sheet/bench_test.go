package sheet

import "testing"

func BenchmarkOpen(b *testing.B) {
	content := lines(good+",delivered_yd,leftover_yd,method,crew,labor_hours,callback_on,callback_kind", "J-1,2025-06-03,patio,420,4,5.5,0.25,pump,Wren,12,,")
	for b.Loop() {
		f, err := open("x.csv", content, Options{})
		if err != nil {
			b.Fatal(err)
		}
		for range f.Tables[0].Rows() {
		}
	}
}
