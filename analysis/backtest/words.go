package backtest

import (
	"fmt"

	"pourback/analysis/figure"
)

// refuse says what a walk through the past takes.
func (b *Backtest) refuse(n int) {
	b.Middle80 = figure.UnknownFor("%s with neat, delivered and leftover yards: it takes %d and two months beyond them", figure.CountOf(n, "placement"), leastKnown)
	b.Below80 = b.Middle80
	b.Answer = fmt.Sprintf("The past is too short to be walked: %s.", figure.Text(b.Middle80.Why))
}

// conclude says what the factors would have been worth.
func (b *Backtest) conclude() {
	ours := b.Rules[0]
	b.Answer = fmt.Sprintf("From %s to %s, orders for %s by these factors, each by what was known then, would have lost about %s a placement beside orders that knew every use beforehand",
		b.From, b.To, figure.CountOf(b.Placements, "placement"), figure.DollarWords(ours.Lost.Value))
	if ten := b.rule("flat_10"); ten != nil {
		b.Answer += fmt.Sprintf("; a flat 10 %% would have lost %s", figure.DollarWords(ten.Lost.Value)) + ten.says()
	}
	b.Answer += "."
	for i := range b.Rules[1:] {
		if r := &b.Rules[i+1]; r.Rule != "flat_10" && (r.Verdict == verdictAsGood || r.Verdict == verdictRule) {
			b.Notes = append(b.Notes, fmt.Sprintf("%s: %s", r.Name(), r.plainly()))
		}
	}
	if len(b.Notes) == 0 {
		b.Notes = append(b.Notes, "No simple rule here is as good as the factors.")
	}
	b.Notes = append(b.Notes,
		"Losses stand on the prices and fees of the settings, which are assumptions where the owner has not set them: a cheap balance load favors short orders, a dear one long orders.",
		"Where nothing was left over and nothing more was called in, a placement may have been cut short: what it used is then the least it needed.")
	if b.Sampled > 1 {
		b.Notes = append(b.Notes, fmt.Sprintf("One placement in %d was ordered for, at even distances.", b.Sampled))
	}
}

func (b *Backtest) rule(name string) *Rule {
	for i := range b.Rules {
		if b.Rules[i].Rule == name {
			return &b.Rules[i]
		}
	}
	return nil
}

// says goes on after a rule's loss.
func (r *Rule) says() string {
	switch f := r.AgainstOurs; r.Verdict {
	case verdictFactors:
		return fmt.Sprintf(", so the factors save %s a placement (between %s and %s)", figure.DollarWords(f.Value), figure.DollarWords(f.Low), figure.DollarWords(f.High))
	case verdictRule:
		return fmt.Sprintf(", which is less: on these records the flat rule is better, by %s a placement", figure.DollarWords(-f.Value))
	case verdictAsGood:
		return ", and the difference is no more than chance makes: on these records the flat rule is as good"
	}
	return ""
}

func (r *Rule) plainly() string {
	if r.Verdict == verdictRule {
		return fmt.Sprintf("better than the factors on these records, by %s a placement.", figure.DollarWords(-r.AgainstOurs.Value))
	}
	return "as good as the factors on these records, as far as they can tell."
}

// Name says a rule in words.
func (r *Rule) Name() string {
	return map[string]string{"factors": "These factors", "flat_5": "Flat 5 %", "flat_10": "Flat 10 %", "flat_15": "Flat 15 %", "last_year": "Last year's mean",
		"p75": "Three in four", "no_pooling": "Each kind alone", "as_ordered": "As ordered"}[r.Rule]
}
