package say

import (
	"strings"

	"pourback/analysis/visits"
	"pourback/ingest/record"
)

// Pictures says how many pictures are kept with a slab, where none is shown.
func (s Slabs) Pictures(n int) string {
	return s.plural(n, "1 picture is kept with this slab.|{n} pictures are kept with this slab.", nil)
}

// MorePictures says how many are kept beside those that are shown.
func (s Slabs) MorePictures(n int) string {
	return s.plural(n, "1 more picture is kept with this slab.|{n} more pictures are kept with this slab.", nil)
}

// PictureAlt says what a picture is to who does not see it.
func (s Slabs) PictureAlt(p *record.Picture) string {
	return s.say("Picture of {slab}, {day}", with{"slab": slab(p.JobNo, p.Placement), "day": s.Day(p.On())})
}

// PictureSays says when a picture was taken, of what, and what was found then; look
// is nil where it belongs to no visit.
func (s Slabs) PictureSays(p *record.Picture, look *visits.StoryLook) string {
	said := []string{p.On().String()}
	switch {
	case look != nil && look.Kind != "":
		said = append(said, s.Word(look.Finding)+", "+s.Word(look.Kind))
	case look != nil:
		said = append(said, s.Word(look.Finding))
	case p.TicketNo != "":
		said = append(said, s.say("load {ticket}", with{"ticket": Clean(p.TicketNo, ShortName)}))
	}
	if p.Caption != "" {
		said = append(said, Clean(p.Caption, ShortName))
	}
	return strings.Join(said, "; ")
}
