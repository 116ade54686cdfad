package shape

// Slab is a slab with all that is poured in one with it.
type Slab struct {
	Outline     Outline
	Holes       []Outline
	ThicknessIn float64
	DepthsIn    []float64 // one a corner of the outline, or none: ThicknessIn then holds for all
	Edge        Edge
	Steps       Steps
	Curb        Curb
}

// Edge is a thickened edge. DepthIn is the whole depth there.
type Edge struct {
	WidthIn, DepthIn float64
	TaperIn          float64 // over which it rises to the slab's own depth; 0 where it is cut square
	Sides            []int   // counted from 1; all where there are none
}

// Steps are steps of a tread behind each riser, the last of them the top.
type Steps struct {
	Risers          int
	RiseIn, TreadIn float64
	WidthFt         float64
	Solid           bool    // down to the ground of the lowest; else on fill
	WaistIn         float64 // concrete under the treads, square to the slope, on fill
}

// Curb is one along the slab, on top of it.
type Curb struct{ LengthFt, WidthIn, HeightIn float64 }

// Kind is what a piece of volume is.
type Kind string

// The pieces of volume, with what their Sizes are: ft first, inches behind.
const (
	OfRectangle Kind = "rectangle" // length, width; depth
	OfTriangle  Kind = "triangle"  // base, height; depth
	OfCircle    Kind = "circle"    // radius; depth
	OfBand      Kind = "band"      // length along the middle, width; depth
	OfBulge     Kind = "bulge"     // radius, chord, ft²; depth; taken away where the side is hollow
	OfArea      Kind = "area"      // ft²; depth
	OfEdge      Kind = "edge"      // length along the middle; width, how much deeper
	OfTaper     Kind = "taper"     // length along the middle; width, how much deeper at its outer side
	OfWedge     Kind = "wedge"     // the same over an even slab: length at its outer, at its inner line; width, depth: (outer/3 + inner/6) × width × depth
	OfSteps     Kind = "steps"     // width; rise, tread: (1 + 2 + … + Count) × rise × tread × width
	OfWaist     Kind = "waist"     // width; rise, tread, waist: Count × √(rise² + tread²) × waist × width
	OfRisers    Kind = "risers"    // width; rise, tread: Count × rise × tread ÷ 2 × width
	OfCurb      Kind = "curb"      // length; width, height
)

// Piece is a piece of the volume, as it can be worked out with a pencil.
type Piece struct {
	Kind     Kind
	Hole     int   // the hole that is taken away, counted from 1
	Side     int   // the side that it runs along, counted from 1
	Corners  []int // counted from 1, where it lies between those
	Count    int
	Half     bool      // counted half: a quadrilateral is cut by either diagonal
	Sizes    []float64 // see the kinds
	DepthsIn []float64 // whose mean is the depth, where they differ
	Ft3      float64   // below 0 where it is taken away
}

// Whole is a shape worked out.
type Whole struct {
	Pieces  []Piece
	AreaFt2 float64 // of the slab from above, holes out; with the treads of steps
	Ft3     float64
}

// Yd3 is the volume.
func (w Whole) Yd3() float64 { return w.Ft3 * 12 / (12 * 27) }

// WorkOut is the slab's volume piece by piece, or what is wrong with it.
func (s *Slab) WorkOut() (Whole, *Problem) {
	var w Whole
	if p := s.check(); p != nil {
		return w, p
	}
	if len(s.Outline) > 0 {
		w.AreaFt2 = s.Outline.AreaFt2()
		w.Pieces = s.body()
		for k, h := range s.Holes {
			w.AreaFt2 -= h.AreaFt2()
			w.Pieces = append(w.Pieces, s.hole(k, h))
		}
		edges, p := s.edges()
		if p != nil {
			return Whole{}, p
		}
		w.Pieces = append(w.Pieces, edges...)
	}
	w.Pieces = append(w.Pieces, s.Steps.pieces()...)
	w.AreaFt2 += s.Steps.AreaFt2()
	if c := s.Curb; c != (Curb{}) {
		w.Pieces = append(w.Pieces, Piece{Kind: OfCurb, Sizes: []float64{c.LengthFt, c.WidthIn, c.HeightIn}, Ft3: c.LengthFt * c.WidthIn * c.HeightIn / 144})
	}
	for _, p := range w.Pieces {
		w.Ft3 += p.Ft3
	}
	return w, nil
}

// check finds what is wrong before anything is worked out.
func (s *Slab) check() *Problem {
	if p := s.Steps.check(); p != nil {
		return p
	}
	if c := s.Curb; c != (Curb{}) && !(c.LengthFt > 0 && c.WidthIn > 0 && c.HeightIn > 0) {
		return &Problem{What: NoCurb}
	}
	if len(s.Outline) == 0 && s.Steps.Risers > 0 {
		return nil
	}
	if p := s.Outline.Check(0); p != nil {
		return p
	}
	if p := s.checkHoles(); p != nil {
		return p
	}
	return s.checkDepths()
}

func (s *Slab) checkDepths() *Problem {
	if n := len(s.DepthsIn); n > 0 && n != len(s.Outline) {
		return &Problem{What: DepthCount, Value: float64(n), Limit: float64(len(s.Outline))}
	}
	for i, d := range s.DepthsIn {
		if !(d > 0) {
			return &Problem{What: NoDepth, Corner: i + 1, Value: d}
		}
	}
	if len(s.DepthsIn) == 0 && !(s.ThicknessIn > 0) {
		return &Problem{What: NoDepth, Value: s.ThicknessIn}
	}
	return nil
}

// depth is the depth at a corner, counted from 0, in inches.
func (s *Slab) depth(i int) float64 {
	if len(s.DepthsIn) == 0 {
		return s.ThicknessIn
	}
	return s.DepthsIn[i%len(s.Outline)]
}

// level says whether the slab has one depth.
func (s *Slab) level() bool {
	for i := range s.DepthsIn {
		if s.DepthsIn[i] != s.DepthsIn[0] {
			return false
		}
	}
	return true
}

func (s *Slab) depths(corners ...int) []float64 {
	if s.level() {
		return []float64{s.depth(0)}
	}
	out := make([]float64, len(corners))
	for k, i := range corners {
		out[k] = s.depth(i)
	}
	return out
}

func mean(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x
	}
	return sum / float64(len(xs))
}
