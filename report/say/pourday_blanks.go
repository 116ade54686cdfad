package say

// Gloss is what people call the record's column that is to be written down, with
// its unit.
func (w PourDay) Gloss(column string) string {
	switch column {
	case "placed_on":
		return w.text("Date of the pour")
	case "worked_on":
		return w.text("Date")
	case "placement":
		return w.text("Placement")
	case "crew":
		return w.text("Crew")
	case "crew_size":
		return w.text("People")
	case "measured_thickness_in":
		return w.text("Thickness measured, in")
	case "delivered_yd":
		return w.text("Yards delivered")
	case "leftover_yd":
		return w.text("Yards left over")
	case "air_temp_f":
		return w.text("Air, °F")
	case "concrete_temp_f":
		return w.text("Concrete, °F")
	case "humidity_pct":
		return w.text("Humidity, %")
	case "wind_mph":
		return w.text("Wind, mph")
	}
	return w.glossOfPump(column)
}

func (w PourDay) glossOfPump(column string) string {
	switch column {
	case "pump_outfit":
		return w.text("Who pumps")
	case "hose_in":
		return w.text("Hose, in")
	case "joint_cut":
		return w.text("How joints were cut")
	case "joint_depth_in":
		return w.text("Depth of the cut, in")
	case "saw_hours":
		return w.text("Hours from finish to first cut")
	case "finish":
		return w.text("Finish")
	case "curing":
		return w.text("Curing")
	case "mix":
		return w.text("Mix")
	case "note":
		return w.text("Note")
	}
	return w.glossOfLoad(column)
}

func (w PourDay) glossOfLoad(column string) string {
	switch column {
	case "ticket_no":
		return w.text("Ticket number")
	case "yards":
		return w.text("Yards on the ticket")
	case "batched_at":
		return w.text("Loaded at")
	case "arrived_at":
		return w.text("On site at")
	case "pour_start":
		return w.text("Pour starts")
	case "pour_end":
		return w.text("Pour ends")
	case "slump_in":
		return w.text("Slump, in")
	case "water_added_gal":
		return w.text("Water added, gal")
	}
	return w.glossOfDelay(column)
}

func (w PourDay) glossOfDelay(column string) string {
	switch column {
	case "seq":
		return w.text("No.")
	case "cause":
		return w.text("Cause")
	case "spot":
		return w.text("Where the clog was")
	case "started_at":
		return w.text("Began at")
	case "minutes":
		return w.text("Minutes")
	case "task":
		return w.text("Task")
	case "hours":
		return w.text("Person-hours")
	}
	return ""
}
