package site

import (
	"slices"
	"sync"

	"pourback/report/page"
)

// pageSet are all pages of an answer in a language and units, with the month spoken of,
// as they are made to be written.
type pageSet struct {
	answer             uint64
	lang, units, month string
}

// mostSets is how many of them are kept: a written page is kept for itself, and the sets
// are large.
const mostSets = 3

// pageSets are those that were made last.
type pageSets struct {
	mu    sync.Mutex
	of    []pageSet
	pages [][]page.Page
}

func (s *pageSets) get(k pageSet) []page.Page {
	s.mu.Lock()
	defer s.mu.Unlock()
	if at := slices.Index(s.of, k); at >= 0 {
		return s.pages[at]
	}
	return nil
}

func (s *pageSets) put(k pageSet, pages []page.Page) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.of, s.pages = append(s.of, k), append(s.pages, pages)
	if gone := len(s.of) - mostSets; gone > 0 {
		s.of, s.pages = slices.Delete(s.of, 0, gone), slices.Delete(s.pages, 0, gone)
	}
}

// pagesOf are an answer's pages in a language and units, with the month spoken of.
func (c *company) pagesOf(is *answer, choice Choice) []page.Page {
	is.making.Lock()
	defer is.making.Unlock()
	k := pageSet{is.number, choice.Lang, choice.Units, choice.Month}
	if pages := c.made.get(k); pages != nil {
		return pages
	}
	pages := page.Pages(is.factors, page.Options{Units: choice.Units, Company: c.settings.Company, Currency: c.settings.Currency, Lang: choice.Lang, Month: choice.Month,
		WithSites: !c.settings.NoNames, Places: is.places, Bids: is.bids, OnSite: true})
	c.made.put(k, pages)
	return pages
}
