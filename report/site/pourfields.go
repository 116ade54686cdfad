package site

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// formView is a form for crews as its template sees it.
type formView struct {
	What, Title, Act, Keep string
	Leads                  string // in place of a form: where its button leads
	Open                   bool
	Top, Below             []string // what is to be known before the fields, and after them
	Hidden                 [][2]string
	Fields                 []fieldView
	Fold                   string // names those that are folded away
	Files                  bool   // it takes pictures
	Wrong                  []told
	Tapped                 string // names of the fields that the phone's clock filled in
}

// fieldView is a field of such a form.
type fieldView struct {
	ID, Name, Label, Hint string
	Kind                  string // number, time, date, words, text, long, several
	Value                 string
	Values                []string // of several
	Was                   string   // what was on record when the form was made
	HasWas                bool
	Options               []chooseOption
	Now                   string // on the button that fills in the phone's time
	Wrong                 []told
	More                  bool // it is asked for more seldom: folded away as long as it is empty
}

// Folds are the fields that are folded away, Shown the others.
func (f formView) Folds() []fieldView { return f.folded(true) }
func (f formView) Shown() []fieldView { return f.folded(false) }

func (f formView) folded(away bool) (fields []fieldView) {
	for _, is := range f.Fields {
		if is.More == away {
			fields = append(fields, is)
		}
	}
	return fields
}

// Unfolds says whether something stands in what is folded away, or is wrong there.
func (f formView) Unfolds() bool {
	return slices.ContainsFunc(f.Folds(), func(is fieldView) bool { return is.Value != "" || len(is.Wrong) > 0 })
}

// named gives each field an id of its own on the page.
func (f *formView) named() {
	for i := range f.Fields {
		f.Fields[i].ID = f.What + "-" + f.Fields[i].Name
	}
}

// Wrongs says whether anything is wrong with what was sent.
func (f *formView) Wrongs() bool {
	return len(f.Wrong) > 0 || slices.ContainsFunc(f.Fields, func(is fieldView) bool { return len(is.Wrong) > 0 })
}

// again fills the form in with what was sent, and says what is wrong with it.
func (f *formView) again(a *Ask, wrong []record.Problem) {
	f.Open, f.Tapped = true, a.Field("tapped")
	for i := range f.Fields {
		is := &f.Fields[i]
		is.Value = a.Field(is.Name)
		if is.HasWas {
			is.Was = a.Field("was." + is.Name)
		}
		if is.Kind == "several" {
			is.Values = slices.Clone(a.PostForm[is.Name])
		}
		for k := range is.Options {
			is.Options[k].Selected = is.Options[k].Value == is.Value
		}
	}
	for _, p := range wrong {
		at := slices.IndexFunc(f.Fields, func(is fieldView) bool { return is.Name == p.Column })
		if at < 0 {
			f.Wrong = append(f.Wrong, a.wrong(p))
			continue
		}
		is := a.wrong(p)
		f.Fields[at].Wrong = append(f.Fields[at].Wrong, is)
	}
}

func (a *Ask) plainField(c *record.Column, kind string) fieldView {
	return fieldView{Name: c.Name, Label: a.Say.EntryField(c), Kind: kind}
}

func (a *Ask) textField(c *record.Column) fieldView   { return a.plainField(c, "text") }
func (a *Ask) numberField(c *record.Column) fieldView { return a.plainField(c, "number") }

// timeField is a time of day, which a tap fills in.
func (a *Ask) timeField(name string) fieldView {
	f := a.plainField(&record.Column{Name: name}, "time")
	f.Now = a.Say.NowButton()
	return f
}

// wordField is a choice of a column's words; none is what stands for no answer, "" where
// there has to be one.
func (a *Ask) wordField(c *record.Column, none string) fieldView {
	f := a.plainField(c, "words")
	for _, word := range c.Words.Words {
		f.Options = append(f.Options, chooseOption{Value: word, Text: a.Say.Word(word)})
	}
	if none != "" {
		f.Options = append(f.Options, chooseOption{Value: "", Text: none, Selected: true})
	}
	return f
}

// field is a field of a record's column, with what stands there.
func (a *Ask) field(r record.Record, column string) fieldView {
	c := r.Table().Column(column)
	was := record.FieldText(r.Fields()[r.Table().Index(column)])
	var f fieldView
	switch c.Kind {
	case record.KindNumber, record.KindCount:
		f = a.numberField(c)
	case record.KindMoment:
		f = a.timeField(column)
	case record.KindDate:
		f = a.plainField(c, "date")
	case record.KindWord:
		f = a.wordField(c, a.Say.NotSaid())
		f.choose(was, a.Say.Choice(was))
	default:
		f = a.textField(c)
	}
	f.Value, f.Was, f.HasWas = a.asShown(c, was), was, true
	return f
}

// choose chooses a word, which is one of those that can be chosen from then on.
func (f *fieldView) choose(word, text string) {
	if word != "" && !slices.ContainsFunc(f.Options, func(o chooseOption) bool { return o.Value == word }) {
		f.Options = append([]chooseOption{{Value: word, Text: text}}, f.Options...)
	}
	for i := range f.Options {
		f.Options[i].Selected = f.Options[i].Value == word
	}
}

// asShown is a value of the records as a form shows it: a time without its day, a number
// in the reader's unit to the hundredth.
func (a *Ask) asShown(c *record.Column, was string) string {
	switch c.Kind {
	case record.KindMoment:
		if len(was) >= 16 {
			return was[11:16]
		}
	case record.KindNumber:
		v, err := strconv.ParseFloat(was, 64)
		if err != nil {
			return was
		}
		if a.Say.Units.Si && c.Unit != nil {
			if factor, offset, ok := c.Unit.Scale(c.Unit.SI); ok {
				v = (v - offset) / factor
			}
		}
		text := strconv.FormatFloat(v, 'f', 2, 64)
		return a.decimal(strings.TrimSuffix(strings.TrimRight(text, "0"), "."))
	}
	return was
}

// bareNumber is a number, or numbers added up, without a unit.
var bareNumber = regexp.MustCompile(`^[\d\s.,/+¼½¾-]+$`)

// withUnit is a value as it is written with the unit that its field names, where that is
// not the record's own.
func (a *Ask) withUnit(u *record.Unit, text string) string {
	if u == nil || !a.Say.Units.Si || u.SI == u.Label || !bareNumber.MatchString(text) {
		return text
	}
	return text + " " + u.SI
}

// decimal is a number of the records as it is read here, where a comma may be the mark.
func (a *Ask) decimal(text string) string {
	if a.Site.Settings.Sheet.DecimalComma == "yes" {
		return strings.Replace(text, ".", ",", 1)
	}
	return text
}

// number reads a number of a column of placements.
func (a *Ask) number(column, text string) (float64, []record.Problem) {
	p := &record.Placement{}
	c := record.Placements.Column(column)
	problems := sheet.NewForm(record.Placements, a.entrySheet()).Read(p.Fields(), column, a.withUnit(c.Unit, text))
	is, _ := p.Fields()[record.Placements.Index(column)].(*record.Number)
	return is.V, problems
}
