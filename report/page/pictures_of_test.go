package page

import (
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"pourback/analysis"
	"pourback/analysis/visits"
	"pourback/ingest/record"
)

// toldOf are factors that tell of slabs, with a look at the first.
func toldOf(asOf string, slabs ...string) *analysis.Factors {
	f := &analysis.Factors{AsOf: asOf, Visits: &visits.Visits{}}
	for _, name := range slabs {
		f.Visits.Stories = append(f.Visits.Stories, visits.SlabStory{JobNo: name, Placement: "A"})
	}
	f.Visits.Stories[0].Looks = []visits.StoryLook{{On: record.DateOf(2025, 7, 1), Finding: "crack", Kind: "drying"}}
	return f
}

func pictureOf(slab string, month, day int) record.Picture {
	return record.Picture{JobNo: slab, Placement: "A", Picture: fmt.Sprintf("%s-%02d-%02d", slab, month, day), TakenAt: record.MomentOf(record.DateOf(2025, time.Month(month), day), 3600)}
}

// TestPicturesOfAStory shows the latest, oldest first, and counts the others; none
// of a slab that is not told of, and none taken after the data date.
func TestPicturesOfAStory(t *testing.T) {
	all := []record.Picture{pictureOf("J-2", 6, 3), pictureOf("J-9", 6, 3), pictureOf("J-1", 12, 1), {JobNo: "J-1", Placement: "B", Picture: "other"}}
	for day := 9; day >= 1; day-- {
		all = append(all, pictureOf("J-1", 6, day))
	}
	seen := pictureOf("J-1", 6, 20)
	seen.SeenOn, seen.Caption = record.DateOf(2025, 7, 1), "by the door"
	f := toldOf("2025-07-31", "J-1", "J-2")
	p := PicturesOf(f, append(all, seen))
	if err := p.Fill(func(key string) ([]byte, error) { return []byte(key), nil }); err != nil {
		t.Fatal(err)
	}
	a := NewAuthor(f, Options{Pictures: p})
	var e Exhibit
	a.pictured(&e, &f.Visits.Stories[0])
	var got []string
	for _, thumb := range e.Thumbs {
		got = append(got, string(thumb.JPEG))
	}
	if want := []string{"J-1-06-05", "J-1-06-06", "J-1-06-07", "J-1-06-08", "J-1-06-09", "J-1-06-20"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if last := e.Thumbs[5]; last.Says != "2025-06-20; crack, drying; by the door" || last.Alt != "Picture of J-1 A, June 20, 2025" {
		t.Errorf("%+v", last)
	}
	if e.ThumbsLeft != "4 more pictures are kept with this slab." {
		t.Error(e.ThumbsLeft)
	}
	var none Exhibit
	NewAuthor(f, Options{}).pictured(&none, &f.Visits.Stories[0])
	if none.Thumbs != nil || none.ThumbsLeft != "" {
		t.Errorf("%+v", none)
	}
}

// TestPicturesAreBounded: a report holds so many bytes of pictures and no more, and
// counts those that it leaves out.
func TestPicturesAreBounded(t *testing.T) {
	var slabs []string
	var all []record.Picture
	for i := range 300 {
		name := fmt.Sprintf("J-%03d", i)
		slabs = append(slabs, name)
		for day := range 8 {
			all = append(all, pictureOf(name, 6, day+1))
		}
	}
	f := toldOf("2025-07-31", slabs...)
	p := PicturesOf(f, all)
	read := 0
	if err := p.Fill(func(string) ([]byte, error) { read++; return make([]byte, 20_000), nil }); err != nil {
		t.Fatal(err)
	}
	a, shown, lines := NewAuthor(f, Options{Pictures: p}), 0, map[string]int{}
	for i := range f.Visits.Stories {
		var e Exhibit
		a.pictured(&e, &f.Visits.Stories[i])
		for _, thumb := range e.Thumbs {
			shown += len(thumb.JPEG)
		}
		lines[e.ThumbsLeft]++
	}
	if shown > mostPictureBytes || shown < mostPictureBytes-20_000 || read > 80 {
		t.Errorf("%d bytes of %d pictures read", shown, read)
	}
	if lines["2 more pictures are kept with this slab."] != 12 || lines["8 pictures are kept with this slab."] != 287 {
		t.Error(lines)
	}
	broken := errors.New("broken")
	if err := PicturesOf(f, all).Fill(func(string) ([]byte, error) { return nil, broken }); !errors.Is(err, broken) {
		t.Error(err)
	}
}
