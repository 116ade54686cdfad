package say

// BidField names a field of the form for a bid by the key that it is kept under.
func (s Site) BidField(key string) string {
	for _, of := range []func(string) string{s.jobField, s.dayField, s.priceField, s.slabField, s.shapeField} {
		if name := of(key); name != "" {
			return name
		}
	}
	return key
}

func (s Site) jobField(key string) string {
	switch key {
	case "name":
		return s.text("Name or customer")
	case "site":
		return s.text("Address")
	case "job_no":
		return s.text("Job number")
	case "on":
		return s.text("Day or month of the pour")
	case "crew":
		return s.text("Crew")
	case "crew_size":
		return s.text("People in the crew")
	case "haul_min":
		return s.text("Minutes from plant to site")
	case "warranty_months":
		return s.text("Months of warranty")
	case "target_margin":
		return s.text("Share of the price to keep")
	case "certainty":
		return s.text("How sure to keep it")
	case "overhead":
		return s.text("Overhead, share of the cost")
	case "contingency":
		return s.text("Contingency, share of the cost")
	case "none_needed":
		return s.text("Lines of cost this job does not have")
	case "draws":
		return s.text("Simulated jobs")
	}
	return ""
}

func (s Site) dayField(key string) string {
	switch key {
	case "start":
		return s.text("First truck on site at")
	case "truck_yd":
		return s.text("What a truck holds, yd³")
	case "plant_spacing_min":
		return s.text("Minutes between trucks")
	case "discharge_limit_min":
		return s.text("Minutes from batching to empty, agreed with the plant")
	case "forecast":
		return s.text("Forecast of the day")
	case "concrete_temp_f":
		return s.text("Concrete as delivered, °F")
	}
	return ""
}

func (s Site) priceField(key string) string {
	switch key {
	case "concrete_per_yd":
		return s.text("Concrete, a yard delivered")
	case "labor_per_hour":
		return s.text("Labor, a person's hour with burden")
	case "pump_hire":
		return s.text("Pump, a pour")
	case "pump_per_yd":
		return s.text("Pump, a yard")
	case "pump_per_hour":
		return s.text("Pump, an hour on site")
	case "pump_min_hours":
		return s.text("Pump, hours charged at least")
	case "mesh_per_sqft":
		return s.text("Mesh, a square foot")
	case "rebar_per_sqft":
		return s.text("Rebar, a square foot")
	case "fiber_per_yd":
		return s.text("Fiber, a yard of concrete")
	case "cut_per_ft":
		return s.text("Saw cut, a foot: blade and water")
	case "base_per_sqft":
		return s.text("Base, a square foot")
	case "excavation_per_sqft":
		return s.text("Digging, a square foot")
	case "forms_per_ft":
		return s.text("Forms, a foot")
	case "haul_off":
		return s.text("Hauling off")
	case "cure_per_sqft":
		return s.text("Curing compound, a square foot")
	case "seal_per_sqft":
		return s.text("Sealer, a square foot")
	case "cold_per_yd":
		return s.text("Cold weather, a yard: hot water, accelerator")
	case "blankets_per_sqft":
		return s.text("Blankets, a square foot")
	case "equipment":
		return s.text("Equipment")
	case "subcontract":
		return s.text("Subcontracts")
	case "permits":
		return s.text("Permits and inspections")
	case "travel":
		return s.text("Travel")
	case "clean_up":
		return s.text("Clean-up")
	}
	return ""
}

func (s Site) slabField(key string) string {
	switch key {
	case "slab name":
		return s.text("What to call it")
	case "use":
		return s.text("What it is")
	case "length_ft":
		return s.text("Length, ft")
	case "width_ft":
		return s.text("Width, ft")
	case "thickness_in":
		return s.text("Thickness, in")
	case "method":
		return s.text("Placed by")
	case "reinforcement":
		return s.text("Steel")
	case "joint_spacing_ft":
		return s.text("Joints no farther apart than, ft")
	case "day":
		return s.text("Pour day: 1, 2 …")
	case "pump_outfit":
		return s.text("Pump outfit")
	case "hose_in":
		return s.text("Hose, in")
	case "mix":
		return s.text("Plant's name for the mix")
	case "mix_psi":
		return s.text("Strength, psi")
	case "max_aggregate_in":
		return s.text("Largest rock, in")
	case "slump_in":
		return s.text("Slump, in")
	case "air_pct":
		return s.text("Air in the concrete, %")
	case "admixtures":
		return s.text("Admixtures")
	case "retarder":
		return s.text("Retarder")
	case "fiber_lb_per_yd":
		return s.text("Fiber, lb a yard")
	case "base":
		return s.text("Base")
	case "bar":
		return s.text("Bar or mesh")
	case "bar_spacing_in":
		return s.text("Between bars, in")
	case "joint_cut":
		return s.text("Joints made by")
	case "finish":
		return s.text("Finish")
	case "curing":
		return s.text("Curing")
	}
	return ""
}

func (s Site) shapeField(key string) string {
	switch key {
	case "area_sqft":
		return s.text("Area alone, sq ft")
	case "outline":
		return s.text("Shape")
	case "holes":
		return s.text("Left out")
	case "notch_length_ft":
		return s.text("Missing corner along the length, ft")
	case "notch_width_ft":
		return s.text("Missing corner along the width, ft")
	case "depths":
		return s.text("Depth at each corner, in")
	case "edge_width_in":
		return s.text("Thick edge: width, in")
	case "edge_depth_in":
		return s.text("Thick edge: whole depth, in")
	case "edge_taper_in":
		return s.text("Thick edge: taper, in")
	case "edge_sides":
		return s.text("Thick edge: on sides")
	case "against":
		return s.text("Sides at a house or old concrete")
	case "existing_joints":
		return s.text("Where old joints come in")
	}
	return s.stepField(key)
}

func (s Site) stepField(key string) string {
	switch key {
	case "steps.risers":
		return s.text("Steps: risers")
	case "steps.rise_in":
		return s.text("Steps: rise, in")
	case "steps.tread_in":
		return s.text("Steps: tread, in")
	case "steps.width_ft":
		return s.text("Steps: width, ft")
	case "steps.solid":
		return s.text("Steps: solid to the ground")
	case "curb.length_ft":
		return s.text("Curb: length, ft")
	case "curb.width_in":
		return s.text("Curb: width, in")
	case "curb.height_in":
		return s.text("Curb: height, in")
	}
	return ""
}

// BidExample shows how a field may be written, "" where that goes without saying.
func (s Site) BidExample(key string) string {
	switch key {
	case "on":
		return s.text("2026-07-14, or July")
	case "none_needed":
		return s.text("permits, travel")
	case "day":
		return s.text("slabs of one day share trucks")
	case "edge_sides", "against":
		return s.text("1, 3 (side 1 runs from the first corner)")
	case "outline":
		return s.text("circle 30, L 20 x 16 less 8 x 6, or corners: 0, 0; 40, 0; 40, 24")
	case "holes":
		return s.text("circle 4 at 15, 15")
	case "admixtures":
		return s.text("water reducer 5 oz/cwt")
	}
	return map[string]string{"length_ft": `40, 24' 6", 7.5 m`, "width_ft": `20, 19' 6"`, "thickness_in": `4, 4 1/2, 100 mm`, "target_margin": "25 %", "certainty": "80 %", "overhead": "12 %", "start": "6:30",
		"forecast": "6:00 78F 40% 5mph; 12:00 101F", "bar": `#3, #4, 6x6-W2.9`, "depths": "4, 4, 10, 10", "existing_joints": "0, 10; 0, 20", "retarder": "3 oz/cwt"}[key]
}
