package out

import (
	"io"

	"pourback/report/page"
)

// SiteStyle and SiteScript are what every page of the report looks and moves by,
// as files of a site: its pages hold neither.
func SiteStyle() string  { return style }
func SiteScript() string { return boot }

// SiteLink leads to a page, or to a group of pages by its first.
type SiteLink struct {
	Title, Href string
	Current     string // page where it leads to the page itself, true where to one of its group
}

// SiteNav leads to the overview and to each group of pages.
func SiteNav(pages []page.Page, at int, href func(slug string) string) []SiteLink {
	var links []SiteLink
	for _, l := range nav(pages, pages[at], href) {
		links = append(links, SiteLink{l.Title, l.Href, l.Current})
	}
	return links
}

// WriteTopic writes what stands on a page, without what surrounds it.
func WriteTopic(w io.Writer, pages []page.Page, at int, href func(slug string) string) error {
	v := view(pages[at], href)
	v.Siblings = siblings(pages, pages[at], href)
	return templates.ExecuteTemplate(w, "topic", v)
}
