package analysis

import (
	"math"
	"strings"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

func TestRatesAreRefused(t *testing.T) {
	h := record.NewHistory(trial.Day("2025-12-31"), record.Set{})
	for _, r := range []setting.StandardRates{{ConcretePerYd: -1}, {LaborPerHour: -48_00}, {ConcretePerYd: 9e15}} {
		if _, err := Run(h, setting.Options{Rates: r}); err == nil {
			t.Errorf("rates %+v were taken", r)
		}
	}
}

func TestOrderCostsAreRefused(t *testing.T) {
	h := record.NewHistory(trial.Day("2025-12-31"), record.Set{})
	for name, spoil := range map[string]func(*setting.OrderCosts){
		"price_per_yd": func(c *setting.OrderCosts) { c.PricePerYd = -1 }, "increment_yd": func(c *setting.OrderCosts) { c.IncrementYd = -1 },
		"truck_yd": func(c *setting.OrderCosts) { c.TruckYd = 0 }, "balance_load": func(c *setting.OrderCosts) { c.BalanceLoad = math.NaN() },
	} {
		c := setting.DefaultOrderCosts()
		spoil(&c)
		if _, err := Run(h, setting.Options{Order: c}); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
	priced, err := setting.Options{Rates: setting.StandardRates{ConcretePerYd: 172_50}}.Complete()
	if err != nil || priced.Order.PricePerYd != 172.50 || priced.Order.BalanceLoad != 330 {
		t.Errorf("%+v %v: want the standard rate as the price of an order", priced.Order, err)
	}
	bad := setting.DefaultOveragePriors()
	bad.Sigma = 0
	if _, err := Run(h, setting.Options{Overage: bad}); err == nil || !strings.Contains(err.Error(), "sigma") {
		t.Errorf("a σ of 0 was taken: %v", err)
	}
}
