package record

import (
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
)

// Columns are the columns of a table's rows, in the order of the table's, each
// a [Values] of the column's kind.
type Columns []interface {
	Len() int
	Written() bool
	Reserve(rows int)
	add(field any)
	read(i int, field any)
	write(i int, field any)
	gather(rows []int32)
	joinAny(other any)
}

// Len is the number of rows.
func (c Columns) Len() int { return c[0].Len() }

// Reserve makes room for so many rows at once.
func (c Columns) Reserve(rows int) {
	for i := range c {
		c[i].Reserve(rows)
	}
}

// Add puts a row behind the last.
func (c Columns) Add(r Record) { c.addFields(r.Fields()) }

func (c Columns) addFields(fields []any) {
	for i, field := range fields {
		c[i].add(field)
	}
}

// Reader returns a function that gives a row of the table, which must be empty
// at first, the values of row i. Columns in which nothing is written are not read, and
// where columns are named only these.
func (c Columns) Reader(r Record, names ...string) (read func(i int)) {
	var columns Columns
	var fields []any
	for k, field := range r.Fields() {
		if c[k].Written() && (names == nil || slices.Contains(names, r.Table().Columns[k].Name)) {
			columns, fields = append(columns, c[k]), append(fields, field)
		}
	}
	return func(i int) {
		for k, field := range fields {
			columns[k].read(i, field)
		}
	}
}

// Write gives row i the values of a row of the table.
func (c Columns) Write(i int, r Record) { c.writeFields(i, r.Fields()) }

func (c Columns) writeFields(i int, fields []any) {
	for k, field := range fields {
		c[k].write(i, field)
	}
}

// Join puts all rows of other columns of the same table behind the last row.
// The others are used up.
func (c Columns) Join(other Columns) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(len(c), runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(c); i = int(next.Add(1)) - 1 {
				c[i].joinAny(other[i])
			}
		})
	}
	wait.Wait()
}

// gather makes the rows those that were at these places; at -1 nothing is written.
func (c Columns) gather(rows []int32) {
	for i := range c {
		c[i].gather(rows)
	}
}

// PlacementColumns are many rows of [Placement] by columns.
type PlacementColumns struct {
	JobNo     Values[string]
	Placement Values[string]
	PlacedOn  Values[Date]
	Use       Values[string]

	AreaSqft            Values[Number]
	ThicknessIn         Values[Number] // as bid
	MeasuredThicknessIn Values[Number] // mean of probes
	NeatYd              Values[Number] // on the drawing
	PlannedYd           Values[Number] // carried in the bid or ordered first
	DeliveredYd         Values[Number] // summary of loads
	LeftoverYd          Values[Number] // did not go into this placement

	Method         Values[string]
	PumpOutfit     Values[string]
	HoseIn         Values[Number]
	Mix            Values[string]
	MixPSI         Values[Number]
	MaxAggregateIn Values[Number]
	AcceleratorPct Values[Number] // % by mass of cement
	Retarder       Values[Flag]
	Base           Values[string]
	Reinforcement  Values[string] // words joined by +
	Bar            Values[string]
	BarSpacingIn   Values[Number]
	EdgeIn         Values[Number] // depth of a thickened edge
	JointSpacingFt Values[Number] // longer side of the largest panel
	JointCut       Values[string] // words joined by +
	JointDepthIn   Values[Number]
	SawHours       Values[Number] // after finishing
	Finish         Values[string]
	Curing         Values[string]

	AirTempF      Values[Number]
	ConcreteTempF Values[Number]
	HumidityPct   Values[Number]
	WindMPH       Values[Number]

	Crew       Values[string]
	CrewSize   Values[Count]
	LaborHours Values[Number] // person-hours, summary of labor
	Clogs      Values[Count]  // summary of delays
	ClogMin    Values[Count]  // summary of delays
	DelayMin   Values[Count]  // all causes, summary of delays

	CallbackOn   Values[Date] // first callback, summary of visits
	CallbackKind Values[string]
	CallbackCost Values[Money]
	Note         Values[string]
	SaidRight    Values[string] // see [SayRight]

	Log JobColumns // the columns of jobs that a job log's row may bear
}

// JobColumns are many rows of [Job] by columns.
type JobColumns struct {
	JobNo          Values[string]
	Site           Values[string]
	Customer       Values[string]
	BidOn          Values[Date]
	WonOn          Values[Date]
	ClosedOn       Values[Date]
	ContractPrice  Values[Money]
	ChangeOrders   Values[Money] // added to the price after signing, or taken off it
	BidCost        Values[Money] // the cost carried in the bid
	ActualCost     Values[Money] // summary of costs
	WonFrom        Values[string]
	WarrantyMonths Values[Count]
	Note           Values[string]
	SaidRight      Values[string] // see [SayRight]
}

// Columns are the columns in the order of the table's.
func (c *PlacementColumns) Columns() Columns {
	return append(Columns{&c.JobNo, &c.Placement, &c.PlacedOn, &c.Use, &c.AreaSqft, &c.ThicknessIn, &c.MeasuredThicknessIn, &c.NeatYd, &c.PlannedYd, &c.DeliveredYd, &c.LeftoverYd, &c.Method, &c.PumpOutfit, &c.HoseIn, &c.Mix, &c.MixPSI, &c.MaxAggregateIn, &c.AcceleratorPct, &c.Retarder, &c.Base, &c.Reinforcement, &c.Bar, &c.BarSpacingIn, &c.EdgeIn, &c.JointSpacingFt, &c.JointCut, &c.JointDepthIn, &c.SawHours, &c.Finish, &c.Curing, &c.AirTempF, &c.ConcreteTempF, &c.HumidityPct, &c.WindMPH, &c.Crew, &c.CrewSize, &c.LaborHours, &c.Clogs, &c.ClogMin, &c.DelayMin, &c.CallbackOn, &c.CallbackKind, &c.CallbackCost, &c.Note, &c.SaidRight}, c.Log.Columns().ofLog()...)
}

// Columns are the columns in the order of the table's.
func (c *JobColumns) Columns() Columns {
	return Columns{&c.JobNo, &c.Site, &c.Customer, &c.BidOn, &c.WonOn, &c.ClosedOn, &c.ContractPrice, &c.ChangeOrders, &c.BidCost, &c.ActualCost, &c.WonFrom, &c.WarrantyMonths, &c.Note, &c.SaidRight}
}

// ofLog are those of the columns of jobs that may stand in a job log's row.
func (c Columns) ofLog() Columns { return c[1 : len(c)-2] }

// Len is the number of placements.
func (c *PlacementColumns) Len() int { return c.JobNo.Len() }

// At is placement i.
func (c *PlacementColumns) At(i int) PlacementRow { return PlacementRow{c, i} }

// Row is a copy of placement i.
func (c *PlacementColumns) Row(i int) (p Placement) {
	c.Columns().Reader(&p)(i)
	return p
}

// Len is the number of jobs.
func (c *JobColumns) Len() int { return c.JobNo.Len() }

// At is job j.
func (c *JobColumns) At(j int) JobRow { return JobRow{c, j} }

// picked are jobs of their own: those at these places.
func (c *JobColumns) picked(rows []int32) JobColumns {
	picked := *c
	picked.Columns().gather(rows)
	return picked
}

// Row is a copy of job j.
func (c *JobColumns) Row(j int) (job Job) {
	c.Columns().Reader(&job)(j)
	return job
}
