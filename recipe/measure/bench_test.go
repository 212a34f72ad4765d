package measure

import "testing"

func BenchmarkParse(b *testing.B) {
	for _, text := range []string{"7.5 g/L", "75 C", "1 1/4 in", "1 min 30 s", "3 oz/US gal", "½ cup", "5 foo"} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = Parse(text)
			}
		})
	}
}

func BenchmarkTyped(b *testing.B) {
	b.Run("fahrenheit", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_, _ = ParseTemperature("150 F")
		}
	})
}

func BenchmarkRound(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_ = Round(26.9329, 2)
	}
}

func BenchmarkClean(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_ = Clean("Antique black on silver, \x1b[31mred\x1b[0m")
	}
}
