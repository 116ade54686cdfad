package sheet

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestVaryDebug(t *testing.T) {
	dir := os.Getenv("VARY")
	if dir == "" {
		t.Skip()
	}
	files, _ := filepath.Glob(dir)
	n, sure, wrong, missed, blocked := 0, 0, 0, 0, 0
	for _, path := range files {
		var truth struct{ Map map[string]map[string]string }
		b, _ := os.ReadFile(strings.TrimSuffix(path, filepath.Ext(path)) + ".truth.json")
		json.Unmarshal(b, &truth)
		f, err := Open(path, Options{})
		if err != nil {
			fmt.Println(path, "ERR", err)
			blocked++
			continue
		}
		short := filepath.Base(filepath.Dir(path)) + "/" + filepath.Base(path)
		for _, tb := range f.Tables {
			u := tb.insight
			if u == nil {
				continue
			}
			if tb.blocked != nil {
				fmt.Println(short, "BLOCKED", u.table.Name, u.lacks)
				blocked++
			}
			for i, p := range u.picks {
				want, ok := truth.Map[tb.Sheet][u.cols[i].heading]
				if !ok {
					want, ok = truth.Map[""][u.cols[i].heading]
				}
				if !ok {
					continue
				}
				n++
				name := ""
				if p.hypothesis != nil {
					name = (&thinking{table: u.table}).nameOf(p.hypothesis)
				}
				switch {
				case !p.sure:
					fmt.Printf("%s UNSURE %-16q %s want %s %.1f %v\n", short, u.cols[i].heading, name, want, p.margin, p.choices)
				case name != want && name == "":
					missed++
					fmt.Printf("%s MISSED %-16q want %s %.1f %v\n", short, u.cols[i].heading, want, p.margin, u.cols[i].samples)
				case name != want:
					wrong++
					fmt.Printf("%s WRONG %-16q %s want %s %.1f %v\n", short, u.cols[i].heading, name, want, p.margin, u.cols[i].samples)
				default:
					sure++
				}
			}
		}
		f.Close()
	}
	fmt.Println("headings", n, "sure and right", sure, "wrong", wrong, "missed", missed, "blocked", blocked)
}
