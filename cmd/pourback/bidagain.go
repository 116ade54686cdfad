package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"

	"github.com/spf13/cobra"

	"pourback/analysis/bid"
	"pourback/ingest/spec"
	"pourback/ingest/store"
	"pourback/report/out"
	"pourback/report/page"
)

// again is a bid that starts from a kept one: a new version of it, or a new bid from
// its spec.
type again struct {
	revise, copy int64
	old          *bid.Kept // that it starts from; nil where it starts from none
}

// asked says whether the bid starts from a kept one.
func (g *again) asked() bool { return g.revise != 0 || g.copy != 0 }

// check says what is wrong with the words of the call.
func (g *again) check(cmd *cobra.Command) error {
	if g.revise != 0 && g.copy != 0 {
		return usagef("--revise makes a new version of a bid, --copy a new bid from its spec: give one of them")
	}
	for flag, id := range map[string]int64{"revise": g.revise, "copy": g.copy} {
		if cmd.Flags().Changed(flag) && id < 1 {
			return usagef("--%s: want a bid's number, such as --%s 3; `pourback bids` lists them", flag, flag)
		}
	}
	return nil
}

// base is the spec of the kept bid that this one starts from.
func (b *bidCommand) base(ctx context.Context, st *store.Store) (*spec.Spec, error) {
	id := max(b.again.revise, b.again.copy)
	if st == nil {
		return nil, fmt.Errorf("there is no bid %d: there is no database to have kept it", id)
	}
	if b.again.revise != 0 {
		if err := st.MayRevise(ctx, id); err != nil {
			return nil, err
		}
	}
	kept, err := st.Bid(ctx, id)
	if err != nil {
		return nil, err
	}
	offer, err := bidOf(kept)
	if err != nil {
		return nil, err
	}
	from := offer.Spec
	if b.again.copy != 0 {
		from.Name, from.JobNo = "", ""
	} else if kept.JobNo != "" {
		from.JobNo = kept.JobNo
	}
	b.again.old = keptOf(kept, offer)
	return spec.SpecOf(valuesOf(reflect.ValueOf(from))), nil
}

// valuesOf are the values of a spec by the names of its keys, those that are there.
func valuesOf(v reflect.Value) map[string]any {
	values := map[string]any{}
	for i := range v.NumField() {
		name, f := v.Type().Field(i).Tag.Get("mapstructure"), v.Field(i)
		switch {
		case f.IsZero():
		case f.Kind() == reflect.Struct:
			values[name] = valuesOf(f)
		case f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Struct:
			list := make([]map[string]any, f.Len())
			for k := range list {
				list[k] = valuesOf(f.Index(k))
			}
			values[name] = list
		default:
			values[name] = f.Interface()
		}
	}
	return values
}

// over reads what the call lays over the spec of the bid that this one starts from.
func (b *bidCommand) over(base *spec.Spec, args []string, words []spec.Word) (bid.Spec, error) {
	if len(args) == 0 {
		return b.accept(spec.ReadOver(base, "", nil, words, b.sheetOptions()))
	}
	text, err := os.ReadFile(args[0])
	if err != nil {
		return bid.Spec{}, err
	}
	return b.accept(spec.ReadOver(base, filepath.Base(args[0]), text, words, b.sheetOptions()))
}

// changes is the bid beside the version that it revises, nil where it revises none.
func (b *bidCommand) changes(offer *bid.Bid, id int64) *bid.Comparison {
	if b.again.revise == 0 {
		return nil
	}
	now := &bid.Kept{ID: id, Version: b.version, Bid: *offer}
	if b.settings.NoNames {
		nameless(&b.again.old.Bid)
		nameless(&now.Bid)
	}
	return bid.Compare(b.again.old, now)
}

// nameless takes the names of people and sites out of a bid that was kept with them.
func nameless(b *bid.Bid) {
	b.Name, b.Spec.Name, b.Spec.Crew, b.Labor.Crew = "", "", "", ""
	b.Notes = slices.DeleteFunc(b.Notes, func(n bid.Note) bool { return n.Kind == bid.NoteUnknownCrew })
}

// keptOf is a kept bid as the analysis takes it.
func keptOf(b store.Bid, offer *bid.Bid) *bid.Kept {
	return &bid.Kept{ID: b.ID, MadeOn: b.MadeOn, JobNo: b.JobNo, Fate: bid.Fate(b.Fate), FateOn: b.FateOn, Version: b.Version, Revises: b.Revises, First: b.First, Bid: *offer}
}

// sayChanges tells what a revision changed, where the bid is one.
func (b *bidCommand) sayChanges(c *bid.Comparison) error {
	if c == nil {
		return nil
	}
	p := page.RevisedPage(c, b.reportOptions())
	if b.out != "" {
		fmt.Fprintln(b.toStdout, p.Answer)
		return nil
	}
	if err := out.Terminal(b.toStdout, []page.Page{p}, b.width, false); err != nil {
		return err
	}
	_, err := fmt.Fprintln(b.toStdout)
	return err
}
