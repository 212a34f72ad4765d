package measure

import (
	"math"
	"strings"
	"testing"
	"unicode"

	"hepar/recipe/fault"
)

// Whatever is typed: no panic, a sound quantity that survives its own printing, or
// a usage error of two printable lines.
func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"7.5 g/L", "1 1/4 in", "1-1/4 in", "½ cup", "75 °C", "-40 F", "1 min 30 s", "1h30min", "3 oz/gal", "2 US gal/1000 ft2",
		"1 % (w/v)", "4 sq. in.", "1 U.S. gal", "5 cm^2", "1e400 g", "nan g", "7,5 g", "1 000 g", "0x10 g", "-0 C", "5 dram", "pea",
		"1:10", "10 %", "5 \x1b[31mg", "99999999999999999999 g", "1/0 in", "5 g per L", "1 day 2 h 3 min 4.5 s", "5 °c", "((", "^2", "..", "°",
	} {
		f.Add(s)
	}
	ways := parsers()
	f.Fuzz(func(t *testing.T, text string) {
		q, err := Parse(text)
		if err == nil {
			if math.IsNaN(q.Number) || math.Abs(q.Number) > largest || math.Signbit(q.Number) && q.Number == 0 {
				t.Fatalf("Parse(%q) = %v", text, q.Number)
			}
			if q.Number < 0 && q.Unit.Dimension != Temperature {
				t.Fatalf("Parse(%q) = %s is negative", text, q)
			}
			back, err := Parse(q.String())
			if err != nil || back != q {
				t.Fatalf("Parse(%q) = %s, which reads back as %s, %v", text, q, back, err)
			}
		}
		for way, parse := range ways {
			err := parse(text)
			if err == nil {
				continue
			}
			if fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
				t.Fatalf("%s %q: %v has no cure or is no usage error", way, text, err)
			}
			for _, r := range err.Error() + fault.CureOf(err) {
				if !unicode.IsPrint(r) && !unicode.Is(unicode.Zs, r) {
					t.Fatalf("%s %q: the message echoes %U", way, text, r)
				}
			}
			if n := len([]rune(err.Error())); n > 150 || strings.Contains(err.Error(), "\n") {
				t.Fatalf("%s %q: the message is of %d characters", way, text, n)
			}
		}
	})
}
