package record

// Cost is one line of a job's costs, as planned and as it came out.
type Cost struct {
	JobNo         string
	Item          string
	PlannedQty    Number
	PlannedRate   Money // per unit
	ActualQty     Number
	ActualRate    Money // per unit
	Unit          string
	PlannedAmount Money
	ActualAmount  Money
}

// Costs is the table of [Cost].
var Costs = &Table{
	Name:     "costs",
	Synonyms: []string{"cost", "job costs", "expenses"},
	New:      func() Record { return &Cost{} },
	Doc:      "One row per job and item of cost.",
	Columns: []Column{ // ends of ranges: common practice, no published source
		{Name: "job_no", Key: true, Required: true, MaxChars: 40, Synonyms: jobNoWords, Doc: "the job's number"},
		{Name: "item", Kind: KindWord, Words: costItems, Key: true, Required: true, Synonyms: []string{"cost item", "category"}, Doc: "what it was for"},
		{Name: "planned_qty", Kind: KindNumber, Hard: atLeast(0), Synonyms: []string{"planned quantity", "bid qty"}, Doc: "quantity in the bid"},
		{Name: "planned_rate", Kind: KindMoney, Hard: atLeast(0), Synonyms: []string{"bid rate"}, Doc: "price of a unit in the bid"},
		{Name: "actual_qty", Kind: KindNumber, Hard: atLeast(0), Synonyms: []string{"actual quantity", "qty"}, Doc: "quantity used"},
		{Name: "actual_rate", Kind: KindMoney, Hard: atLeast(0), Doc: "price paid for a unit"},
		{Name: "unit", Doc: "yd, hour, ft² …"},
		{Name: "planned_amount", Kind: KindMoney, Synonyms: []string{"bid amount"}, Doc: "money in the bid; quantity × rate where missing"},
		{Name: "actual_amount", Kind: KindMoney, Synonyms: []string{"amount"}, Doc: "money spent; quantity × rate where missing"},
	},
}

// Table is [Costs].
func (c *Cost) Table() *Table { return Costs }

// Fields points at the values in the order of the table's columns.
func (c *Cost) Fields() []any {
	return []any{&c.JobNo, &c.Item, &c.PlannedQty, &c.PlannedRate, &c.ActualQty, &c.ActualRate, &c.Unit, &c.PlannedAmount, &c.ActualAmount}
}

// Planned and Actual are the amounts: as written, or quantity × rate.
func (c *Cost) Planned() Money { return amountOf(c.PlannedAmount, c.PlannedQty, c.PlannedRate) }

// Actual is the amount spent: as written, or quantity × rate.
func (c *Cost) Actual() Money { return amountOf(c.ActualAmount, c.ActualQty, c.ActualRate) }

func amountOf(written Money, qty Number, rate Money) Money {
	if written.OK || !qty.OK || !rate.OK {
		return written
	}
	amount, err := TimesRate(qty.V, rate.V)
	if err != nil {
		return Money{}
	}
	return Some(amount)
}

// Check finds amounts that are not quantity × rate, to the cent.
func (c *Cost) Check(Date) []Problem {
	var found checks
	for _, a := range []struct {
		column  string
		written Money
		qty     Number
		rate    Money
	}{{"planned_amount", c.PlannedAmount, c.PlannedQty, c.PlannedRate}, {"actual_amount", c.ActualAmount, c.ActualQty, c.ActualRate}} {
		want := amountOf(Money{}, a.qty, a.rate)
		if a.written.OK && want.OK && a.written.V != want.V {
			found.warn("amount-unlike-product", a.column, a.written.V.String(), "not quantity × rate", "that gives "+want.V.String())
		}
	}
	return found.found
}
