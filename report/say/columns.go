package say

import (
	"strings"

	"pourback/ingest/record"
)

// RecordTable names a table of records.
func (v *Voice) RecordTable(name string) string {
	switch name {
	case "jobs":
		return v.text("Jobs")
	case "placements":
		return v.text("Placements")
	case "loads":
		return v.text("Loads")
	case "delays":
		return v.text("Delays")
	case "labor":
		return v.text("Crew hours")
	case "costs":
		return v.text("Costs")
	case "visits":
		return v.text("Visits")
	}
	return name
}

// ColumnLabel names a column of a table in words, with the unit in which its values
// are kept. length, width and size are the measures of a slab that no record keeps.
func (v *Voice) ColumnLabel(table, column string) string {
	name := v.columnName(column)
	t := record.TableNamed(table)
	if t == nil {
		return name
	}
	c := t.Column(column)
	if c == nil || c.Unit == nil || c.Unit.Label == "" {
		return name
	}
	return v.say("{column}, {unit}", with{"column": name, "unit": v.unitLabel(c.Unit)})
}

// unitLabel is the unit in which values are kept, as the language writes it.
func (v *Voice) unitLabel(u *record.Unit) string {
	if u == record.Month {
		return v.text("months")
	}
	return strings.TrimSpace(v.lang.sign(" " + u.Label))
}

func (v *Voice) columnName(column string) string {
	if name := v.slabColumn(column); name != "" {
		return name
	}
	if name := v.workColumn(column); name != "" {
		return name
	}
	if name := v.moneyColumn(column); name != "" {
		return name
	}
	if name := v.eventColumn(column); name != "" {
		return name
	}
	return column
}

// slabColumn names what a slab is and is made of.
func (v *Voice) slabColumn(column string) string {
	switch column {
	case "length":
		return v.text("Length of the slab")
	case "width":
		return v.text("Width of the slab")
	case "size":
		return v.text("Size in one cell, such as 24x40")
	case "area_sqft":
		return v.text("Area")
	case "thickness_in":
		return v.text("Thickness as bid")
	case "measured_thickness_in":
		return v.text("Thickness as measured")
	case "neat_yd":
		return v.text("Concrete on the drawing")
	case "planned_yd":
		return v.text("Concrete ordered first")
	case "delivered_yd":
		return v.text("Concrete delivered")
	case "leftover_yd":
		return v.text("Concrete left over")
	case "mix":
		return v.text("Mix")
	case "mix_psi":
		return v.text("Strength of the mix")
	case "max_aggregate_in":
		return v.text("Largest rock")
	case "accelerator_pct":
		return v.text("Accelerator")
	case "retarder":
		return v.text("Retarder")
	case "base":
		return v.text("Base")
	case "reinforcement":
		return v.text("Reinforcement")
	case "bar":
		return v.text("Bar or mesh")
	case "bar_spacing_in":
		return v.text("Bar spacing")
	case "edge_in":
		return v.text("Depth of the thickened edge")
	case "joint_spacing_ft":
		return v.text("Joint spacing")
	case "joint_cut":
		return v.text("How joints were made")
	case "joint_depth_in":
		return v.text("Depth of the joints")
	case "saw_hours":
		return v.text("Hours until the saw cut")
	case "finish":
		return v.text("Finish")
	case "curing":
		return v.text("Curing")
	}
	return ""
}

// workColumn names who did what, when and in which weather.
func (v *Voice) workColumn(column string) string {
	switch column {
	case "job_no":
		return v.text("Job number")
	case "placement":
		return v.text("Placement of the job")
	case "placed_on":
		return v.text("Day of the pour")
	case "use":
		return v.text("What the slab is for")
	case "site":
		return v.text("Site")
	case "customer":
		return v.text("Customer")
	case "method":
		return v.text("How it was placed")
	case "pump_outfit":
		return v.text("Pump outfit")
	case "hose_in":
		return v.text("Hose")
	case "air_temp_f":
		return v.text("Air temperature")
	case "concrete_temp_f":
		return v.text("Concrete temperature")
	case "humidity_pct":
		return v.text("Humidity")
	case "wind_mph":
		return v.text("Wind")
	case "crew":
		return v.text("Crew")
	case "crew_size":
		return v.text("People in the crew")
	case "labor_hours":
		return v.text("Crew hours, all people together")
	case "clogs":
		return v.text("Clogs")
	case "clog_min":
		return v.text("Lost to clogs")
	case "delay_min":
		return v.text("Lost to delays of any kind")
	case "note":
		return v.text("Note")
	case "said_right":
		return v.text("Odd values you said are right")
	}
	return ""
}

// moneyColumn names money and what was agreed.
func (v *Voice) moneyColumn(column string) string {
	switch column {
	case "bid_on":
		return v.text("Day of the bid")
	case "won_on":
		return v.text("Day it was won")
	case "closed_on":
		return v.text("Day it was closed")
	case "contract_price":
		return v.text("Price as signed")
	case "change_orders":
		return v.text("Change orders")
	case "bid_cost":
		return v.text("Cost in the bid")
	case "actual_cost":
		return v.text("What the job cost")
	case "won_from":
		return v.text("Job that led to it")
	case "warranty_months":
		return v.text("Warranty")
	case "callback_on":
		return v.text("Day of the first callback")
	case "callback_kind":
		return v.text("What the callback was about")
	case "callback_cost":
		return v.text("Cost of callbacks")
	case "item":
		return v.text("What it was for")
	case "planned_qty":
		return v.text("Quantity in the bid")
	case "planned_rate":
		return v.text("Unit price in the bid")
	case "actual_qty":
		return v.text("Quantity used")
	case "actual_rate":
		return v.text("Unit price paid")
	case "unit":
		return v.text("Unit")
	case "planned_amount":
		return v.text("Amount in the bid")
	case "actual_amount":
		return v.text("Amount paid")
	case "cost":
		return v.text("Cost of the visit")
	case "rate":
		return v.text("Cost of an hour")
	}
	return ""
}

// eventColumn names what loads, delays, hours and visits say.
func (v *Voice) eventColumn(column string) string {
	switch column {
	case "ticket_no":
		return v.text("Delivery ticket")
	case "yards":
		return v.text("Concrete in the load")
	case "batched_at":
		return v.text("Batched")
	case "arrived_at":
		return v.text("Arrived")
	case "pour_start":
		return v.text("Discharge began")
	case "pour_end":
		return v.text("Discharge ended")
	case "slump_in":
		return v.text("Slump")
	case "water_added_gal":
		return v.text("Water added")
	case "seq":
		return v.text("Number of the delay")
	case "cause":
		return v.text("Cause of the delay")
	case "started_at":
		return v.text("Began")
	case "spot":
		return v.text("Where it clogged")
	case "minutes":
		return v.text("Time lost")
	case "worked_on":
		return v.text("Day of the work")
	case "task":
		return v.text("Task")
	case "hours":
		return v.text("Hours, all people together")
	case "seen_on":
		return v.text("Day of the visit")
	case "why":
		return v.text("Planned or called for")
	case "finding":
		return v.text("What was seen")
	case "crack_kind":
		return v.text("Kind of crack")
	case "at_joint":
		return v.text("Crack in a joint")
	case "width_in":
		return v.text("Width of the crack")
	case "length_ft":
		return v.text("Length of the crack")
	case "resolved_on":
		return v.text("Day it was settled")
	case "spot_x":
		return v.text("Place on the drawing, from the left")
	case "spot_y":
		return v.text("Place on the drawing, from the top")
	}
	return ""
}
