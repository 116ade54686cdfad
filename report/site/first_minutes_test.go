package site

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/xuri/excelize/v2"

	"pourback/ingest/store/storetest"
)

// ownersBook is an owner's invented workbook: a tab a year with a title, headings of
// the owner's own, days as people write them, an empty row, a total, one slip of
// the hand, and money under a heading that does not say which.
func ownersBook(t testing.TB) []byte {
	t.Helper()
	x := excelize.NewFile()
	defer x.Close()
	put := func(tab string, row int, cells ...any) {
		t.Helper()
		if err := x.SetSheetRow(tab, fmt.Sprintf("A%d", row), &cells); err != nil {
			t.Fatal(err)
		}
	}
	n, uses, trees := 100, []string{"driveway", "sidewalk", "patio", "shed slab", "apron"}, []string{"Mesquite", "Ash", "Elm", "Willow", "Locust", "Juniper"}
	for year := 2024; year <= 2025; year++ {
		tab := fmt.Sprint("Done ", year)
		if _, err := x.NewSheet(tab); err != nil {
			t.Fatal(err)
		}
		put(tab, 1, fmt.Sprint("Saltgrass Flatwork (invented), jobs done in ", year))
		put(tab, 3, "Ticket", "Who for", "Poured on", "What", "L", "W", "Deep", "Mud used", "Mud left", "How placed", "Guys", "Hrs each", "Steel", "High that day", "Number 1", "Number 2")
		row, total := 4, 0
		for i := range 30 {
			n++
			month, day := 2+i/3, 3+9*(i%3)
			written := []string{fmt.Sprintf("%s %d", [...]string{"", "", "Feb", "March", "Apr", "May", "June", "Jul", "Aug", "Sep", "Oct", "Nov"}[month], day),
				fmt.Sprintf("%d/%d/%d", month, day, year-2000), fmt.Sprintf("%d-%d-%d", month, day, year)}[i%3]
			long, wide := 12+(i*7)%30, 8+(i*5)%12
			used := fmt.Sprintf("%.2f", float64(long*wide)/81*1.08)
			if year == 2024 && i == 7 {
				used = "a truck and a bit"
			}
			asked := 600 + long*wide*9
			total += asked
			put(tab, row, fmt.Sprint("T", n), trees[i%len(trees)], written, uses[i%len(uses)], long, wide, `4"`, used, "1/4", []string{"off the chute", "buggy", "pump"}[i%3],
				3+i%3, 6+i%4, []string{"6x6 mesh", "#3 @ 18", "none"}[i%3], 70+i, fmt.Sprint("$", asked), asked*(70+i%11)/100)
			if row++; i == 14 {
				row++
			}
		}
		put(tab, row+1, "TOTAL", "", "", "", "", "", "", "", "", "", "", "", "", "", total)
	}
	if err := x.DeleteSheet("Sheet1"); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := x.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// says holds what is a page's own to texts.
func (w *window) says(texts ...string) {
	w.t.Helper()
	is := ask[string](w, `document.querySelector('main').innerText`)
	for _, text := range texts {
		if !strings.Contains(is, text) {
			w.t.Errorf("%s does not say %q: %.1500s", w.path(), text, is)
		}
	}
}

// option chooses from a list by the words that a reader sees.
func (w *window) option(selector, words string) {
	w.t.Helper()
	if !ask[bool](w, fmt.Sprintf(`(() => { const f = document.querySelector(%q), o = f && [...f.options].find(o => o.text === %q); if (o) f.value = o.value; return !!o; })()`, selector, words)) {
		w.t.Fatalf("%s has no %q to choose", selector, words)
	}
}

// TestFirstTenMinutes is the way of a new owner, on a phone and on a desk, by what
// stands on the pages: an empty site, a log dropped, its question answered, a cell
// mended, kept, the month read, a bid made, and its three papers printed.
func TestFirstTenMinutes(t *testing.T) {
	for _, width := range []int64{390, 1200} {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			w := newPlace(t, storetest.SQLite(t), 0, atHome).window(t, width)
			see := func(name string) {
				t.Helper()
				w.lookAt(fmt.Sprint(width, "-first-", name))
				w.sound(name)
			}
			w.open("/")
			w.says("Where do you want to start?")
			w.push(`main a[href="/upload"]`)
			w.goes("choosing a file", func() { w.hand("our jobs.xlsx", ownersBook(t)) })
			see("asked")
			w.says("2 headings are not clear yet.", "What is “Number 1”?")
			w.option(`select[name="q.0"]`, "Price as signed")
			w.option(`select[name="q.1"]`, "What the job cost")
			w.push(".asks button")
			w.says("60 rows are ready to come in. 1 row needs a fix.", "February 3, 2024 to November 21, 2025")
			see("to-mend")
			w.set(`input[value="a truck and a bit"]`, "7.75")
			w.push("#look section:not(.comes) button")
			w.says("60 rows are ready to come in. Nothing needs a fix.")
			w.button("Keep")
			w.says("60 records are new.", "a truck and a bit", "7.75")
			see("kept")
			w.push(`main a[href="/"]`)
			w.says("November 2025", "of the dollar", "60 placements in 60 jobs")
			w.push(`main a[href="/report/month"]`)
			w.says("November 2025 kept", "3 jobs that ended in November 2025")
			see("month")
			w.open("/bids/new")
			w.field("name", "Piñon")
			w.choose("p0.use", "driveway")
			for name, size := range map[string]string{"p0.length_ft": "40", "p0.width_ft": "20", "p0.thickness_in": "5"} {
				w.field(name, size)
			}
			w.waitFor(askTile + ` !== undefined && !document.querySelector('[aria-busy]')`)
			price := ask[string](w, askTile)
			w.button("Keep this bid")
			w.says(price, "hold 60 placements: 60 with volumes")
			see("bid")
			w.set(`input[name=job_no]`, "LM-1")
			w.button("Link")
			for paper, words := range map[string][]string{"sheet": {price}, "proposal": {price, "Piñon"}, "pour-day": {"Piñon", "LM-1"}} {
				w.open("/bids/1/" + paper)
				print, err := chromedp.Run(w.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperLetter), chromedp.PDFPreferCSSPageSize()))
				if err != nil || !bytes.HasPrefix(print, []byte("%PDF-")) || len(print) < 10_000 {
					t.Errorf("%s is printed in %d bytes: %v", paper, len(print), err)
				}
				for _, word := range words {
					if text := ask[string](w, `document.body.innerText`); !strings.Contains(text, word) {
						t.Errorf("%s does not say %q", paper, word)
					}
				}
			}
			w.open("/pour/LM-1")
			see("pour")
			w.push(`main a[href="/pour/LM-1/last-load"]`)
			w.says("Last load", "Piñon")
		})
	}
}
