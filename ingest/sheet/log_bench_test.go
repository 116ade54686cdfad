package sheet

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"testing"
)

// messyLog invents a job log of n rows as people keep them.
func messyLog(n int) []byte {
	r := rand.New(rand.NewPCG(3, 4))
	pick := func(words ...string) string { return words[r.IntN(len(words))] }
	var b bytes.Buffer
	b.WriteString("POURS 2025,,,\n\nJob #,Client,Address,Poured,What,Sq Ft,Thk,Yds Ordered,Act Yds,Left Over,How Placed,Pump Co,Steel,Joints,Temp,Boss,Guys,Man Hrs,Sold For,Deposit,Est Cost,Our Cost,Call Back,CB $,Notes\n")
	for i := range n {
		area, men := 80+8*r.IntN(90), 3+r.IntN(3)
		yd := float64(area) * 4 / 324
		price := 500 + 8*area
		fmt.Fprintf(&b, "25-%03d,%s,%d Gravel Pit Way,%d/%d/25,%s,%s,%s,%.2f,%s,%.2f,%s,%s,%s,%s,%s,%s,%d,%s,$%d,%d,%d,%.2f,%s,%s,%s\n",
			i+1, pick("Alder", "Birch", "Cedar", "Elm", "Fir", "Hazel"), 100+r.IntN(800), 1+i*12/n, 1+r.IntN(28), pick("DW", "patio", "shed pad", "sidewalk", "gar slb"), pick(fmt.Sprint(area), fmt.Sprintf("8x%d", area/8)), pick("4", `"4"""`, "4 in"),
			yd*1.05, pick(fmt.Sprintf("%.2f", yd*1.08), fmt.Sprintf("%.2fy", yd*1.07), fmt.Sprintf("%.1f + 1", yd)), float64(r.IntN(3))/4, pick("tailgate", "line pump", "buggy"), pick("", "P1", "P2"), pick("mesh", "#4 @ 18 oc", "fiber", "none"), pick("8x8", "saw 8'", "every 10 ft", "6"), pick("88", "~74", "70-76", "81 deg"),
			pick("Heron", "Wren"), men, pick(fmt.Sprintf("%d guys x 7", men), fmt.Sprint(men*6)), price, price/3, price*7/10/10*10, float64(price)*0.71+0.4, pick("", "", "no", "crack 11/5/25"), pick("", "150"), pick("", "good pour"))
	}
	return b.Bytes()
}

// BenchmarkLog understands and reads a year's log.
func BenchmarkLog(b *testing.B) {
	content := messyLog(600)
	for b.Loop() {
		if n := rowsOf(b, content); n != 600 {
			b.Fatal(n)
		}
	}
}

func rowsOf(b *testing.B, content []byte) (n int) {
	f, err := OpenReader("log.csv", bytes.NewReader(content), int64(len(content)), Options{})
	if err != nil {
		b.Fatal(err)
	}
	for _, t := range f.Tables {
		for _, err := range t.Rows() {
			if err != nil {
				b.Fatal(err)
			}
			n++
		}
	}
	return n
}
