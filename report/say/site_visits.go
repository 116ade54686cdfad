package say

import "pourback/analysis/visits"

// Words of the visits, of a slab's story and of the calendar's address.

func (s Site) VisitsTitle() string  { return s.text("Visits") }
func (s Site) GoTo() string         { return s.text("Worth the drive") }
func (s Site) OpenCalls() string    { return s.text("Open callbacks, the oldest first") }
func (s Site) PassBySites() string  { return s.text("When you pass by") }
func (s Site) BackToVisits() string { return s.text("All visits") }
func (s Site) FeedTitle() string    { return s.text("Visits in your calendar") }
func (s Site) MakeFeed() string     { return s.text("Make a secret address") }
func (s Site) RenewFeed() string    { return s.text("Make a new address") }
func (s Site) EndFeed() string      { return s.text("Take the address away") }
func (s Site) NoFeed() string       { return s.text("The calendar has no address yet.") }
func (s Site) NewFeed(first bool) string {
	if first {
		return s.text("Copy this address into your calendar program. It is not shown again.")
	}
	return s.text("Copy this address into your calendar program. It is not shown again, and the one before leads nowhere now.")

}
func (s Site) FeedMeans() string {
	return s.text("Whoever has the address sees which slabs to look at, and when. No prices stand in it. It works where these pages can be reached.")
}

// HasFeed says since when the calendar has an address, and who made it.
func (s Site) HasFeed(day, who string) string {
	return s.say("The calendar has an address, made on {day} by {who}. Lost it? Make a new one.", with{"day": s.AsOf(day), "who": s.Person(who)})
}

// JobNamed names a job by its number.
func (s Site) JobNamed(job string) string {
	return s.say("Job {job}", with{"job": Clean(job, ShortName)})
}

// AtStake says what a site has at stake, "" where that is under a dollar.
func (s Site) AtStake(worth float64) string {
	if worth < 1 {
		return ""
	}
	return s.say("About {worth} at stake.", with{"worth": s.Dollars(worth)})
}

// OpenCall says what an open callback is about and how old it is.
func (s Site) OpenCall(c *visits.OpenCallback) string {
	values := with{"kind": Capital(s.Word(c.Kind)), "age": s.Days(c.AgeDays)}
	if c.InForce {
		return s.say("{kind}, open for {age}. Under warranty.", values)
	}
	return s.say("{kind}, open for {age}. The warranty has ended.", values)
}

// NoSlab says that no such slab is on record, and which name comes near.
func (s Site) NoSlab(asked string) string {
	return s.say("No slab {slab} is on record.", with{"slab": Clean(asked, ShortName)})
}
func (s Site) NoSlabDo(near string) string {
	if near == "" {
		return s.text("Look for it among the visits.")
	}
	return s.say("Did you mean {slab}?", with{"slab": Clean(near, ShortName)})
}
