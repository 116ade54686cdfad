package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/go-viper/mapstructure/v2"
	wordwrap "github.com/jedib0t/go-pretty/v6/text"
	"github.com/spf13/cobra"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/spec"
)

// specKeys names the keys of a spec for the help.
func specKeys() string {
	job, prices, placement := spec.Keys()
	text := "Its keys are " + keyNames(job) + "; of each placement, at the top or in a list under placements: " + keyNames(placement) +
		"; under prices: " + keyNames(prices) + "; and under items any other cost by its name. Values may bear their own units."
	lines := strings.Split(wordwrap.WrapSoft(text, 110), "\n")
	for i := range lines {
		lines[i] = strings.TrimSpace(lines[i])
	}
	return strings.Join(lines, "\n")
}

func keyNames(keys []spec.Key) string {
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = k.Name
	}
	return strings.Join(names, ", ")
}

// specWords are what flags say of the bid, over a file and over a kept bid.
func (b *bidCommand) specWords(cmd *cobra.Command, args []string) ([]spec.Word, error) {
	var words []spec.Word
	for _, f := range bidFlags {
		if cmd.Flags().Changed(f.flag) {
			words = append(words, spec.Word{As: "--" + f.flag, Key: f.key, Value: *b.words[f.flag]})
		}
	}
	for _, p := range b.prices {
		key, value, found := strings.Cut(p, "=")
		if key = strings.TrimSpace(key); !found || !spec.IsPrice(key) {
			return nil, usagef("--price %q: want one of %s, such as concrete_per_yd=172.50", p, priceNames())
		}
		words = append(words, spec.Word{As: "--price " + key, Key: key, Value: value})
	}
	if len(args)+len(words) == 0 && !b.again.asked() {
		return nil, usagef("bid takes a spec, or flags such as --use patio --length 20 --width 15 --thickness 4; `pourback bid --help` shows a spec of ten lines")
	}
	return words, nil
}

func priceNames() string {
	_, prices, _ := spec.Keys()
	return keyNames(prices)
}

// read reads a spec from a file, if there is one, and words.
func (b *bidCommand) read(args []string, words []spec.Word) (bid.Spec, error) {
	if len(args) == 0 {
		return b.accept(spec.ReadWords(words, b.sheetOptions()))
	}
	text, err := os.ReadFile(args[0])
	if err != nil {
		return bid.Spec{}, err
	}
	return b.accept(spec.Read(filepath.Base(args[0]), text, words, b.sheetOptions()))
}

// accept prints what is wrong with a spec, and hands it on where it is usable.
func (b *bidCommand) accept(s *spec.Spec, problems []record.Problem) (bid.Spec, error) {
	for _, p := range problems {
		fmt.Fprintf(b.stderr, "%s: %s\n", p.Severity, p)
	}
	if s == nil {
		return bid.Spec{}, usageError{errors.New("the spec cannot be bid on as it stands; nothing was kept")}
	}
	return bidSpec(s)
}

// bidSpec hands a spec to the analysis: both name each key alike, which a test
// keeps so.
func bidSpec(s *spec.Spec) (bid.Spec, error) {
	var out bid.Spec
	dec, err := mapstructure.NewDecoder(&mapstructure.DecoderConfig{Result: &out, ErrorUnused: true})
	if err != nil {
		return out, err
	}
	return out, dec.Decode(s.Values())
}
