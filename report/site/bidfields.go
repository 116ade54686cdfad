package site

import (
	"net/url"
	"slices"
	"strings"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/spec"
	"pourback/report/say"
)

// The fields of the form for a bid by the keys of a spec, in the order in which an owner
// thinks of them. A test holds them to all keys there are.
var (
	jobFields   = []string{"name", "site", "on", "crew", "haul_min"}
	termFields  = []string{"target_margin", "certainty", "overhead", "contingency", "crew_size", "warranty_months", "job_no", "none_needed", "draws"}
	dayFields   = []string{"start", "truck_yd", "plant_spacing_min", "discharge_limit_min", "concrete_temp_f", "forecast"}
	priceFields = []string{"concrete_per_yd", "labor_per_hour", "pump_hire", "pump_per_yd", "pump_per_hour", "pump_min_hours", "mesh_per_sqft", "rebar_per_sqft", "fiber_per_yd", "cut_per_ft", "base_per_sqft", "excavation_per_sqft",
		"forms_per_ft", "cure_per_sqft", "seal_per_sqft", "cold_per_yd", "blankets_per_sqft", "haul_off", "equipment", "subcontract", "permits", "travel", "clean_up"}

	slabFields  = []string{"use", "length_ft", "width_ft", "thickness_in", "method", "reinforcement", "joint_spacing_ft"}
	moreFields  = []string{"name", "day", "bar", "bar_spacing_in", "joint_cut", "base", "finish", "curing", "pump_outfit", "hose_in", "mix", "mix_psi", "max_aggregate_in", "slump_in", "air_pct", "admixtures", "retarder", "fiber_lb_per_yd"}
	shapeFields = []string{"area_sqft", "outline", "holes", "notch_length_ft", "notch_width_ft", "depths", "edge_width_in", "edge_depth_in", "edge_taper_in", "edge_sides", "against", "existing_joints",
		"steps.risers", "steps.rise_in", "steps.tread_in", "steps.width_ft", "steps.solid", "curb.length_ft", "curb.width_in", "curb.height_in"}
)

// usualWords are what stands for a word that is left empty.
var usualWords = map[string]string{"method": "chute", "reinforcement": "none", "joint_cut": "saw"}

// settingOf is the setting of a bid that stands for a field that is left empty.
var settingOf = map[string]bid.SettingName{"haul_min": bid.SetHaul, "target_margin": bid.SetTarget, "certainty": bid.SetCertainty, "overhead": bid.SetOverhead, "contingency": bid.SetContingency, "crew_size": bid.SetCrew,
	"warranty_months": bid.SetWarranty, "truck_yd": bid.SetTruck, "plant_spacing_min": bid.SetSpacing, "discharge_limit_min": bid.SetLimit, "start": bid.SetStart, "concrete_per_yd": bid.SetConcrete, "labor_per_hour": bid.SetWage,
	"pump_hire": bid.SetPumpHire, "pump_per_yd": bid.SetPumpPerYd, "pump_per_hour": bid.SetPumpHour, "pump_min_hours": bid.SetPumpMinimum, "mesh_per_sqft": bid.SetMesh, "rebar_per_sqft": bid.SetRebar, "fiber_per_yd": bid.SetFiber,
	"cut_per_ft": bid.SetCut, "forms_per_ft": bid.SetForms, "cure_per_sqft": bid.SetCure, "cold_per_yd": bid.SetCold, "blankets_per_sqft": bid.SetBlankets}

// bidField is a field as the form shows it.
type bidField struct {
	Name, Label, Example, Value string
	Options                     []chooseOption // of a list
	Usual                       string         // what it goes by where it is empty
	Wrong                       []said         // what is wrong with it, which keeps a bid from being made
	Care                        []said         // what is unwise about it
	Numeric                     bool
}

// said is a sentence about what was written, and whether it is English whatever the
// reader's language is.
type said struct {
	Text    string `json:"says"`
	English bool   `json:"-"`
}

// mostSlabs are as many as a bid has, mostItems as many other costs as a form.
const (
	mostSlabs = 50
	mostItems = 300
)

// readBidForm takes the fields of a form. Of too many slabs it takes one too many, which
// is said to be wrong.
func readBidForm(fields url.Values) spec.Form {
	f := spec.Form{Job: map[string]string{}}
	get := func(name string) string { return strings.TrimSpace(fields.Get(name)) }
	for _, key := range slices.Concat(jobFields, termFields, dayFields, priceFields) {
		if v := get(key); v != "" {
			f.Job[key] = v
		}
	}
	for i := range mostSlabs + 1 {
		if !fields.Has(spec.Field(i, "use")) {
			break
		}
		slab := map[string]string{}
		for _, key := range slices.Concat(slabFields, moreFields, shapeFields) {
			if v := get(spec.Field(i, key)); v != "" {
				slab[key] = v
			}
		}
		f.Placements = append(f.Placements, slab)
	}
	for i := range mostItems {
		if name := spec.ItemField(i); fields.Has(name + ".name") {
			f.Items = append(f.Items, spec.FormItem{Name: get(name + ".name"), Amount: get(name)})
		}
	}
	return f
}

// fieldsOf are some fields of the form.
func (v *bidView) fieldsOf(keys []string, values map[string]string, name func(key string) string) []bidField {
	var all []bidField
	for _, key := range keys {
		if key == "draws" && values[key] == "" { // who never asked for it is not asked
			continue
		}
		if key == "crew" && v.ask.Company.settings.NoNames {
			continue
		}
		label := key
		if key == "name" && name(key) != key {
			label = "slab name"
		}
		f := bidField{Name: name(key), Label: v.ask.Say.BidField(label), Example: v.ask.Say.BidExample(key), Value: values[key], Usual: v.usual(key, name(key))}
		if f.Options = v.choices(key, values[key]); f.Options != nil {
			f.Usual = "" // it stands in the list
		}
		f.Wrong, f.Care = v.wrong[f.Name], v.care[f.Name]
		f.Numeric = f.Options == nil && numeric(key)
		all = append(all, f)
	}
	return all
}

// numeric says whether a phone may show its keys for numbers: not where units, feet and
// inches or percentages are written too.
func numeric(key string) bool {
	return slices.Contains([]string{"day", "crew_size", "warranty_months", "mix_psi", "steps.risers", "plant_spacing_min", "discharge_limit_min", "haul_min"}, key)
}

// usual is what stands where a field is left empty.
func (v *bidView) usual(key, field string) string {
	w := v.ask.Say
	switch word := usualWords[key]; {
	case word != "" && strings.HasPrefix(field, "p"):
		return w.IfEmpty(w.Word(word))
	case key == "crew":
		return w.IfEmpty(w.AverageCrew())
	}
	if v.made == nil || settingOf[key] == "" {
		return ""
	}
	for _, s := range v.made.Settings {
		if s.Name == settingOf[key] && s.Basis.From != bid.FromSpec {
			return w.IfEmpty(w.GoesBy(v.made, s))
		}
	}
	return ""
}

// choices are the words that a field may hold, nil where it holds anything.
func (v *bidView) choices(key, now string) []chooseOption {
	w := v.ask.Say
	var words []string
	switch key {
	case "crew":
		words = wordsOf(&v.known.H.Placements.Crew)
	case "steps.solid":
		words = []string{"yes", "no"}
	case "use", "method", "base", "joint_cut", "finish", "curing":
		if c := record.Placements.Column(key); c.Words != nil {
			words = slices.Clone(c.Words.Words)
		}
	case "reinforcement":
		words = []string{"none", "mesh", "rebar", "fiber", "mesh+fiber", "rebar+fiber", "mesh+rebar"}
	}
	if len(words) == 0 {
		return nil
	}
	if now != "" && !slices.Contains(words, now) {
		words = append(words, now)
	}
	options := []chooseOption{{"", "", now == ""}}
	switch {
	case usualWords[key] != "":
		options[0].Text = w.Usually(w.Word(usualWords[key]))
	case key == "crew":
		options[0].Text = w.AverageCrew()
	default:
		options[0].Text = w.NotSaid()
	}
	for _, word := range words {
		text := say.Clean(word, say.ShortName)
		if key != "crew" {
			text = w.Choice(word)
		}
		options = append(options, chooseOption{word, text, word == now})
	}
	return options
}
