package record

// PlacementRow is a placement of a history: a row of its columns.
type PlacementRow struct {
	of *PlacementColumns
	at int
}

// JobRow is a job of a history: a row of its columns.
type JobRow struct {
	of *JobColumns
	at int
}

// JobNo is [Placement.JobNo].
func (r PlacementRow) JobNo() string { return r.of.JobNo.At(r.at) }

// Placement is [Placement.Placement].
func (r PlacementRow) Placement() string { return r.of.Placement.At(r.at) }

// PlacedOn is [Placement.PlacedOn].
func (r PlacementRow) PlacedOn() Date { return r.of.PlacedOn.At(r.at) }

// Use is [Placement.Use].
func (r PlacementRow) Use() string { return r.of.Use.At(r.at) }

// AreaSqft is [Placement.AreaSqft].
func (r PlacementRow) AreaSqft() Number { return r.of.AreaSqft.At(r.at) }

// ThicknessIn is [Placement.ThicknessIn].
func (r PlacementRow) ThicknessIn() Number { return r.of.ThicknessIn.At(r.at) }

// MeasuredThicknessIn is [Placement.MeasuredThicknessIn].
func (r PlacementRow) MeasuredThicknessIn() Number { return r.of.MeasuredThicknessIn.At(r.at) }

// NeatYd is [Placement.NeatYd].
func (r PlacementRow) NeatYd() Number { return r.of.NeatYd.At(r.at) }

// PlannedYd is [Placement.PlannedYd].
func (r PlacementRow) PlannedYd() Number { return r.of.PlannedYd.At(r.at) }

// DeliveredYd is [Placement.DeliveredYd].
func (r PlacementRow) DeliveredYd() Number { return r.of.DeliveredYd.At(r.at) }

// LeftoverYd is [Placement.LeftoverYd].
func (r PlacementRow) LeftoverYd() Number { return r.of.LeftoverYd.At(r.at) }

// Method is [Placement.Method].
func (r PlacementRow) Method() string { return r.of.Method.At(r.at) }

// PumpOutfit is [Placement.PumpOutfit].
func (r PlacementRow) PumpOutfit() string { return r.of.PumpOutfit.At(r.at) }

// HoseIn is [Placement.HoseIn].
func (r PlacementRow) HoseIn() Number { return r.of.HoseIn.At(r.at) }

// Mix is [Placement.Mix].
func (r PlacementRow) Mix() string { return r.of.Mix.At(r.at) }

// MixPSI is [Placement.MixPSI].
func (r PlacementRow) MixPSI() Number { return r.of.MixPSI.At(r.at) }

// MaxAggregateIn is [Placement.MaxAggregateIn].
func (r PlacementRow) MaxAggregateIn() Number { return r.of.MaxAggregateIn.At(r.at) }

// AcceleratorPct is [Placement.AcceleratorPct].
func (r PlacementRow) AcceleratorPct() Number { return r.of.AcceleratorPct.At(r.at) }

// Retarder is [Placement.Retarder].
func (r PlacementRow) Retarder() Flag { return r.of.Retarder.At(r.at) }

// Base is [Placement.Base].
func (r PlacementRow) Base() string { return r.of.Base.At(r.at) }

// Reinforcement is [Placement.Reinforcement].
func (r PlacementRow) Reinforcement() string { return r.of.Reinforcement.At(r.at) }

// Bar is [Placement.Bar].
func (r PlacementRow) Bar() string { return r.of.Bar.At(r.at) }

// BarSpacingIn is [Placement.BarSpacingIn].
func (r PlacementRow) BarSpacingIn() Number { return r.of.BarSpacingIn.At(r.at) }

// EdgeIn is [Placement.EdgeIn].
func (r PlacementRow) EdgeIn() Number { return r.of.EdgeIn.At(r.at) }

// JointSpacingFt is [Placement.JointSpacingFt].
func (r PlacementRow) JointSpacingFt() Number { return r.of.JointSpacingFt.At(r.at) }

// JointCut is [Placement.JointCut].
func (r PlacementRow) JointCut() string { return r.of.JointCut.At(r.at) }

// JointDepthIn is [Placement.JointDepthIn].
func (r PlacementRow) JointDepthIn() Number { return r.of.JointDepthIn.At(r.at) }

// SawHours is [Placement.SawHours].
func (r PlacementRow) SawHours() Number { return r.of.SawHours.At(r.at) }

// Finish is [Placement.Finish].
func (r PlacementRow) Finish() string { return r.of.Finish.At(r.at) }

// Curing is [Placement.Curing].
func (r PlacementRow) Curing() string { return r.of.Curing.At(r.at) }

// AirTempF is [Placement.AirTempF].
func (r PlacementRow) AirTempF() Number { return r.of.AirTempF.At(r.at) }

// ConcreteTempF is [Placement.ConcreteTempF].
func (r PlacementRow) ConcreteTempF() Number { return r.of.ConcreteTempF.At(r.at) }

// HumidityPct is [Placement.HumidityPct].
func (r PlacementRow) HumidityPct() Number { return r.of.HumidityPct.At(r.at) }

// WindMPH is [Placement.WindMPH].
func (r PlacementRow) WindMPH() Number { return r.of.WindMPH.At(r.at) }

// Crew is [Placement.Crew].
func (r PlacementRow) Crew() string { return r.of.Crew.At(r.at) }

// CrewSize is [Placement.CrewSize].
func (r PlacementRow) CrewSize() Count { return r.of.CrewSize.At(r.at) }

// LaborHours is [Placement.LaborHours].
func (r PlacementRow) LaborHours() Number { return r.of.LaborHours.At(r.at) }

// Clogs is [Placement.Clogs].
func (r PlacementRow) Clogs() Count { return r.of.Clogs.At(r.at) }

// ClogMin is [Placement.ClogMin].
func (r PlacementRow) ClogMin() Count { return r.of.ClogMin.At(r.at) }

// DelayMin is [Placement.DelayMin].
func (r PlacementRow) DelayMin() Count { return r.of.DelayMin.At(r.at) }

// CallbackOn is [Placement.CallbackOn].
func (r PlacementRow) CallbackOn() Date { return r.of.CallbackOn.At(r.at) }

// CallbackKind is [Placement.CallbackKind].
func (r PlacementRow) CallbackKind() string { return r.of.CallbackKind.At(r.at) }

// CallbackCost is [Placement.CallbackCost].
func (r PlacementRow) CallbackCost() Money { return r.of.CallbackCost.At(r.at) }

// Note is [Placement.Note].
func (r PlacementRow) Note() string { return r.of.Note.At(r.at) }

// SaidRight is [Placement.SaidRight].
func (r PlacementRow) SaidRight() string { return r.of.SaidRight.At(r.at) }

// JobNo is [Job.JobNo].
func (r JobRow) JobNo() string { return r.of.JobNo.At(r.at) }

// Site is [Job.Site].
func (r JobRow) Site() string { return r.of.Site.At(r.at) }

// Customer is [Job.Customer].
func (r JobRow) Customer() string { return r.of.Customer.At(r.at) }

// BidOn is [Job.BidOn].
func (r JobRow) BidOn() Date { return r.of.BidOn.At(r.at) }

// WonOn is [Job.WonOn].
func (r JobRow) WonOn() Date { return r.of.WonOn.At(r.at) }

// ClosedOn is [Job.ClosedOn].
func (r JobRow) ClosedOn() Date { return r.of.ClosedOn.At(r.at) }

// ContractPrice is [Job.ContractPrice].
func (r JobRow) ContractPrice() Money { return r.of.ContractPrice.At(r.at) }

// ChangeOrders is [Job.ChangeOrders].
func (r JobRow) ChangeOrders() Money { return r.of.ChangeOrders.At(r.at) }

// BidCost is [Job.BidCost].
func (r JobRow) BidCost() Money { return r.of.BidCost.At(r.at) }

// ActualCost is [Job.ActualCost].
func (r JobRow) ActualCost() Money { return r.of.ActualCost.At(r.at) }

// WonFrom is [Job.WonFrom].
func (r JobRow) WonFrom() string { return r.of.WonFrom.At(r.at) }

// WarrantyMonths is [Job.WarrantyMonths].
func (r JobRow) WarrantyMonths() Count { return r.of.WarrantyMonths.At(r.at) }

// Note is [Job.Note].
func (r JobRow) Note() string { return r.of.Note.At(r.at) }

// SaidRight is [Job.SaidRight].
func (r JobRow) SaidRight() string { return r.of.SaidRight.At(r.at) }

// Neat is [Placement.Neat].
func (r PlacementRow) Neat() Number { return neat(r.NeatYd(), r.AreaSqft(), r.ThicknessIn()) }

// Used is [Placement.Used].
func (r PlacementRow) Used() Number { return used(r.DeliveredYd(), r.LeftoverYd()) }

// Pumped is [Placement.Pumped].
func (r PlacementRow) Pumped() bool { return r.Method() == "pump" }

// Revenue is [Job.Revenue].
func (r JobRow) Revenue() Money { return revenue(r.ContractPrice(), r.ChangeOrders()) }
