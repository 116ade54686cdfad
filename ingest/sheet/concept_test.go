package sheet

import (
	"slices"
	"strings"
	"testing"
)

// TestVocabularyMeansLittleTwice holds every phrase to two concepts at most, and
// what says nothing to nothing.
func TestVocabularyMeansLittleTwice(t *testing.T) {
	of := map[string][]string{}
	for concept, list := range vocabulary {
		for _, phrase := range strings.Fields(list) {
			of[strings.TrimSuffix(phrase, "?")] = append(of[strings.TrimSuffix(phrase, "?")], concept)
		}
	}
	for phrase, concepts := range of {
		if len(concepts) > 2 || len(concepts) > 1 && slices.Contains(concepts, filler) {
			t.Errorf("%q is a word of %v", phrase, concepts)
		}
	}
}

// TestWordsGluedAndClipped takes headings of old programs and hasty hands apart;
// common practice, no published source.
func TestWordsGluedAndClipped(t *testing.T) {
	for heading, want := range map[string]string{
		"PLCDATE": "pour date", "AREASF": "area area", "CYRECD": "vol deliver", "CYLEFT": "vol left", "MENCNT": "people num",
		"JOBNUM": "job", "CALBKDT": "callback date", "CALBKWHY": "callback cause", "CALBKAMT": "callback money", "ESTDT": "plan date",
		"FOREMN": "crew", "CONTRCT": "price", "LOCATN": "site", "RETARDR": "retard", "OWNR": "customer", "MIXPSI": "mix psi",
		"ydsOrdered": "vol order", "custname": "customer name", "slabthick": "slab thick", "POURDT": "pour date", "JNTFT": "joint",
	} {
		var got []string
		for _, s := range phraseSenses(headingTokens(heading), 1) {
			got = append(got, s.concept)
		}
		equal(t, heading, slices.Compact(strings.Fields(strings.Join(got, " "))), slices.Compact(strings.Fields(want))...)
	}
	for _, heading := range []string{"xyzzy", "Marigold", "carpet", "toaster"} {
		for _, s := range phraseSenses(headingTokens(heading), 1) {
			if s.concept != "" {
				t.Errorf("%q stands for %s", heading, s.concept)
			}
		}
	}
}
