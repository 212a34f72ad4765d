package plan

import (
	"fmt"
	"testing"
)

// BenchmarkLoads plans so many loads of ten pieces in an open bath, and reports
// the cost of one load: it should not grow with their number.
func BenchmarkLoads(b *testing.B) {
	for _, n := range []int{100, 10_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r := drops()
			r.Basket, r.Rinse = true, Rinse{Tubs: 2, Volume: 1}
			r.Lots[0].Pieces, r.PerLoad = n*10, 10
			loads := 0
			b.ReportAllocs()
			for b.Loop() {
				p, err := Make(r)
				if err != nil {
					b.Fatal(err)
				}
				loads = len(p.Loads)
			}
			if loads != n {
				b.Fatalf("%d loads", loads)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(loads), "ns/load")
		})
	}
}

// BenchmarkTwoHundred plans 200 pieces.
func BenchmarkTwoHundred(b *testing.B) {
	r := rounds()
	for b.Loop() {
		if _, err := Make(r); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkHelp tries all levers of the 200 drops.
func BenchmarkHelp(b *testing.B) {
	r := drops()
	for b.Loop() {
		if len(Help(r, 5)) == 0 {
			b.Fatal("no levers")
		}
	}
}
