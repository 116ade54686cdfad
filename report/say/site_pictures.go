package say

import (
	"strings"

	"pourback/ingest/record"
)

// Words of pictures that are kept from a phone.

func (s Site) PicturesTitle() string { return s.text("Pictures") }
func (s Site) PicturesLife() string  { return s.text("Its life in pictures, the oldest first") }
func (s Site) PicturesAdd() string   { return s.text("Add pictures") }
func (s Site) PicturesKeep() string  { return s.text("Keep the pictures") }
func (s Site) PicturesOf() string    { return s.text("What they belong to") }
func (s Site) CaptionLabel() string  { return s.text("What the pictures show") }

// PicturesHint says what is taken, and of the place where a picture was taken whether
// that is kept.
func (s Site) PicturesHint(most int, place bool) string {
	hint := s.say("Up to {most} at once, 10 MB each.", with{"most": Count(most)})
	if place {
		return hint + " " + s.text("Where a picture was taken is kept with it.")
	}
	return hint + " " + s.text("Where a picture was taken is not kept.")
}

// PicturesOfSlab, PicturesOfLoad and PicturesOfVisit are what pictures can belong to.
func (s Site) PicturesOfSlab() string { return s.text("The slab") }
func (s Site) PicturesOfLoad(ticket string) string {
	return s.say("Truck {ticket}", with{"ticket": Clean(ticket, ShortName)})
}
func (s Site) PicturesOfVisit(day string) string {
	return s.say("Visit of {day}", with{"day": s.AsOf(day)})
}

// PicturesKept says what pictures came to.
func (s Site) PicturesKept(slab string, n int) string {
	return s.plural(n, "{slab}: 1 picture, on record.|{slab}: {n} pictures, on record.", with{"slab": slab})
}

// PictureTitle is that of a picture on its own.
func (s Site) PictureTitle(slab string) string { return s.say("Picture of {slab}", with{"slab": slab}) }
func (s Site) PictureBefore() string           { return s.text("The one before") }
func (s Site) PictureNext() string             { return s.text("The next one") }
func (s Site) BackToSlab() string              { return s.text("Back to the slab") }

// NoPicture says that a picture is not there, or not any more.
func (s Site) NoPicture() string   { return s.text("This picture is not kept.") }
func (s Site) NoPictureDo() string { return s.text("See the slab for those that are kept.") }

// PictureNone refuses a form without pictures.
func (s Site) PictureNone() string   { return s.text("No picture was chosen.") }
func (s Site) PictureNoneDo() string { return s.text("Choose one or more, then send them.") }

// NoPictureChosen is of a pour's form for pictures that brings none.
func (s Site) NoPictureChosen() string   { return s.text("no picture is chosen") }
func (s Site) NoPictureChosenDo() string { return s.text("choose one or more") }

// PicturesEarly refuses pictures of a pour whose day is still to come.
func (s Site) PicturesEarly(day record.Date) string {
	return s.say("This pour is planned for {day}, and nothing of it is on record yet", with{"day": s.Day(day)})
}
func (s Site) PicturesEarlyDo() string {
	return s.text("enter its first truck, then send the pictures")
}

// PicturesOfNone refuses pictures of what is not on record.
func (s Site) PicturesOfNone() string {
	return s.text("What these pictures belong to is not on record any more.")
}

// PicturesMany refuses more pictures than a form may bring.
func (s Site) PicturesMany(most int) string {
	return s.say("More than {most} pictures", with{"most": Count(most)})
}
func (s Site) PicturesManyDo() string {
	return s.text("send some of them, then the others; nothing of this was kept")
}

// PicturesFull says that there is no room for more.
func (s Site) PicturesFull() string { return s.text("There is no room for more pictures") }
func (s Site) PicturesFullDo() string {
	return s.text("send it without them, or ask the owner to make room; nothing of this was kept")
}

// PictureRefused says why no picture is made of a file, by the code of its refusal.
func (s Site) PictureRefused(file, code string) string {
	return s.say("Picture {file}: {why}", with{"file": Clean(file, ShortName), "why": s.pictureWrong(strings.TrimPrefix(code, "picture-"))})
}

func (s Site) pictureWrong(code string) string {
	switch code {
	case "empty":
		return s.text("the file is empty")
	case "too-large":
		return s.text("over 10 MB")
	case "too-wide":
		return s.text("too many pixels")
	case "heic":
		return s.text("HEIC or AVIF, as some phones keep pictures, and that cannot be read")
	case "moving":
		return s.text("it moves")
	case "damaged":
		return s.text("damaged or cut off")
	case "unusual":
		return s.text("saved in a way that cannot be read")
	case "slow":
		return s.text("it takes too long to read")
	}
	return s.text("no picture of a kind that is kept")
}

// PictureRefusedDo says what would be right.
func (s Site) PictureRefusedDo(code string) string {
	switch strings.TrimPrefix(code, "picture-") {
	case "heic":
		return s.text("in the phone's camera settings choose the most compatible format, or send a screenshot of it; nothing of this was kept")
	case "too-large", "too-wide":
		return s.text("make it smaller, and send it again; nothing of this was kept")
	}
	return s.text("send a still picture as JPEG, PNG or WebP; nothing of this was kept")
}

// PicturesTable refuses the table of an export's pictures where files come one at a time.
func (s Site) PicturesTable() string {
	return s.text("This is the list of an export's pictures, and the pictures are not in it.")
}
func (s Site) PicturesTableDo() string {
	return s.text("Add pictures on the page of their slab.")
}
