package site

import (
	"cmp"
	"net/http"
	"slices"

	"pourback/analysis/bid"
	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/report/say"
)

// byPlan is the placement as its bid has it, as far as a bid knows: empty where none is
// for it. What is seen only at the pour, as the joints and the curing, it leaves open.
func (p *pouring) byPlan() *record.Placement {
	is := &record.Placement{JobNo: p.Job, Placement: p.Name}
	if p.Plan == nil || p.Part < 0 {
		return is
	}
	b := p.Plan.Bid
	part := &b.Placements[p.Part]
	var asked bid.Placement
	if p.Part < len(b.Spec.Placements) {
		asked = b.Spec.Placements[p.Part]
	}
	is.Use, is.AreaSqft, is.ThicknessIn, is.NeatYd, is.PlannedYd = part.Use, hundredth(part.AreaSqft), hundredth(part.ThicknessIn), hundredth(part.NeatYd.Figure.Value), plannedYd(b, part)
	is.Method, is.PumpOutfit, is.HoseIn = part.Method, asked.PumpOutfit, hundredth(asked.HoseIn)
	is.Mix, is.MixPSI, is.MaxAggregateIn = asked.Mix, hundredth(asked.MixPSI), record.Number{V: asked.MaxAggregateIn, OK: asked.MaxAggregateIn > 0}
	is.Base, is.Reinforcement, is.Bar, is.BarSpacingIn = asked.Base, asked.Reinforcement, asked.Bar, hundredth(asked.BarSpacingIn)
	if at := slices.IndexFunc(part.Steel, func(s bid.SteelWay) bool { return s.Chosen }); at >= 0 {
		is.Reinforcement = cmp.Or(is.Reinforcement, part.Steel[at].Way)
	}
	is.EdgeIn, is.JointSpacingFt, is.Finish, is.Crew = hundredth(asked.EdgeDepthIn), hundredth(asked.JointSpacingFt), asked.Finish, p.Plan.Crew
	if j := &part.Joints; j.Drawn && len(j.Panels) > 0 {
		is.JointSpacingFt = hundredth(j.LongestFt)
	}
	return is
}

// plannedYd is a placement's part of its day's order, by how much of it is drawn there.
func plannedYd(b *bid.Bid, part *bid.Part) record.Number {
	for i := range b.Days {
		if d := &b.Days[i]; d.Day == part.Day && d.NeatYd > 0 {
			return hundredth(d.Order.Yd * part.NeatYd.Figure.Value / d.NeatYd)
		}
	}
	return record.Number{}
}

// begun is the row by which a placement begins with its first entry, nil where it has
// begun; it is nothing where somebody else begins it meanwhile.
func (a *Ask) begun(p *pouring) (*ingest.EntryRow, error) {
	switch {
	case p.Is != nil:
		return nil, nil
	case p.Plan == nil || p.Part < 0:
		return nil, unfitEntry(say.Site.NotBegun, say.Site.NotBegunDo)
	}
	is := p.byPlan()
	is.PlacedOn = a.Said().Date()
	row := &ingest.EntryRow{Table: record.Placements.Name, IfNew: true}
	for i, c := range record.Placements.Columns {
		f := is.Fields()[i]
		switch {
		case record.IsMissing(f):
		case c.Kind == record.KindNumber:
			row.Values = append(row.Values, [2]string{c.Name, a.decimal(record.FieldText(f))})
		default:
			row.Values = append(row.Values, [2]string{c.Name, record.FieldText(f)})
		}
	}
	return row, nil
}

// beginForm is the form that starts a placement of a job, or of one whose number is
// written into it.
func (a *Ask) beginForm(job string) *formView {
	f := &formView{What: "begin", Title: a.Say.OtherPour(), Keep: a.Say.OtherPourDo(), Act: "/crew"}
	if job != "" {
		f.Title, f.Act = a.Say.FormBegin(), pourPath(job)+"/begin"
	} else {
		f.Fields = append(f.Fields, a.textField(record.Placements.Column("job_no")))
	}
	area := a.numberField(record.Placements.Column("area_sqft"))
	area.Hint = a.Say.SizeHint()
	f.Fields = append(f.Fields, a.wordField(record.Placements.Column("use"), ""), area, a.numberField(&record.Column{Name: "length", Unit: record.Foot}), a.numberField(&record.Column{Name: "width", Unit: record.Foot}),
		a.numberField(record.Placements.Column("thickness_in")), a.wordField(record.Placements.Column("method"), a.Say.NotSaid()))
	f.named()
	return f
}

// beginHere starts a placement of the job that is written in the form, beginPour one of
// the job that the address names.
func beginHere(a *Ask) error { return a.begin(a.Field("job_no")) }

func beginPour(a *Ask) error { return a.begin(a.PathValue("job")) }

func (a *Ask) begin(job string) error {
	all, err := a.pourings(job)
	if err != nil {
		return err
	}
	is := &record.Placement{}
	form := sheet.NewForm(record.Placements, a.entrySheet())
	values, wrong := a.sizes(form, is)
	if job != "" {
		values = append(values, [2]string{"job_no", job})
	}
	for _, column := range []string{"use", "method"} {
		if text := a.Field(column); text != "" {
			form.Read(is.Fields(), column, text)
			values = append(values, [2]string{column, text})
		}
	}
	day := a.Said().Date()
	name := nextPlacement(all, is, day)
	values = append(values, [2]string{"placement", name}, [2]string{"placed_on", day.String()})
	if crew := a.crew(); crew != "" {
		values = append(values, [2]string{"crew", crew})
	}
	reply := entryReply{Back: pourPath(job), Part: name, Again: func(wrong []record.Problem) error {
		f := a.beginForm(a.PathValue("job"))
		f.again(a, wrong)
		if a.PathValue("job") == "" {
			return a.showToday(http.StatusUnprocessableEntity, f)
		}
		return a.showPour(http.StatusUnprocessableEntity, all, a.partOf(all, ""), f)
	}}
	if len(wrong) > 0 {
		return a.refuse(wrong, reply)
	}
	reply.Says = func(done ingest.Entered) string {
		if done.Rows[0].Became == ingest.EntryUnchanged {
			return a.Say.BegunBefore()
		}
		is.Placement = name
		return a.Say.Kept(a.Say.BegunLine(is))
	}
	return a.keepEntry(ingest.Entry{What: "start of " + job + " " + name, Rows: []ingest.EntryRow{{Table: record.Placements.Name, Values: values, IfNew: true}}}, reply)
}

// sizes are the size of a slab as it is written: its area, or its length by its width.
func (a *Ask) sizes(form *sheet.Form, is *record.Placement) (values [][2]string, wrong []record.Problem) {
	area := a.withUnit(record.SquareFoot, a.Field("area_sqft"))
	if length, width := a.Field("length"), a.Field("width"); area == "" && length != "" && width != "" {
		area = a.withUnit(record.Foot, length) + " x " + a.withUnit(record.Foot, width)
	}
	if area == "" {
		wrong = append(wrong, a.problem("area_sqft", a.Say.NoSize(), a.Say.NoSizeDo()))
	}
	thick := a.withUnit(record.Inch, a.Field("thickness_in"))
	form.Read(is.Fields(), "area_sqft", area)
	form.Read(is.Fields(), "thickness_in", thick)
	return [][2]string{{"area_sqft", area}, {"thickness_in", thick}}, wrong
}

// nextPlacement names the placement that is started: one of the same day, use and size is
// that which was started before; else it is the next letter that is free.
func nextPlacement(all []*pouring, is *record.Placement, day record.Date) string {
	taken := map[string]bool{}
	for _, p := range all {
		taken[p.Name] = true
		if was := p.Is; was != nil && was.PlacedOn == day && was.Use == is.Use && record.FieldText(&was.AreaSqft) == record.FieldText(&is.AreaSqft) {
			return p.Name
		}
	}
	for n := 'A'; n <= 'Z'; n++ {
		if !taken[string(n)] {
			return string(n)
		}
	}
	return day.String()
}
