package record

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"
)

// Picture is what is known of a picture that is kept with a placement, or with a
// load or a visit of it, beside the picture itself.
type Picture struct {
	JobNo, Placement string

	Picture  string // the random key that its sender gave it, or one made of what it shows and where it belongs
	SeenOn   Date   // of the visit it belongs to; 0 where it belongs to none
	TicketNo string // of the load; "" where it belongs to none
	File     string // its name in an export; always PictureFile of the rest
	TakenAt  Moment
	Caption  string
	XFt, YFt Number // where on the slab, from the left and the top of its drawing
	KeptAt   Moment // UTC
	KeptBy   string

	Latitude, Longitude Number // only where the owner's setting wants them

	WidthPx, HeightPx Count
	Bytes             Count
	SHA256            string // of its bytes, in hex
	TakenBackAt       Moment // UTC; 0 while it stands
}

// Pictures is the table of [Picture]. It is none of the [Tables] that a history
// is made of: no figure rests on it.
var Pictures = &Table{
	Name: "pictures",
	New:  func() Record { return &Picture{} },
	Doc:  "One row per picture, with the file it is in, beside the table.",
	Columns: []Column{
		{Name: "job_no", Required: true, MaxChars: 40, Synonyms: jobNoWords, Doc: "the job's number"},
		{Name: "placement", MaxChars: 40, Synonyms: placementWords, Doc: "which placement of the job; may be empty where it has only one"},
		{Name: "picture", Key: true, MaxChars: 64, Doc: "its key, which no other picture has; made where missing"},
		{Name: "seen_on", Kind: KindDate, Doc: "day of the visit that it belongs to"},
		{Name: "ticket_no", MaxChars: 40, Doc: "delivery ticket of the load that it belongs to"},
		{Name: "file", Required: true, Doc: "the file it is in, from the table's folder"},
		{Name: "taken_at", Kind: KindMoment, Doc: "when it was taken, by the camera's clock"},
		{Name: "caption", Synonyms: noteWords, Doc: "what it shows"},
		{Name: "x_ft", Kind: KindNumber, Unit: Foot, Hard: between(0, 10000), Doc: "where on the slab, from the left of its drawing"},
		{Name: "y_ft", Kind: KindNumber, Unit: Foot, Hard: between(0, 10000), Doc: "where on the slab, from the top of its drawing"},
		{Name: "kept_at", Kind: KindMoment, Doc: "when it was kept, in UTC"},
		{Name: "kept_by", Doc: "who kept it"},
		{Name: "latitude", Kind: KindNumber, Hard: between(-90, 90), Doc: "where it was taken, degrees north; kept only where the setting wants it"},
		{Name: "longitude", Kind: KindNumber, Hard: between(-180, 180), Doc: "degrees east"},
		{Name: "width_px", Kind: KindCount, Doc: "its width in pixels"},
		{Name: "height_px", Kind: KindCount, Doc: "its height"},
		{Name: "bytes", Kind: KindCount, Doc: "how long it is"},
		{Name: "sha256", MaxChars: 64, Doc: "the SHA-256 of its bytes, in hex"},
		{Name: "taken_back_at", Kind: KindMoment, Doc: "when it was taken back, in UTC; empty while it stands"},
	},
}

// Stored lists all tables whose rows are kept, in the order in which they are
// taken in.
var Stored = append(slices.Clone(Tables), Pictures)

// Table is [Pictures].
func (p *Picture) Table() *Table { return Pictures }

// Fields points at the values in the order of the table's columns.
func (p *Picture) Fields() []any {
	return []any{&p.JobNo, &p.Placement, &p.Picture, &p.SeenOn, &p.TicketNo, &p.File, &p.TakenAt, &p.Caption, &p.XFt, &p.YFt,
		&p.KeptAt, &p.KeptBy, &p.Latitude, &p.Longitude, &p.WidthPx, &p.HeightPx, &p.Bytes, &p.SHA256, &p.TakenBackAt}
}

// Place points at the job and the placement that the picture belongs to.
func (p *Picture) Place() (job, placement *string) { return &p.JobNo, &p.Placement }

// Check finds a picture of a visit to come, and one of which nobody can say what
// it belongs to.
func (p *Picture) Check(today Date) []Problem {
	var c checks
	if p.SeenOn > today {
		c.fail("future-visit", "seen_on", p.SeenOn.String(), "a visit in the future", "today is "+today.String())
	}
	if p.SeenOn != 0 && p.TicketNo != "" {
		c.fail("two-owners", "ticket_no", p.TicketNo, "belongs to a load and to a visit", "one of them, or a row for each")
	}
	if p.TakenAt.Date() > today {
		c.fail("future-picture", "taken_at", p.TakenAt.String(), "taken in the future", "the camera's clock was wrong: leave it empty; today is "+today.String())
	}
	return c.found
}

// On is the day that the picture shows: when it was taken, or else that of its
// visit, or else when it was kept.
func (p *Picture) On() Date {
	for _, d := range []Date{p.TakenAt.Date(), p.SeenOn, p.KeptAt.Date()} {
		if d != 0 {
			return d
		}
	}
	return 0
}

// PictureFile is the name that the picture has in an export, of letters that are
// safe in every file system: what it belongs to, its day, and digits that its key
// alone has.
func (p *Picture) PictureFile() string {
	var name []string
	for _, part := range []string{p.JobNo, p.Placement, p.On().String()} {
		if part = safeName(part); part != "" {
			name = append(name, part)
		}
	}
	sum := sha256.Sum256([]byte(p.Picture)) // keys may differ in what a file's name does not tell apart
	return "pictures/" + strings.Join(append(name, hex.EncodeToString(sum[:6])), "_") + ".jpg"
}

func safeName(s string) string {
	const most = 40
	s = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-':
			return r
		}
		return '-'
	}, s)
	return s[:min(len(s), most)]
}
