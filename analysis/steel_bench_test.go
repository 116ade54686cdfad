package analysis

import (
	"fmt"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/steel"
)

func BenchmarkCracks(b *testing.B) {
	for _, n := range []int{600, 10_000, 100_000, 1_000_000} {
		h := trial.ManySlabs(n)
		for _, topic := range []string{"cracks", "reinforcement"} {
			b.Run(fmt.Sprintf("%s/%d", topic, n), func(b *testing.B) {
				opt, err := setting.Options{Topics: []string{topic}}.Complete()
				if err != nil {
					b.Fatal(err)
				}
				for b.Loop() {
					s := cracks.SlabsOf(h, opt)
					if topic == "cracks" {
						cracks.Of(h, s, opt)
					} else {
						steel.Of(h, s, opt)
					}
				}
			})
		}
		b.Run(fmt.Sprintf("columns/%d", n), func(b *testing.B) {
			for b.Loop() {
				cracks.SlabsOf(h, setting.Options{Event: setting.EventCallback, Bands: setting.DefaultBands})
			}
		})
	}
}
