package site

import (
	"fmt"
	"slices"
	"strings"

	"pourback/report/page"
)

// checkViewers says which topics there are, where others are named.
func checkViewers(topics []string) error {
	for _, topic := range topics {
		if !slices.Contains(page.Slugs(), topic) {
			return fmt.Errorf("viewers_read names %q, which is no page: want some of %s", topic, strings.Join(page.Slugs(), ", "))
		}
	}
	return nil
}

// reads says whether who asks may read of a topic, which bears the name of its page of
// the report: the owner sets which of them viewers do.
func (a *Ask) reads(topic string) bool {
	some := a.Site.Settings.ViewersRead
	return a.Who.Role != Viewer || topic == "" || len(some) == 0 || slices.Contains(some, topic)
}

// readable are the pages that who asks may read.
func (a *Ask) readable(pages []page.Page) []page.Page {
	return slices.DeleteFunc(slices.Clone(pages), func(p page.Page) bool { return !a.reads(p.Slug) })
}

// about is what a question is about, "" where that is no topic of the report.
func (a *Ask) about() string {
	if slug := a.PathValue("slug"); slug != "" {
		return slug
	}
	return topicOf(strings.TrimPrefix(a.route.Pattern, inventedBase))
}

// topicOf is the topic that an address outside the report is about: who may not read
// its page there reads none of it here.
func topicOf(path string) string {
	for begins, topic := range map[string]string{"/bids": "bids", "/visits": "visits", "/slabs": "visits"} {
		if strings.HasPrefix(path, begins) {
			return topic
		}
	}
	return ""
}
