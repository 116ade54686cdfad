package say

import "pourback/analysis/money"

// The words of lists of jobs.
func (w Margin) JobByJob() string { return w.text("Job by job") }

func (w Margin) JobsCaption(month string) string {
	return w.say("Jobs that ended in {month}, the farthest below its bid first", with{"month": w.Month(month)})
}
func (w Margin) Farthest() string { return w.text("Jobs farthest below their bids") }
func (w Margin) FarthestCaption() string {
	return w.text("Jobs of the last twelve months, the farthest below its bid first")
}

func (w Margin) FarthestSay(n int) string {
	return w.plural(n, "1 job of the last twelve months earned less than bid. Look there first.|{n} jobs of the last twelve months earned less than bid. Look there first.", nil)
}
func (w Margin) HeadJob() string     { return w.text("Job") }
func (w Margin) HeadWork() string    { return w.text("Work") }
func (w Margin) HeadArea() string    { return w.say("Area,{unit}", with{"unit": w.Units.Area.Unit}) }
func (w Margin) HeadAgainst() string { return w.text("Against its bid") }
func (w Margin) HeadMostly() string  { return w.text("Mostly") }

// Work is what a job was, marked where an earlier one brought it.
func (w Margin) Work(j *money.Job) string {
	if j.FollowOn {
		return w.say("{work}, follow-on", with{"work": w.use(j.Use)})
	}
	return w.use(j.Use)
}

// use is the use of a slab, or a dash of words where none was recorded.
func (v *Voice) use(use string) string {
	if use == "unknown" {
		return v.Named(use)
	}
	return v.Word(use)
}

// MoreJobs says how many a list leaves out.
func (w Margin) MoreJobs(n int) string {
	return w.plural(n, "And 1 more job.|And {n} more jobs.", nil)
}

// Mostly is the cause that led farthest where a job went.
func (w Margin) Mostly(j *money.Job) string {
	step, better, known := j.MainStep()
	if !known {
		return "–"
	}
	return Bridge(w).Cause(step, better)
}

// The words of the jobs' own lines of cost.
func (w Margin) Lines() string { return w.text("By your own cost lines") }

func (w Margin) LinesSay(c money.CostLines) string {
	worst, over := c.Worst()
	if !over {
		return w.text("None of your cost lines ran over.")
	}
	return w.say("Most was lost to {line}: {amount}.", with{"line": w.CostLine(worst.Line), "amount": w.Exactly(-worst.Cost.Dollars())})
}

func (w Margin) LinesCaption(month string, jobs int) string {
	if month == "" {
		return w.say("Cost against bid by cost line, the last twelve months, {jobs}", with{"jobs": w.Jobs(jobs)})
	}
	return w.say("Cost against bid by cost line, {month}, {jobs}", with{"month": w.Month(month), "jobs": w.Jobs(jobs)})
}
func (w Margin) HeadLine() string   { return w.text("Line") }
func (w Margin) InAll() string      { return w.text("In all") }
func (w Margin) InAllMeans() string { return w.text("cost in the bids less actual cost") }

// CostLine is a line of cost in a sentence.
func (w Margin) CostLine(l money.CostLine) string {
	switch l {
	case money.ConcretePrice:
		return w.text("the price of concrete")
	case money.ConcreteThickness:
		return w.text("thickness")
	case money.ConcreteUse:
		return w.text("concrete used")
	case money.ConcreteLeftover:
		return w.text("concrete left over")
	case money.LaborWage:
		return w.text("wages")
	case money.LaborHours:
		return w.text("labor hours")
	case money.OtherPrice:
		return w.text("prices of other items")
	case money.OtherQuantity:
		return w.text("quantities of other items")
	case money.CallbackCost:
		return w.text("callbacks")
	case money.ExtraWork:
		return w.text("work added after signing")
	}
	return w.text("lines that cannot be split")
}

// CostLineMeans is what it stands for.
func (w Margin) CostLineMeans(l money.CostLine) string {
	switch l {
	case money.ConcretePrice:
		return w.text("concrete that costs more or less than bid")
	case money.ConcreteThickness:
		return w.text("slabs thicker or thinner than drawn")
	case money.ConcreteUse:
		return w.text("more or less concrete at that thickness")
	case money.ConcreteLeftover:
		return w.text("paid for and not placed")
	case money.LaborWage:
		return w.text("hours that cost more or less than bid")
	case money.LaborHours:
		return w.text("more or fewer hours than bid")
	case money.OtherPrice:
		return w.text("units that cost more or less than bid")
	case money.OtherQuantity:
		return w.text("more or fewer units than bid")
	case money.CallbackCost:
		return w.text("what they have cost so far")
	case money.ExtraWork:
		return w.text("what it cost; its pay is in revenue")
	}
	return w.text("lines without quantities and prices")
}

// The words of follow-on work.
func (w Margin) Follow() string        { return w.text("Work that finished jobs brought") }
func (w Margin) FollowCaption() string { return w.text("Follow-on work") }
func (w Margin) HeadWhat() string      { return w.text("What") }
func (w Margin) HeadFigure() string    { return w.text("Figure") }

func (w Margin) FollowSay(f *money.FollowOn) string {
	said := w.plural(f.Jobs, "1 job was won from an earlier one.|{n} jobs were won from earlier ones.", nil)
	if !f.PerJob.Known() {
		return said
	}
	return said + " " + w.say("A job more than a year old has brought {work} of further work on average.", with{"work": w.Long(w.About(), f.PerJob)})
}

// FollowRow is a row of the table: what it is, and its figure.
type FollowRow struct {
	What string
	Cell Cell
}

// FollowRows are those of follow-on work.
func (w Margin) FollowRows(f *money.FollowOn) []FollowRow {
	return []FollowRow{
		{w.text("Jobs won from an earlier one"), Whole(f.Jobs)},
		{w.text("Jobs that led to them"), Whole(f.FromJobs)},
		{w.text("Jobs won from one that is not on record"), Whole(f.NotOnRecord)},
		{w.text("Their revenue"), w.MoneyCell(f.Revenue)},
		{w.text("Share of all jobs, in 100"), w.Cell(OfHundred, f.ShareOfJobs)},
		{w.text("Share of all revenue, in 100"), w.Cell(OfHundred, f.ShareOfRevenue)},
		{w.text("Further work that a job over a year old has brought, on average"), w.Cell(w.About(), f.PerJob)},
	}
}

// AgainstBid is how a job's margin came out against the one in its bid.
func (w Margin) AgainstBid(j *money.Job) Cell {
	if !j.BidCost.OK {
		return w.unknown(w.text("the job has no bid cost"))
	}
	return w.MoneyCell(j.AgainstBid())
}
