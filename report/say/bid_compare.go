package say

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"pourback/analysis/bid"
)

// Compared says how two bids differ.
type Compared struct{ *Voice }

// BidsCompared names what the tables on two bids hold.
type BidsCompared struct {
	Title, RowsTitle, Caption, What, More       string
	SpecTitle, SpecCaption, Entered             string
	SettingsTitle, SettingsCaption, Goes, Below string
}

// Heads are the titles and heads of a comparison.
func (w Compared) Heads(c *bid.Comparison) BidsCompared {
	ids := with{"one": Count(int(c.One.ID)), "other": Count(int(c.Other.ID))}
	return BidsCompared{Title: w.say("Bids {one} and {other} side by side", ids), RowsTitle: w.text("Line by line"), Caption: w.text("Side by side; ● marks what differs"), What: w.text("What"), More: w.text("Difference"),
		SpecTitle: w.text("What was entered"), SpecCaption: w.text("What was entered otherwise"), Entered: w.text("Entered"),
		SettingsTitle: w.text("What each goes by"), SettingsCaption: w.text("Prices and assumptions that differ"), Goes: w.text("Setting"),
		Below: w.text("Lines of cost are averages. The price adds overhead, the margin, and how sure you want to be of it.")}
}

// ChangesTitle heads what a revision changed.
func (w Compared) ChangesTitle(c *bid.Comparison) string {
	return w.say("What changed since bid {id}", with{"id": Count(int(c.One.ID))})
}

// Column heads one of the two bids; one that is not kept has no number.
func (w Compared) Column(k *bid.Kept) string {
	if k.ID == 0 {
		return w.text("This bid")
	}
	return w.say("Bid {id}", with{"id": Count(int(k.ID))})
}

// Mark marks a row that differs.
func (w Compared) Mark(what string) string { return w.say("● {what}", with{"what": what}) }

// Answer says in a sentence which of the two asks more, and why.
func (w Compared) Answer(c *bid.Comparison) string {
	r := c.Row(bid.CompareAsked)
	said := with{"one": Count(int(c.One.ID)), "other": Count(int(c.Other.ID)), "by": w.Exactly(math.Abs(r.Other - r.One)), "price": w.Exactly(r.One), "why": w.why(c)}
	switch {
	case c.Same():
		return w.say("Bids {one} and {other} are alike: both ask {price}.", with{"one": said["one"], "other": said["other"], "price": said["price"]})
	case !r.Differs && said["why"] == "":
		return w.say("Bids {one} and {other} both ask {price}.", with{"one": said["one"], "other": said["other"], "price": said["price"]})
	case !r.Differs:
		return w.say("Bids {one} and {other} both ask {price}: {why}.", with{"one": said["one"], "other": said["other"], "price": said["price"], "why": said["why"]})
	}
	return w.apart(r.Other > r.One, said) + w.terms(c)
}

func (w Compared) apart(more bool, said with) string {
	bare := with{"one": said["one"], "other": said["other"], "by": said["by"]}
	full := with{"one": said["one"], "other": said["other"], "by": said["by"], "why": said["why"]}
	switch why := said["why"] != ""; {
	case more && why:
		return w.say("Bid {other} asks {by} more than bid {one}: {why}.", full)
	case more:
		return w.say("Bid {other} asks {by} more than bid {one}.", bare)
	case why:
		return w.say("Bid {other} asks {by} less than bid {one}: {why}.", full)
	}
	return w.say("Bid {other} asks {by} less than bid {one}.", bare)
}

// why names the lines of cost that differ most.
func (w Compared) why(c *bid.Comparison) string {
	var said []string
	for _, r := range c.Biggest() {
		line := with{"line": Bid(w).Item(r.Item), "by": w.Exactly(math.Abs(r.Other - r.One))}
		switch more := r.Other > r.One; {
		case more && len(said) == 0:
			said = append(said, w.say("{line} adds {by} to the cost", line))
		case more:
			said = append(said, w.say("{line} adds {by}", line))
		case len(said) == 0:
			said = append(said, w.say("{line} takes {by} off the cost", line))
		default:
			said = append(said, w.say("{line} takes off {by}", line))
		}
	}
	return strings.Join(said, ", ")
}

// terms says what else moves the price: the margin and how sure it is to be.
func (w Compared) terms(c *bid.Comparison) string {
	said := ""
	if r := c.Row(bid.CompareTarget); r.Differs {
		said += " " + w.say("The target margin goes from {one} to {other}.", with{"one": w.Percent(r.One), "other": w.Percent(r.Other)})
	}
	if r := c.Row(bid.CompareCertainty); r.Differs {
		said += " " + w.say("The chance to keep it goes from {one} to {other}.", with{"one": w.Percent(r.One), "other": w.Percent(r.Other)})
	}
	return said
}

// Revised says which bid a bid takes the place of, and what changed.
func (w Compared) Revised(c *bid.Comparison) string {
	if c.Other.ID == 0 {
		return w.say("It would take the place of bid {id}.", with{"id": Count(int(c.One.ID))}) + " " + w.revision(c)
	}
	return w.say("Bid {other} takes the place of bid {one}, as version {n}.", with{"one": Count(int(c.One.ID)), "other": Count(int(c.Other.ID)), "n": Count(c.Other.Version)}) + " " + w.revision(c)
}

// revision is what a revision changed: price, then why.
func (w Compared) revision(c *bid.Comparison) string {
	r, why := c.Row(bid.CompareAsked), w.why(c)
	by := w.Exactly(math.Abs(r.Other - r.One))
	switch {
	case c.Same():
		return w.text("Nothing that shows has changed.")
	case !r.Differs && why == "":
		return w.say("The price stays at {price}.", with{"price": w.Exactly(r.One)}) + w.terms(c)
	case !r.Differs:
		return w.say("The price stays at {price}: {why}.", with{"price": w.Exactly(r.One), "why": why}) + w.terms(c)
	case r.Other > r.One && why == "":
		return w.say("It asks {by} more.", with{"by": by}) + w.terms(c)
	case r.Other > r.One:
		return w.say("It asks {by} more: {why}.", with{"by": by, "why": why}) + w.terms(c)
	case why == "":
		return w.say("It asks {by} less.", with{"by": by}) + w.terms(c)
	}
	return w.say("It asks {by} less: {why}.", with{"by": by, "why": why}) + w.terms(c)
}

// What names a quantity of a comparison.
func (w Compared) What(r bid.Compared) string {
	switch r.What {
	case bid.CompareAsked:
		return w.text("Ask")
	case bid.CompareArea:
		return w.text("Area")
	case bid.CompareNeat:
		return w.text("Neat volume")
	case bid.CompareUsed:
		return w.text("Expected use")
	case bid.CompareOrder:
		return w.text("Order")
	case bid.CompareHours:
		return w.text("Hours")
	case bid.CompareSteel:
		return w.text("Reinforcement by weight")
	case bid.CompareJoints:
		return w.text("Joints")
	case bid.CompareCost:
		return w.say("Cost: {line}", with{"line": Bid(w).Item(r.Item)})
	case bid.CompareTotal:
		return w.text("Cost of the job")
	case bid.CompareLoaded:
		return w.text("Cost with overhead")
	case bid.ComparePrice:
		return w.text("Price for the target margin")
	case bid.CompareTarget:
		return w.text("Target margin")
	case bid.CompareCertainty:
		return w.text("Chance to keep it")
	case bid.CompareMargin:
		return w.text("Margin on average")
	case bid.CompareLoss:
		return w.text("Chance of a loss")
	}
	return Clean(string(r.What), ShortName)
}

// Amount is a quantity of a comparison, more says that it is a difference.
func (w Compared) Amount(unit string, v float64, more bool) string {
	plus := ""
	if more && v > 0 {
		plus = "+"
	}
	switch unit {
	case moneyUnit:
		return plus + w.Voice.Amount(v, 0)
	case "yd":
		return plus + Bid(w).Hundredths(v)
	case "share":
		n := trimmed(100*v, 1)
		switch {
		case !more:
			return w.unit(n, "%")
		case n == "1" || n == "−1":
			return plus + w.say("{n} point", with{"n": n})
		}
		return plus + w.say("{n} points", with{"n": n})
	}
	return plus + w.Short(Bid(w).Of(unit), figureOf(v))
}

// Key is what was entered, as the form for bids calls it, of a placement where there
// are several.
func (w Compared) Key(s bid.SpecChange) string {
	what := Clean(Site(w).BidField(s.Key), ShortName)
	if item, is := strings.CutPrefix(s.Key, "items."); is {
		what = w.say("Cost: {line}", with{"line": Clean(item, ShortName)})
	}
	if s.Of == "" {
		return what
	}
	return w.say("{name}, {what}", with{"name": Clean(s.Of, ShortName), "what": what})
}

// sharesEntered are what is entered as a share and kept as a part of one.
var sharesEntered = []string{"target_margin", "certainty", "overhead", "contingency"}

// Entered is what was entered for a key.
func (w Compared) Entered(key, value string) string {
	v, err := strconv.ParseFloat(value, 64)
	switch {
	case value == "":
		return w.text("not given")
	case err == nil && slices.Contains(sharesEntered, key):
		return w.unit(trimmed(100*v, 1), "%")
	case err == nil:
		return value
	case value == "true":
		return w.text("yes")
	case strings.ContainsAny(value, "{["): // corners, a forecast: the drawing and the day show them
		return w.text("as entered")
	}
	return Clean(w.Word(value), ShortName)
}
