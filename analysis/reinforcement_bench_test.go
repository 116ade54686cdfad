package analysis

import (
	"fmt"
	"testing"
)

func BenchmarkCracks(b *testing.B) {
	for _, n := range []int{600, 10_000, 100_000, 1_000_000} {
		h := manySlabs(n)
		for _, topic := range []string{"cracks", "reinforcement"} {
			b.Run(fmt.Sprintf("%s/%d", topic, n), func(b *testing.B) {
				opt, err := Options{Topics: []string{topic}}.complete()
				if err != nil {
					b.Fatal(err)
				}
				for b.Loop() {
					s := slabsOf(h, opt)
					if topic == "cracks" {
						cracks(h, s, opt)
					} else {
						reinforcement(h, s, opt)
					}
				}
			})
		}
		b.Run(fmt.Sprintf("columns/%d", n), func(b *testing.B) {
			for b.Loop() {
				slabsOf(h, Options{Event: EventCallback, Bands: DefaultBands})
			}
		})
	}
}
