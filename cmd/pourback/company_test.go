package main

import (
	"os"
	"strings"
	"testing"
)

// TestCompanyOnPapers: a name alone is as it always was; a group has all that
// papers show, and what no setting is called is refused by its place.
func TestCompanyOnPapers(t *testing.T) {
	call := func(yaml string, args ...string) result {
		inFolder(t, map[string]string{"pourback.yaml": yaml, "lot.yaml": strings.Replace(lotSpec, "month: July", "site: 14 Mesquite Lane\nmonth: July", 1)})
		return call(t, args...)
	}
	call("company: Saltgrass Flatwork\n", "config").want(t, exitDone, "Saltgrass Flatwork")
	whole := "company:\n  name: Saltgrass Flatwork\n  email: office@saltgrass.example\n  phones: {plant: 555-0142, owner: 555-0110}\nsite_url: http://office.local:8377/\nproposal: {holds_days: 10, payment: Half before the pour.}\n"
	call(whole, "config").want(t, exitDone, "phones", "555-0142", "holds_days", "office.local")
	call(whole, "bid", "lot.yaml", "--as-of", "2026-03-31", "--proposal", "offer.html", "--pour-day", "day.html", "--json").want(t, exitDone, `"paper": "proposal"`, `"file": "offer.html"`, `"paper": "pour-day sheet"`)
	for file, wants := range map[string][]string{"offer.html": {"Saltgrass Flatwork", "office@saltgrass.example", "tel:5550110", "April 10, 2026", "Half before the pour.", "14 Mesquite Lane"},
		"day.html": {"tel:5550142", "http://office.local:8377/pour/J-2", "14 Mesquite Lane"}} {
		html, err := os.ReadFile(file)
		for _, want := range wants {
			if err != nil || !strings.Contains(string(html), want) {
				t.Errorf("%s lacks %q (%v)", file, want, err)
			}
		}
	}
	call(whole, "bid", "lot.yaml", "--no-names", "--proposal", "offer.html", "--pour-day", "day.html", "--dry-run").want(t, exitDone)
	for _, file := range []string{"offer.html", "day.html"} {
		if html, err := os.ReadFile(file); err != nil || strings.Contains(string(html), "Mesquite") {
			t.Errorf("%s names the site (%v)", file, err)
		}
	}
	for yaml, says := range map[string]string{
		"company: {nane: Saltgrass}\n":          `company has no "nane"; did you mean "name"?`,
		"company: {phones: {plnt: 555-0142}}\n": `company.phones has no "plnt"; did you mean "plant"?`,
		"company: {phones: 555-0142}\n":         "phones",
		"proposal: {holds: 10}\n":               `proposal has no "holds"; did you mean "holds_days"?`,
		"proposal: {holds_days: 0}\n":           "proposal.holds_days is 0: want days from 1 to 3650",
		"site_url: office.local\n":              `site_url is "office.local": want the address`,
		"site_url: javascript:alert(1)\n":       "want the address",
	} {
		call(yaml, "config").want(t, exitUsage, says)
	}
	inFolder(t, map[string]string{})
	callWith(t, []string{"POURBACK_COMPANY=Kestrel Works"}, "config").want(t, exitDone, "Kestrel Works")
}
