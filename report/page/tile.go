package page

import "pourback/report/chart"

// Tile is what a page comes to, at a glance: it leads there.
type Tile struct {
	Slug    string
	Title   string // the question
	Big     string // the answer, in a few words
	Says    string // what it means, in at most twelve
	Hero    bool   // one of those that come first, and larger
	Picture *chart.Chart
	Lines   []TileLine
}

// TileLine is a thing with how much of it there is.
type TileLine struct{ What, Much string }
