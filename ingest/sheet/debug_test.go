package sheet

import (
	"fmt"
	"os"
	"testing"
)

func TestDebug(t *testing.T) {
	path := os.Getenv("LOG")
	if path == "" {
		t.Skip()
	}
	f, err := Open(path, Options{})
	if err != nil {
		fmt.Println("ERR", err)
		return
	}
	for _, tb := range f.Tables {
		u := tb.insight
		if u == nil {
			fmt.Println(tb.Sheet, tb.Records.Name, "record form")
			continue
		}
		fmt.Println("==", tb.Sheet, u.table.Name, u.gain, u.lacks)
		for i, p := range u.picks {
			name := ""
			if p.hypothesis != nil {
				name = p.name
			}
			fmt.Printf("  %-24s %-18s %6.1f head %5.1f %v %v %q\n", u.cols[i].heading, name, p.margin, p.head, p.sure, p.choices, u.cols[i].samples)
		}
	}
	for _, x := range f.Ignored {
		fmt.Println("ignored", x)
	}
}
