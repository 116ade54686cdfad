package main

import (
	"fmt"
	"net/url"
	"reflect"
	"strings"

	"github.com/go-viper/mapstructure/v2"
	"github.com/spf13/viper"

	"pourback/ingest/record"
	"pourback/report/page"
)

// company is who the owner is on papers. A text alone is the name.
type company struct {
	Name    string `mapstructure:"name"`
	Address string `mapstructure:"address"`
	Email   string `mapstructure:"email"`
	License string `mapstructure:"license"` // as it is to be printed
	Phones  phones `mapstructure:"phones"`
}

// phones are numbers to call, as they are to be printed.
type phones struct {
	Plant string `mapstructure:"plant"`
	Pump  string `mapstructure:"pump"`
	Owner string `mapstructure:"owner"`
}

// proposal is what the owner sets about the customer's paper.
type proposal struct {
	HoldsDays int    `mapstructure:"holds_days"` // of its price
	Payment   string `mapstructure:"payment"`    // in the owner's words
	Warranty  string `mapstructure:"warranty"`   // the same, in place of what ours says of cracks
}

func usualProposal() proposal { return proposal{HoldsDays: 30} }

// check says what is wrong with a proposal's settings.
func (p proposal) check() error {
	if p.HoldsDays < 1 || p.HoldsDays > 3650 {
		return fmt.Errorf("proposal.holds_days is %d: want days from 1 to 3650, such as 30", p.HoldsDays)
	}
	return nil
}

// checkCompany refuses names inside the company that mean nothing.
func checkCompany(given map[string]any) error {
	for _, level := range []struct {
		of    string
		given map[string]any
		known group
	}{{"company", given, keysOf(company{})}, {"company.phones", asMap(given["phones"]), keysOf(phones{})}} {
		for _, key := range sortedKeys(level.given) {
			if _, ok := level.known[key]; !ok {
				near, _ := record.Nearest(key, sortedKeys(level.known))
				return fmt.Errorf("%s has no %q; did you mean %q?", level.of, key, near)
			}
		}
	}
	return nil
}

func asMap(v any) map[string]any {
	m, _ := v.(map[string]any)
	return m
}

// checkSite demands an address to which a page can be added.
func checkSite(address string) error {
	if address == "" {
		return nil
	}
	at, err := url.Parse(address)
	if err != nil || at.Scheme != "http" && at.Scheme != "https" || at.Host == "" || at.RawQuery != "" || at.Fragment != "" || at.User != nil {
		return fmt.Errorf("site_url is %q: want the address of the crew's site, such as http://office.local:8377", address)
	}
	return nil
}

// nameAlone takes a text for the company's name; the others are viper's own.
func nameAlone(c *mapstructure.DecoderConfig) {
	c.DecodeHook = mapstructure.ComposeDecodeHookFunc(mapstructure.StringToTimeDurationHookFunc(), mapstructure.StringToSliceHookFunc(","),
		func(from, to reflect.Type, v any) (any, error) {
			if to == reflect.TypeFor[company]() && from.Kind() != reflect.Map {
				return map[string]any{"name": fmt.Sprint(v)}, nil
			}
			return v, nil
		})
}

var _ viper.DecoderConfigOption = nameAlone

// value is the company as the settings file has it: its name, where that is all.
func (c company) value() any {
	if name := c.Name; c == (company{Name: name}) {
		return name
	}
	all := keysOf(c)
	all["phones"] = keysOf(c.Phones)
	return all
}

// letterhead is the company on papers.
func (s *settings) letterhead() page.Letterhead {
	c := s.Company
	return page.Letterhead{Address: c.Address, Email: c.Email, License: c.License, Phones: page.Phones(c.Phones), SiteURL: strings.TrimRight(s.SiteURL, "/"),
		HoldsDays: s.Proposal.HoldsDays, Payment: s.Proposal.Payment, Warranty: s.Proposal.Warranty}
}
