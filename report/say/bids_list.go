package say

import (
	"strings"

	"pourback/analysis/bid"
)

// Called is a bid by its number, with its name where it was given one.
func (w Bids) Called(o *bid.Outcome) string {
	if o.Name == "" || o.Name == "bid" {
		return w.say("bid {id}", with{"id": Count(int(o.ID))})
	}
	return w.say("bid {id}, {name}", with{"id": Count(int(o.ID)), "name": Clean(o.Name, ShortName)})
}

// open says how many bids are open and since when, and how many of those decided were
// won.
func (w Bids) open(r *bid.Record) string {
	var said []string
	oldest, n := r.Oldest(), len(r.Standing(bid.StandsOpen))
	switch {
	case n == 0:
		said = append(said, w.text("No bid is open."))
	case oldest.Days <= 0:
		said = append(said, w.plural(n, "1 bid open, made today: {bid}.|{n} bids open, all made today.", with{"bid": w.Called(oldest)}))
	default:
		said = append(said, w.plural(n, "1 bid open, for {days}: {bid}.|{n} bids open, the oldest for {days}: {bid}.", with{"days": w.Days(oldest.Days), "bid": w.Called(oldest)}))
	}
	if won, lost := len(r.Standing(bid.StandsWon)), len(r.Standing(bid.StandsLost)); won+lost > 0 {
		said = append(said, w.say("You won {won} of {all} decided.", with{"won": Count(won), "all": Count(won + lost)}))
	}
	return strings.Join(said, " ")
}

// OpenFor is for how long a bid has been open.
func (w Bids) OpenFor(days int) string {
	if days <= 0 {
		return w.text("since today")
	}
	return w.Days(days)
}

// Unmarked says which bids have a job on record and no mark, "" where none has.
func (w Bids) Unmarked(r *bid.Record) string {
	begun := r.Standing(bid.StandsBegun)
	ids := make([]string, len(begun))
	for i, o := range begun {
		ids[i] = Count(int(o.ID))
	}
	if len(ids) == 0 {
		return ""
	}
	if w.OnSite {
		return w.plural(len(ids), "The job of 1 unmarked bid is on record. If you won it, mark it on its page: bid {bids}.|The jobs of {n} unmarked bids are on record. If you won them, mark them on their pages: bids {bids}.",
			with{"bids": strings.Join(ids, ", ")})
	}
	return w.plural(len(ids), "The job of 1 unmarked bid is on record. If you won it, mark it: `{command}`|The jobs of {n} unmarked bids are on record. If you won them, mark them: `{command}`",
		with{"command": "pourback bids --won " + strings.Join(ids, ",")})
}

// Stands names where a bid stands.
func (w Bids) Stands(o *bid.Outcome) string {
	switch o.Stands {
	case bid.StandsOpen:
		return w.text("open")
	case bid.StandsBegun:
		return w.text("job on record, not marked")
	case bid.StandsWon:
		return w.text("won")
	case bid.StandsLost:
		return w.text("lost")
	case bid.StandsReplaced:
		return w.say("replaced by bid {id}", with{"id": Count(int(o.ReplacedBy))})
	case bid.StandsVoid:
		return w.text("void: counts nowhere")
	}
	return ""
}

// Version says which version of which bid a bid is, "" where it revises none.
func (w Bids) Version(o *bid.Outcome) string {
	if o.Revises == 0 {
		return ""
	}
	return w.say("version {n}, in place of bid {id}", with{"n": Count(o.Version), "id": Count(int(o.Revises))})
}

// NamedVersion is a bid by its name, as a later version.
func (w Bids) NamedVersion(name string, version int) string {
	return w.say("{bid} (version {n})", with{"bid": name, "n": Count(version)})
}

// BidsLists names what the lists of bids hold.
type BidsLists struct {
	Bid, Made, Asked, Job, Stands, Next string
	OpenTitle, OpenCaption, OpenFor     string
	DoneTitle, DoneCaption, Said        string
	GoneTitle, GoneCaption              string
}

// Lists are the titles and heads of the lists of bids.
func (w Bids) Lists() BidsLists {
	return BidsLists{Bid: w.text("Bid"), Made: w.text("Made"), Asked: w.text("Asked"), Job: w.text("Job"), Stands: w.text("Where it stands"), Next: w.text("What it waits for"),
		OpenTitle: w.text("Open bids"), OpenCaption: w.text("Open bids, the oldest first"), OpenFor: w.text("Open for"),
		DoneTitle: w.text("Won and lost"), DoneCaption: w.text("Bids won, lost or begun, the latest first"), Said: w.text("Marked"),
		GoneTitle: w.text("Replaced and void"), GoneCaption: w.text("Replaced and void bids, which count nowhere")}
}

// BidStory names what the tables on a kept bid's versions and log hold.
type BidStory struct {
	VersionsTitle, VersionsCaption, Version, Bid, Made, Asked, Stands string
	LogTitle, LogCaption, On, Said                                    string
}

// Story are the titles and heads of a kept bid's versions and log.
func (w Bids) Story() BidStory {
	return BidStory{VersionsTitle: w.text("Versions"), VersionsCaption: w.text("Versions of this bid, the latest first"), Version: w.text("Version"), Bid: w.text("Bid"), Made: w.text("Made"), Asked: w.text("Asked"), Stands: w.text("Where it stands"),
		LogTitle: w.text("What was said of it"), LogCaption: w.text("What was said of this bid, and when"), On: w.text("On"), Said: w.text("Said")}
}

// KeptAs says when a bid was made, as which version, and where it stands.
func (w Bids) KeptAs(o *bid.Outcome) string {
	said := []string{w.say("Bid {id}, as made on {day}.", with{"id": Count(int(o.ID)), "day": w.Day(o.MadeOn)})}
	if v := w.Version(o); v != "" {
		said = append(said, Capital(v)+".")
	}
	return strings.Join(append(said, Capital(w.Stands(o))+"."), " ")
}

// SaidOf is one thing that was said of a bid.
func (w Bids) SaidOf(s bid.Said) string {
	switch {
	case s.Did == "revise":
		return w.say("replaced by bid {id}", with{"id": Clean(s.After, ShortName)})
	case s.Did == "job" && s.After == "":
		return w.say("no longer job {job}", with{"job": Clean(s.Before, ShortName)})
	case s.Did == "job":
		return w.say("became job {job}", with{"job": Clean(s.After, ShortName)})
	case s.After == "":
		return w.say("open again, no longer {was}", with{"was": w.fate(s.Before)})
	case s.Before == "":
		return w.say("marked {fate}", with{"fate": w.fate(s.After)})
	}
	return w.say("marked {fate}, no longer {was}", with{"fate": w.fate(s.After), "was": w.fate(s.Before)})
}

func (w Bids) fate(fate string) string {
	switch bid.Fate(fate) {
	case bid.Won:
		return w.text("won")
	case bid.Lost:
		return w.text("lost")
	case bid.Void:
		return w.text("void")
	}
	return Clean(fate, ShortName)
}
