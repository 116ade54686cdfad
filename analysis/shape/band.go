package shape

// Band is an outline of even width along a line of straight stretches and arcs,
// such as a curved walk.
type Band struct {
	WidthFt  float64
	Sections []Section
}

// Section is a stretch of a band between two lines square across it.
type Section struct {
	Side       int     // of one of its two long sides, counted from 0
	LengthFt   float64 // along the middle
	FromA, ToA Point   // the long side's ends
	FromB, ToB Point   // those across from them
	arc        arc
	curved     bool
}

// Band finds that an outline is one: its corners face each other in pairs, each
// pair across the same width, and the sides between two pairs are parallel, or
// arcs around one center (Pappus: such a section is its length along the middle
// times its width).
func (o Outline) Band() (Band, bool) {
	if len(o) < 4 || len(o)%2 != 0 {
		return Band{}, false
	}
	for shift := range o {
		if b, ok := o.bandFrom(shift); ok {
			return b, true
		}
	}
	return Band{}, false
}

// bandFrom is the band one of whose ends runs from the corner before shift to it.
func (o Outline) bandFrom(shift int) (Band, bool) {
	m := len(o)/2 - 1
	facing := func(k int) (a, b Point) { return o.corner(shift + k).at(), o.corner(shift - 1 - k).at() }
	a0, b0 := facing(0)
	band := Band{WidthFt: a0.distance(b0)}
	if o.corner(shift-1).Radius != 0 || o.corner(shift+m).Radius != 0 {
		return Band{}, false
	}
	for k := range m {
		a, b := facing(k)
		a2, b2 := facing(k + 1)
		i := ((shift+k)%len(o) + len(o)) % len(o)
		sec := Section{Side: i, FromA: a, ToA: a2, FromB: b, ToB: b2}
		across := o.corner(shift - 2 - k).Radius
		if !near(a2.distance(b2), band.WidthFt) || !o.section(&sec, i, shift-2-k, across) {
			return Band{}, false
		}
		band.Sections = append(band.Sections, sec)
	}
	return band, true
}

// section fills how long a section is along its middle, and says whether it is
// one.
func (o Outline) section(sec *Section, i, facing int, across float64) bool {
	r := o.corner(i).Radius
	if r == 0 || across == 0 {
		along, over := sec.ToA.minus(sec.FromA), sec.FromB.minus(sec.FromA)
		over2 := sec.ToB.minus(sec.ToA)
		sec.LengthFt = along.length()
		square := func(u, v Point) bool { return abs(u.dot(v)) <= 1e-6*u.length()*v.length() }
		return r == 0 && across == 0 && square(along, over) && square(along, over2) && over.dot(over2) > 0
	}
	one, other := o.arcOf(i), o.arcOf(((facing%len(o))+len(o))%len(o))
	if r*across > 0 || one.center.distance(other.center) > 1e-6*one.radius || !near(one.sweep(), other.sweep()) {
		return false
	}
	sec.LengthFt, sec.arc, sec.curved = (one.radius+other.radius)/2*one.sweep(), one, true
	return true
}

// Across are the two ends of a line square across the section, a share of the way
// along it.
func (s Section) Across(share float64) (a, b Point) {
	if !s.curved {
		return s.FromA.plus(s.ToA.minus(s.FromA).times(share)), s.FromB.plus(s.ToB.minus(s.FromB).times(share))
	}
	angle := s.arc.from + (s.arc.to-s.arc.from)*share
	a = s.arc.point(angle)
	other := s.arc
	other.radius = s.FromB.distance(s.arc.center)
	return a, other.point(angle)
}

// LongFt is the section's length at a share of the way across it, from its first
// long side to the second.
func (s Section) LongFt(share float64) float64 {
	if !s.curved {
		return s.LengthFt
	}
	a, b := s.arc.radius, s.FromB.distance(s.arc.center)
	return (a + (b-a)*share) * s.arc.sweep()
}
