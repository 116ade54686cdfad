package record

// Job is one contract with a customer; it holds one or more placements.
type Job struct {
	JobNo          string
	Site           string
	Customer       string
	BidOn          Date
	WonOn          Date
	ClosedOn       Date
	ContractPrice  Money
	ChangeOrders   Money // added to the price after signing, or taken off it
	BidCost        Money // the cost carried in the bid
	ActualCost     Money // summary of costs
	WonFrom        string
	WarrantyMonths Count
	Note           string
	SaidRight      string // see [SayRight]
}

// Jobs is the table of [Job].
var Jobs = &Table{
	Name:     "jobs",
	Synonyms: []string{"job", "job list", "contracts"},
	New:      func() Record { return &Job{} },
	Doc:      "One row per job. A job that stands only in placements needs no row here.",
	Columns: []Column{ // ends of ranges: common practice, no published source
		{Name: "job_no", Key: true, Required: true, MaxChars: 40, Synonyms: jobNoWords, Doc: "the job's number or short name, 1 to 40 characters"},
		{Name: "site", Log: true, Synonyms: []string{"address", "location"}, Doc: "where it is"},
		{Name: "customer", Later: true, Log: true, Synonyms: []string{"client", "owner", "homeowner"}, Doc: "for whom; shown only where names may be"},
		{Name: "bid_on", Kind: KindDate, Log: true, Synonyms: []string{"bid date"}, Doc: "day the bid went out"},
		{Name: "won_on", Kind: KindDate, Log: true, Synonyms: []string{"won date", "award date"}, Doc: "day it was accepted"},
		{Name: "closed_on", Kind: KindDate, Log: true, Synonyms: []string{"closed date", "completed on"}, Doc: "day it was closed"},
		{Name: "contract_price", Kind: KindMoney, Log: true, Hard: atLeast(0), Synonyms: []string{"price", "contract amount", "contract"}, Doc: "what the customer pays for the job, as signed"},
		{Name: "change_orders", Kind: KindMoney, Later: true, Log: true, Synonyms: []string{"change order", "extras", "added work"}, Doc: "added to the price after signing; less than zero where it was lowered"},
		{Name: "bid_cost", Kind: KindMoney, Log: true, Hard: atLeast(0), Synonyms: []string{"est cost", "estimated cost", "estimate"}, Doc: "the cost carried in the bid"},
		{Name: "actual_cost", Kind: KindMoney, Log: true, Hard: atLeast(0), Synonyms: []string{"cost", "total cost"}, Doc: "what the job cost; the sum of costs where they are given"},
		{Name: "won_from", Log: true, MaxChars: 40, Doc: "job_no of the earlier job that led to this one"},
		{Name: "warranty_months", Kind: KindCount, Unit: Month, Log: true, Hard: between(0, 600), Synonyms: []string{"warranty"}, Doc: "months of warranty from the pour"},
		{Name: "note", Synonyms: noteWords, Doc: "anything else"},
		{Name: "said_right", Later: true, Doc: saidRightDoc},
	},
}

// Table is [Jobs].
func (j *Job) Table() *Table { return Jobs }

// Fields points at the values in the order of the table's columns.
func (j *Job) Fields() []any {
	return []any{&j.JobNo, &j.Site, &j.Customer, &j.BidOn, &j.WonOn, &j.ClosedOn, &j.ContractPrice, &j.ChangeOrders, &j.BidCost, &j.ActualCost,
		&j.WonFrom, &j.WarrantyMonths, &j.Note, &j.SaidRight}
}

// logFields are those of the columns that may stand in a job log's row.
func (j *Job) logFields() []any {
	all := j.Fields()
	return all[1 : len(all)-2]
}

// Revenue is what the customer pays in all: the price as signed with the change
// orders. Without the price it is missing; without change orders it is the price.
func (j *Job) Revenue() Money { return revenue(j.ContractPrice, j.ChangeOrders) }

func revenue(price, added Money) Money {
	if !price.OK {
		return Money{}
	}
	return Some(price.V + added.V)
}

// Check finds dates out of order.
func (j *Job) Check(Date) []Problem {
	var c checks
	c.order("bid_on", j.BidOn, "won_on", j.WonOn)
	c.order("won_on", j.WonOn, "closed_on", j.ClosedOn)
	if j.WonFrom != "" && j.WonFrom == j.JobNo {
		c.warn("won-from-itself", "won_from", j.WonFrom, "a job cannot lead to itself", "name the earlier job")
	}
	c.found = append(c.found, j.Impossible()...)
	return c.found
}
