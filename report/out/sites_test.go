package out

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
	"pourback/report/page"
)

// namedHistories bear a mark in each site and in each note.
func namedHistories(t testing.TB) map[string]record.Set {
	full, flat := trial.Company(t), trial.Pours(400)
	for i := range flat.Placements {
		flat.Placements[i].HumidityPct = record.Some(0.0) // something to check
		flat.Placements[i].WindMPH = record.Some(20.0)    // and a drying wind
	}
	sets := map[string]record.Set{"full": full, "flat": flat}
	for _, s := range sets {
		for i := range s.Jobs {
			s.Jobs[i].Site, s.Jobs[i].Note = fmt.Sprintf("Lot %d, site-mark", i), "note-mark"
		}
		for i := range s.Visits {
			s.Visits[i].Note = "note-mark"
		}
	}
	return sets
}

func TestSitesAreNamedOnlyWhereAsked(t *testing.T) {
	for name, s := range namedHistories(t) {
		sites := map[string]string{}
		for _, j := range s.Jobs {
			sites[j.JobNo] = j.Site
		}
		for _, with := range []bool{false, true} {
			f := trial.FactorsOf(t, s, setting.Options{Visits: setting.VisitOptions{Asked: true, NoSites: !with}})
			pages := page.Pages(f, page.Options{WithSites: with, Sites: sites, Bids: trial.SomeBids("Lot 14, site-mark", "J-1")})
			var terminal bytes.Buffer
			if err := Terminal(&terminal, pages, 0, false); err != nil {
				t.Fatal(err)
			}
			for where, text := range map[string]string{"page": single(t, pages), "terminal": terminal.String()} {
				if named := strings.Contains(text, "site-mark"); named != with {
					t.Errorf("%s, %s: sites named %v, asked for %v", name, where, named, with)
				}
				if strings.Contains(text, "note-mark") && !with {
					t.Errorf("%s, %s: a note is shown, which may name anybody", name, where)
				}
			}
		}
	}
}
