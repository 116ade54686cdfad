package out

import (
	"maps"
	"slices"
	"strconv"
	"testing"

	"pourback/report/internal/trial"
	"pourback/report/page"
)

// notShown are the figures of the JSON that no page shows, with the reason.
// Everything else has to stand on a page with just the value that it has in the
// JSON.
var notShown = map[string]string{
	".cracks.logrank":                      "one of the two below",
	".cracks.logrank_reinforcement":        "said in a note: how often chance makes such differences",
	".cracks.logrank_spacing":              "said in a note: how often chance makes such differences",
	".cracks.one_way[].logrank":            "said above each table",
	".cracks.proportional_hazards.p":       "its words are said above the table",
	".cracks.remaining.expected_callbacks": "said above the table",
	".cracks.remaining.expected_cost":      "said above the table",
	".labor.hours_per_10f_above_80f":       "said above the table",
	".labor.learning_rate":                 "said above the table, which is drawn from it",
	".labor.reference_hours":               "said in the answer",
	".margin.callback_reserve":             "said in a note",
	".margin.months[].other":               "a company's own cost lines take prices, wages and added work out of it; a job log's stands in the table",
	".margin.total.change_orders":          "shown less what the added work cost, which cost lines tell",
	".margin.total.other":                  "a company's own cost lines take prices, wages and added work out of it; a job log's stands in the table",
	".margin.years[].change_orders":        "shown less what the added work cost, which cost lines tell",
	".margin.years[].other":                "a company's own cost lines take prices, wages and added work out of it; a job log's stands in the table",
	".overage.all.chance_short":            "no one orders for all kinds of job together",
	".overage.all.expected_leftover_yd":    "no one orders for all kinds of job together",
	".overage.all.next_job.p10":            "no one orders for all kinds of job together",
	".overage.all.next_job.p50":            "no one orders for all kinds of job together",
	".overage.all.next_job.p80":            "no one orders for all kinds of job together",
	".overage.all.next_job.p90":            "no one orders for all kinds of job together",
	".overage.all.order_allowance":         "no one orders for all kinds of job together",
	".overage.all.order_yd":                "no one orders for all kinds of job together",
	".overage.all.order_yd_without_cut":    "no one orders for all kinds of job together",
	".overage.all.past.p10":                "drawn as a whisker",
	".overage.all.past.p80":                "the half and the 9 in 10 say enough",
	".overage.groups[].next_job.p10":       "shown by way of placing and size, for whatever is placed",
	".overage.groups[].next_job.p50":       "shown by way of placing and size, for whatever is placed",
	".overage.groups[].next_job.p80":       "shown by way of placing and size, for whatever is placed",
	".overage.groups[].past.p10":           "drawn as a whisker",
	".overage.groups[].past.p80":           "the half and the 9 in 10 say enough",
	".pump.same_rate_p":                    "said in a note: how often chance makes such differences",

	".visits.callbacks.called_again":                          "said in a note",
	".visits.callbacks.closed_in_30_days":                     "said in a note",
	".visits.callbacks.control.rate_per_100_placement_months": "behind the chart, whose words are said",
	".visits.callbacks.control.spread":                        "behind the chart, whose words are said",
	".visits.callbacks.cost":                                  "said in the answer",
	".visits.callbacks.groups[].alike":                        "its words are said in a note",
	".visits.early_signs.signs[].alike":                       "its words stand in the table",
	".visits.early_signs.signs[].without.share":               "the rates of both say more: slabs are watched for different times",
	".visits.findings.at_joint":                               "said in a note",
	".visits.findings.over_guide":                             "said in a note",
	".visits.kept.share":                                      "said in a note",
	".visits.risk.again":                                      "behind the chances, which are shown",
	".visits.risk.cracked":                                    "behind the chances, which are shown",
	".visits.risk.quiet":                                      "behind the chances, which are shown",
}

// partShown are those of which a page shows some: the latest months, what is
// placed whatever it is, kinds of slab that are common enough to say something.
var partShown = []string{
	".cracks.cells[].rate_per_100_placement_years", ".cracks.cells[].risk_1yr", ".cracks.cells[].risk_warranty", ".cracks.cells[].share_full_year",
	".margin.months[].against_bid", ".margin.months[].bid_margin_pct", ".margin.months[].callback", ".margin.months[].callback_reserve", ".margin.months[].delay",
	".margin.months[].change_orders", ".margin.months[].labor_efficiency", ".margin.months[].margin_pct", ".margin.months[].margin_pct_after_reserve", ".margin.months[].other", ".margin.months[].usage", ".margin.months[].volume",
	".visits.callbacks.months[].cost",
	".overage.by_size[].chance_short", ".overage.by_size[].next_job.p10", ".overage.by_size[].next_job.p50", ".overage.by_size[].next_job.p80", ".overage.by_size[].next_job.p90",
}

// figuresOf gathers the values of an answer's figures, by their path with the
// numbers of lists left out.
func figuresOf(path string, v any, to map[string][]float64) {
	switch x := v.(type) {
	case []any:
		for _, e := range x {
			figuresOf(path+"[]", e, to)
		}
	case map[string]any:
		if value, isFigure := x["value"]; isFigure && x["method"] != nil {
			if n, known := value.(float64); known {
				to[path] = append(to[path], n)
			}
			return
		}
		for _, name := range slices.Sorted(maps.Keys(x)) {
			at := path + "." + name
			if path == ".overage.fixed_yd" {
				at = path + ".*"
			}
			figuresOf(at, x[name], to)
		}
	}
}

// onPages are the values of all cells.
func onPages(t testing.TB, pages []page.Page) map[float64]bool {
	t.Helper()
	values := map[float64]bool{}
	for _, p := range pages {
		for _, e := range p.Exhibits {
			for _, row := range e.Table.Rows {
				for _, c := range row {
					if c.Value == "" {
						continue
					}
					v, err := strconv.ParseFloat(c.Value, 64)
					if err != nil {
						t.Errorf("%s, %s: a cell of value %q", p.Slug, e.Title, c.Value)
					}
					values[v] = true
				}
			}
		}
	}
	return values
}

func TestEveryFigureOfTheJSONIsOnAPage(t *testing.T) {
	f := trial.CompanyFactors(t)
	figures := map[string][]float64{}
	figuresOf("", factorsJSON(t, f), figures)
	shown := onPages(t, page.Pages(f, page.Options{}))
	for _, path := range slices.Sorted(maps.Keys(figures)) {
		n, all := 0, len(figures[path])
		for _, v := range figures[path] {
			if shown[v] {
				n++
			}
		}
		switch _, left := notShown[path]; {
		case n == all && (left || slices.Contains(partShown, path)):
			t.Errorf("%s is on a page, and this test says that it is not", path)
		case n < all && !left && (n == 0 || !slices.Contains(partShown, path)):
			t.Errorf("%s: %d of %d values are on a page; show them, or say in notShown why not", path, n, all)
		}
	}
	for _, path := range append(slices.Collect(maps.Keys(notShown)), partShown...) {
		if figures[path] == nil {
			t.Errorf("%s is no figure of the JSON", path)
		}
	}
}
