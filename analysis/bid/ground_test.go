package bid

import (
	"reflect"
	"sync"
	"testing"

	"pourback/analysis/concrete"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

func inventedHistory(t testing.TB, jobs int) *record.History {
	t.Helper()
	set, _, err := invented.Generate(invented.Options{Jobs: jobs, Seed: 5, Until: record.DateOf(2026, 3, 31)})
	if err != nil {
		t.Fatal(err)
	}
	return record.NewHistory(record.DateOf(2026, 3, 31), set)
}

// typed are the specs of somebody who types: each is one more change.
func typed() []Spec {
	drive := Placement{Use: "driveway", LengthFt: 40, WidthFt: 19.5, ThicknessIn: 4, Method: "pump", Reinforcement: "rebar", JointSpacingFt: 10}
	walk := Placement{Use: "terrace", LengthFt: 40, WidthFt: 4, ThicknessIn: 4}
	thick, mesh := drive, drive
	thick.ThicknessIn, mesh.Reinforcement = 5, "mesh"
	return []Spec{{Placements: []Placement{drive}}, {On: "7", Placements: []Placement{drive}}, {On: "7", Placements: []Placement{thick}},
		{On: "7", Crew: "Heron", Placements: []Placement{mesh}}, {On: "7", Placements: []Placement{drive, walk}}}
}

// TestBidsOfOneGround: bids that share a ground, made side by side, are what each would
// be by itself, to the last digit.
func TestBidsOfOneGround(t *testing.T) {
	h := inventedHistory(t, 60)
	g, err := GroundOf(h, setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	specs := typed()
	at := concrete.Progress{PlacedYd: 5, Covered: .5, OnHandYd: 2}
	var wait sync.WaitGroup
	for range 3 {
		for i, spec := range specs {
			wait.Go(func() {
				got, err := g.Make(spec, Lean{})
				if err != nil {
					t.Error(err)
					return
				}
				want, err := MakeLeaning(inventedHistory(t, 60), spec, setting.Options{}, Lean{})
				if err != nil {
					t.Error(err)
					return
				}
				if !reflect.DeepEqual(got, want) {
					t.Errorf("spec %d: another bid on shared ground", i)
				}
			})
		}
	}
	wait.Wait()
	call, err := g.Balance(specs[0], 0, at)
	if err != nil {
		t.Fatal(err)
	}
	alone, err := Balance(h, specs[0], setting.Options{}, 0, at)
	if err != nil || !reflect.DeepEqual(call, alone) {
		t.Errorf("%+v, by itself %+v, %v", call, alone, err)
	}
	table, err := g.Reckoner(specs[0])
	if err != nil {
		t.Fatal(err)
	}
	if alone, err := reckonerOf(h, specs[0], setting.Options{}); err != nil || !reflect.DeepEqual(table, alone) {
		t.Errorf("%+v, by itself %+v, %v", table, alone, err)
	}
}

// TestOptions: each option does one thing otherwise, is a bid of its own, and what
// nothing changes is none.
func TestOptions(t *testing.T) {
	g, err := GroundOf(inventedHistory(t, 60), setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	spec := Spec{Placements: []Placement{{Use: "driveway", LengthFt: 40, WidthFt: 20, ThicknessIn: 4, Reinforcement: "rebar", Bar: "#4", JointSpacingFt: 10}}}
	b, err := g.Make(spec, Lean{})
	if err != nil {
		t.Fatal(err)
	}
	tried, met := g.Try(b), map[OptionWay]int{}
	for _, o := range tried {
		met[o.Way]++
		alone, err := g.Make(o.Spec, Lean{})
		if err != nil || !reflect.DeepEqual(alone, o.Bid) {
			t.Errorf("%s is not the bid of its own spec: %v", o.Way, err)
		}
		if len(o.By.Spec) == 0 {
			t.Errorf("%s changes nothing", o.Way)
		}
		p := o.Spec.Placements[0]
		if o.Way == OptionMesh && (p.Bar != "" || p.Reinforcement != "mesh" || p.JointSpacingFt != 10) {
			t.Errorf("mesh: %+v", p)
		}
	}
	if met[OptionRebar] != 0 || met[OptionChute] != 0 {
		t.Errorf("what is asked for already is no option: %v", met)
	}
	if met[OptionNoSteel] != 1 || met[OptionMesh] != 1 || met[OptionPump] != 1 || met[OptionJoints] != 2 {
		t.Errorf("options: %v", met)
	}
	if spec.Placements[0].Bar != "#4" || b.Spec.Placements[0].Reinforcement != "rebar" {
		t.Error("an option has changed the bid")
	}
}

// BenchmarkAsOneTypes is a bid after each change of a spec, at 600 placements, beside
// all of it anew.
func BenchmarkAsOneTypes(b *testing.B) {
	set, _, err := invented.Generate(invented.Options{Until: record.DateOf(2026, 3, 31)})
	if err != nil {
		b.Fatal(err)
	}
	h, specs := record.NewHistory(record.DateOf(2026, 3, 31), set), typed()
	g, err := GroundOf(h, setting.Options{})
	if err != nil {
		b.Fatal(err)
	}
	if _, err := g.Make(specs[0], Lean{}); err != nil {
		b.Fatal(err)
	}
	for name, bid := range map[string]func(Spec) (*Bid, error){
		"kept ground": func(s Spec) (*Bid, error) { return g.Make(s, Lean{}) },
		"anew":        func(s Spec) (*Bid, error) { return Make(h, s, setting.Options{}) },
	} {
		b.Run(name, func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				if _, err := bid(specs[i%len(specs)]); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
