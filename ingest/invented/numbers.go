package invented

import "pourback/ingest/record"

// usualTruth is Saltgrass Flatwork as it is unless a test adjusts it. All of it
// is made up.
func usualTruth(first, last record.Date) Truth {
	return Truth{
		Loss: Loss{
			ByUse: map[string]float64{"driveway": 0.045, "walkway": 0.075, "patio": 0.055, "shed slab": 0.035,
				"garage slab": 0.030, "apron": 0.050, "curb": 0.090, "steps": 0.100},
			ByBase:     map[string]float64{"native": 0.020, "compacted": 0, "crushed base": -0.010, "existing slab": -0.010},
			FixedYd:    map[string]float64{"chute": 0.10, "pump": 0.40, "buggy": 0.15, "barrow": 0.15},
			Noise:      0.035,
			NoiseSmall: 2,
			ThickShare: 0.6,
			Botched:    0.008, BotchedFrom: 0.15, BotchedTo: 0.30,
		},
		Labor:  usualLabor(first),
		Pump:   usualPump(),
		Delays: usualDelays(),
		Crack:  usualCrack(),
		Other: []Defect{
			{"scaling", 0.004, 1, Price{900_00, 0.5}},
			{"settlement", 0.003, 2.5, Price{1400_00, 0.5}},
			{"ponding", 0.003, 1, Price{700_00, 0.5}},
			{"finish", 0.006, 1, Price{450_00, 0.5}},
		},
		Choice: Choice{MeshPerF: 0.075, MeshEvenF: 62},
		Money:  usualMoney(first + (last-first)/2),
	}
}

func usualLabor(first record.Date) Labor {
	return Labor{
		Hours400: 26, AreaPower: 0.85, ThickPower: 0.30,
		ByMethod:        map[string]float64{"chute": 0, "pump": -0.08, "buggy": 0, "barrow": 0},
		ByReinforcement: map[string]float64{"none": 0, "fiber": 0, "mesh": 0.06, "rebar": 0.14},
		Crews: []Crew{
			{Name: "Heron", Effect: -0.08, Size: 3, Share: 0.40, Wage: 38_00},
			{Name: "Kestrel", Effect: 0.05, Size: 3, Share: 0.35, Wage: 36_50},
			{Name: "Wren", Effect: 0.03, Started: first + 400, Size: 2, Share: 0.25, Wage: 33_00},
		},
		Learning: -0.22, LearnedAt: 25,
		Noise:     0.18,
		WaitShare: 0.5,
	}
}

func usualPump() Pump {
	return Pump{
		Outfits: []Outfit{
			{"P1", 1.6, 0.35, 3, 155_00},
			{"P2", 2.5, 0.30, 2.5, 145_00},
			{"P3", 3.8, 0.20, 2.5, 140_00},
			{"P4", 6.0, 0.15, 2, 125_00},
		},
		Spots: []Spot{
			{"hose", 0.40, 20}, {"reducer", 0.25, 22}, {"line", 0.15, 25}, {"hopper", 0.08, 15}, {"manifold", 0.12, 45},
		},
		SpotSD: 0.3,
	}
}

func usualDelays() []Cause {
	return []Cause{
		{"truck late", 0.12, 22, 0.5},
		{"plant", 0.03, 30, 0.5},
		{"weather", 0.03, 40, 0.6},
		{"crew", 0.02, 20, 0.4},
		{"equipment", 0.04, 25, 0.5},
		{"form", 0.04, 18, 0.4},
		{"inspection", 0.03, 30, 0.5},
		{"other", 0.02, 15, 0.5},
	}
}

func usualCrack() Crack {
	return Crack{
		Base: 0.22, Shape: 0.55,
		ByReinforcement: map[string]float64{"none": 0, "fiber": -0.10, "mesh": -0.25, "rebar": -0.37},
		PerSpacing:      0.45, SpacingAt: 2.5,
		Per10F: 0.30, HeatAt: 70,
		Drying: 0.30, DryingLimit: 0.2,
		PerSawHour: 0.06, SawBy: 12,
		Cured:    -0.30,
		Reported: 0.40, LagDays: 25,
		Bunched: 0.15, BunchDays: 30, WarrantyDays: 365, AfterWarranty: 0.3,
		CallCost: Price{750_00, 0.5},
	}
}

func usualMoney(rise record.Date) Money {
	return Money{
		ConcreteYd: map[string]record.Cents{"North": 164_00, "River": 159_00},
		Per500PSI:  6_50,
		RiseOn:     rise, RiseBy: 0.075,
		Reinforce:   map[string]record.Cents{"none": 0, "fiber": 22, "mesh": 38, "rebar": 74},
		CrushedBase: 62,
		Disposal:    55_00,
		SmallLoad:   120_00, SmallLoadYd: 4,
		Equipment: 95_00,
		WageRise:  0.03,
		BidWage:   37_00, BidSqftHour: 15,
		Markup: 0.36, MarkupSpread: 0.03,
		Changed: 0.14, ChangedBy: 0.05, ChangedCost: 0.10,
	}
}
