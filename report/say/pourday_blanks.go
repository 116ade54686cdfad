package say

// Gloss says what is to be written under the name of a record's column.
func (w PourDay) Gloss(column string) string {
	switch column {
	case "placed_on":
		return w.text("date of the pour")
	case "worked_on":
		return w.text("date")
	case "placement":
		return w.text("placement")
	case "crew":
		return w.text("crew")
	case "crew_size":
		return w.text("people")
	case "measured_thickness_in":
		return w.text("measured, in")
	case "delivered_yd":
		return w.text("delivered, yd³")
	case "leftover_yd":
		return w.text("left over, yd³")
	case "air_temp_f":
		return w.text("air, °F")
	case "concrete_temp_f":
		return w.text("concrete, °F")
	case "humidity_pct":
		return w.text("humidity, %")
	case "wind_mph":
		return w.text("wind, mph")
	case "pump_outfit":
		return w.text("who pumps")
	case "hose_in":
		return w.text("hose, in")
	case "note":
		return w.text("note")
	case "seq":
		return w.text("no.")
	}
	return w.glossOfFinish(column)
}

func (w PourDay) glossOfFinish(column string) string {
	switch column {
	case "joint_cut":
		return w.text("tooled, saw, early-entry")
	case "joint_depth_in":
		return w.text("depth of the cut, in")
	case "saw_hours":
		return w.text("hours from finish to cut")
	case "finish":
		return w.text("broom, trowel …")
	case "curing":
		return w.text("none, water, compound, sheet, blanket")
	case "mix":
		return w.text("mix")
	}
	return w.glossOfLoad(column)
}

func (w PourDay) glossOfLoad(column string) string {
	switch column {
	case "ticket_no":
		return w.text("of the truck")
	case "yards":
		return w.text("yd³ on it")
	case "batched_at":
		return w.text("time loaded")
	case "arrived_at":
		return w.text("time there")
	case "pour_start":
		return w.text("pour starts")
	case "pour_end":
		return w.text("pour ends")
	case "slump_in":
		return w.text("slump, in")
	case "water_added_gal":
		return w.text("water, gal")
	}
	return w.glossOfDelay(column)
}

func (w PourDay) glossOfDelay(column string) string {
	switch column {
	case "cause":
		return w.text("cause, see below")
	case "spot":
		return w.text("where the clog was")
	case "started_at":
		return w.text("time it began")
	case "minutes":
		return w.text("minutes")
	case "task":
		return w.text("task, see below")
	case "hours":
		return w.text("person-hours")
	}
	return ""
}
