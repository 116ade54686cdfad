package bid

import (
	"slices"
	"strings"

	"pourback/analysis/stat"
)

// Option is the same job done in one other way.
type Option struct {
	Way       OptionWay
	SpacingFt float64 // of [OptionJoints]
	Spec      Spec
}

// OptionWay is what an option does otherwise.
type OptionWay string

// What an option may do otherwise, with every slab.
const (
	OptionNoSteel OptionWay = "no steel"
	OptionMesh    OptionWay = "mesh"
	OptionRebar   OptionWay = "rebar"
	OptionFiber   OptionWay = "fiber"
	OptionChute   OptionWay = "chute"
	OptionPump    OptionWay = "pump"
	OptionJoints  OptionWay = "joints" // no farther apart than SpacingFt
)

// spacings are those that options try, in ft.
var spacings = []float64{6, 8, 10, 12, 15}

// Options are the other ways to do a job that are worth a look beside a bid: each way to
// reinforce it, off the chute or by pump, and joints a step closer and wider. None is
// among them that changes nothing.
func Options(b *Bid) (all []Option) {
	add := func(way OptionWay, spacingFt float64, change func(p *Placement) bool) {
		o, changes := Option{Way: way, SpacingFt: spacingFt, Spec: b.Spec}, false
		o.Spec.Placements = slices.Clone(b.Spec.Placements)
		for i := range o.Spec.Placements {
			changes = change(&o.Spec.Placements[i]) || changes
		}
		if changes {
			all = append(all, o)
		}
	}
	for _, steel := range []struct {
		way  OptionWay
		word string
	}{{OptionNoSteel, "none"}, {OptionMesh, "mesh"}, {OptionRebar, "rebar"}, {OptionFiber, "fiber"}} {
		add(steel.way, 0, func(p *Placement) bool { return p.reinforce(steel.word) })
	}
	for _, method := range []OptionWay{OptionChute, OptionPump} {
		add(method, 0, func(p *Placement) bool {
			was := p.filled(0).Method
			if p.Method = string(method); method != OptionPump {
				p.PumpOutfit, p.HoseIn = "", 0
			}
			return was != p.Method
		})
	}
	longest := b.longestJointFt()
	for _, spacing := range nextTo(longest) {
		add(OptionJoints, spacing, func(p *Placement) bool {
			p.JointSpacingFt = spacing
			return true
		})
	}
	return all
}

// reinforce puts another steel into a slab, without the bars of the one before.
func (p *Placement) reinforce(word string) bool {
	was := p.filled(0).Reinforcement
	if was == word {
		return false
	}
	p.Reinforcement = word
	if !strings.Contains(was, word) {
		p.Bar, p.BarSpacingIn = "", 0
	}
	return true
}

// longestJointFt is the widest spacing of the bid's joints, or 0.
func (b *Bid) longestJointFt() (ft float64) {
	for i := range b.Placements {
		ft = max(ft, b.Placements[i].Joints.LongestFt)
	}
	return ft
}

// nextTo are the spacings next to one, closer and wider; none where it is none.
func nextTo(ft float64) (next []float64) {
	if ft == 0 {
		return nil
	}
	if i := slices.IndexFunc(spacings, func(s float64) bool { return s >= ft-0.5 }); i > 0 {
		next = append(next, spacings[i-1])
	} else if i < 0 {
		next = append(next, spacings[len(spacings)-1])
	}
	if i := slices.IndexFunc(spacings, func(s float64) bool { return s > ft+0.5 }); i >= 0 {
		next = append(next, spacings[i])
	}
	return next
}

// Tried is an option with the bid that comes of it, nil where none can be made so.
type Tried struct {
	Option
	Bid *Bid
	By  *Comparison // with the bid that it is an option to
}

// Try makes the bids of all options to a bid of this ground, side by side.
func (g *Ground) Try(b *Bid) []Tried {
	options := Options(b)
	tried := make([]Tried, len(options))
	stat.InParallel(len(options), func(i int) {
		tried[i].Option = options[i]
		made, err := g.Make(options[i].Spec, b.Lean)
		if err != nil { // such a way of doing it is refused, as a bid of its own would be
			return
		}
		tried[i].Bid, tried[i].By = made, Compare(&Kept{Bid: b}, &Kept{Bid: made})
	})
	return slices.DeleteFunc(tried, func(t Tried) bool { return t.Bid == nil })
}
