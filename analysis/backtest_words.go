package analysis

import (
	"fmt"
	"strings"
)

// conclude says what the orders would have been worth, and where a flat rule is
// as good.
func (b *Backtest) conclude() {
	ours := &b.Rules[0]
	b.Answer = fmt.Sprintf("Over %s in %s (%s to %s), each ordered for from what was known before its month, our rule lost %s a placement to loads called in, yards left over and short loads.",
		countOf(b.Placements, "placement"), countOf(b.Months, "month"), b.From, b.To, dollarWords(ours.Each.Value))
	var good []string
	for _, r := range b.Rules[1:] {
		switch r.Verdict {
		case OursBetter:
			b.Answer += fmt.Sprintf(" %s lost %s: %s more (between %s and %s).", capital(r.Rule), dollarWords(r.Each.Value), dollarWords(r.Saves.Value), dollarWords(r.Saves.Low), dollarWords(r.Saves.High))
		case ItIsBetter:
			b.Answer += fmt.Sprintf(" %s did better: it lost %s, which is %s less (between %s and %s): use it.", capital(r.Rule), dollarWords(r.Each.Value), dollarWords(-r.Saves.Value), dollarWords(-r.Saves.High), dollarWords(-r.Saves.Low))
		default:
			good = append(good, fmt.Sprintf("%s (%s)", r.Rule, dollarWords(r.Each.Value)))
		}
	}
	if len(good) > 0 {
		b.Answer += fmt.Sprintf(" As good as ours, as far as these months can tell: %s.", strings.Join(good, ", "))
	}
	var uses []string
	for _, u := range b.Uses {
		if u.Verdict != OursBetter {
			uses = append(uses, fmt.Sprintf("%s (%s)", u.Use, u.Flat))
		}
	}
	if len(uses) > 0 {
		b.Answer += fmt.Sprintf(" Looking back, a flat rule would have done as well for %s.", strings.Join(uses, ", "))
	}
	b.Notes = append(b.Notes,
		"The best flat rule of a use is chosen with hindsight, which nobody had: it favors the flat rule.",
		"The dollars stand on the order costs of the settings, the same in all months and for all rules; prices of concrete itself cancel.",
		"Leftover guessed by eye, and loads cut short without a word, count as recorded.",
		"Each placement is ordered for alone; placements that shared trucks lost less under every rule.")
}
