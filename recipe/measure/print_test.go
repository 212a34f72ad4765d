package measure

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What a person reads. The figures are chosen for the page of this package's own
// rule (three figures, whole digits kept), so the source is the package comment.
func TestSystem(t *testing.T) {
	m, u := Metric, US
	for _, c := range []struct{ got, want string }{
		{m.Mass(0), "0 g"}, {m.Mass(0.0456), "45.6 mg"}, {m.Mass(0.09996), "0.1 g"}, {m.Mass(14.4), "14.4 g"}, {m.Mass(15), "15 g"},
		{m.Mass(31.1034768), "31.1 g"}, {m.Mass(999.4), "999 g"}, {m.Mass(999.6), "1 kg"}, {m.Mass(1234), "1.23 kg"}, {m.Mass(1.2345e6), "1234 kg"},
		{u.Mass(0), "0 oz"}, {u.Mass(0.5), "7.72 gr"}, {u.Mass(14.4), "0.508 oz"}, {u.Mass(453.59237), "1 lb"}, {u.Mass(400), "14.1 oz"},
		{m.Volume(0), "0 mL"}, {m.Volume(0.85), "850 mL"}, {m.Volume(0.9996), "1 L"}, {m.Volume(1.5), "1.5 L"}, {m.Volume(12.345), "12.3 L"},
		{u.Volume(0.85), "28.7 US fl oz"}, {u.Volume(1.5), "1.59 US qt"}, {u.Volume(3.785411784), "1 US gal"},
		{m.Length(2.4821), "2.48 mm"}, {m.Length(39), "39 mm"}, {m.Length(254), "25.4 cm"}, {m.Length(1500), "1.5 m"},
		{u.Length(31.75), "1.25 in"}, {u.Length(304.8), "12 in"}, {u.Length(1000), "3.28 ft"},
		{m.Area(26.933), "26.9 cm2"}, {m.Area(0.05), "5 mm2"}, {m.Area(269.3), "2.69 dm2"}, {m.Area(26930), "2.69 m2"},
		{u.Area(26.933), "4.17 in2"}, {u.Area(2000), "2.15 ft2"},
		{m.Temperature(75), "75 C"}, {m.Temperature(65.5555), "65.6 C"}, {m.Temperature(-0.04), "0 C"}, {m.Temperature(-5), "-5 C"},
		{u.Temperature(100), "212 F"}, {u.Temperature(-40), "-40 F"}, {u.Temperature(65.5555), "150 F"},
		{m.Time(0), "0 s"}, {m.Time(8.55), "8.6 s"}, {m.Time(8.45), "8.4 s"}, {m.Time(9.96), "10 s"}, {m.Time(59.6), "1 min"}, {m.Time(90), "1 min 30 s"},
		{m.Time(3599.7), "1 h"}, {m.Time(5400), "1 h 30 min"}, {u.Time(14400), "4 h"}, {m.Time(183600), "2 days 3 h"}, {m.Time(-90), "-1 min 30 s"},
		{m.Of(4.5, "g/L"), "4.5 g/L"}, {m.Of(0.01, "g/L"), "10 mg/L"}, {u.Of(22.467455, "g/L"), "3 oz/US gal"},
		{m.Of(20, "mL/L"), "20 mL/L"}, {u.Of(7.8125, "mL/L"), "1 US fl oz/US gal"},
		{m.Load(2), "2 dm2/L"}, {u.Load(2), "0.815 ft2/US gal"},
		{m.Spread(80), "80 mL/m2"}, {u.Spread(40.7458333), "1 US gal/1000 ft2"},
		{m.Mass(Grams(math.NaN())), "? mg"}, {m.Time(Seconds(math.Inf(1))), "? s"}, {m.Temperature(Celsius(math.NaN())), "? C"},
		{m.String(), "metric"}, {u.String(), "us"},
	} {
		if c.got != c.want {
			t.Errorf("printed %q, want %q", c.got, c.want)
		}
	}
}

// What a System prints, the parser of its kind reads, within half a percent (three
// figures) and without a note: no printed unit has a namesake but oz.
func TestPrintedReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom([]System{Metric, US}).Draw(t, "system")
		x := rapid.Float64Range(1e-3, 1e6).Draw(t, "x")
		check := func(text string, back float64, err error) {
			t.Helper()
			if err != nil {
				t.Fatalf("%s cannot be read: %v", text, err)
			}
			if math.Abs(back-x) > 0.005001*x {
				t.Fatalf("%v is printed as %s", x, text)
			}
			if note := noteOf(text); note != "" && !strings.HasPrefix(note, "oz ") && !strings.HasPrefix(note, "gr ") {
				t.Fatalf("%s carries a note: %s", text, note)
			}
		}
		text := s.Mass(Grams(x))
		m, err := ParseMass(text)
		check(text, float64(m), err)
		text = s.Volume(Liters(x))
		v, err := ParseVolume(text)
		check(text, float64(v), err)
		text = s.Length(Millimeters(x))
		l, err := ParseLength(text)
		check(text, float64(l), err)
		text = s.Area(SquareCM(x))
		a, err := ParseArea(text)
		check(text, float64(a), err)
		text = s.Of(x, "g/L")
		c, err := parseAs(text, MassPerVolume)
		check(text, c, err)
		text = s.Load(SquareDMPerLiter(x))
		load, err := ParseLoad(text)
		check(text, float64(load), err)
		text = s.Spread(MillilitersPerSquareM(x))
		spread, err := ParseSpread(text)
		check(text, float64(spread), err)
		if x >= 10 {
			text = s.Time(Seconds(x))
			d, err := ParseDuration(text)
			if err != nil || math.Abs(float64(d)-x) > 0.5 && math.Abs(float64(d)-x) > 0.0105*x {
				t.Fatalf("%v s is printed as %s, which reads %v, %v", x, text, d, err)
			}
		}
		celsius := Celsius(math.Mod(x, 400) - 100)
		text = s.Temperature(celsius)
		k, err := ParseTemperature(text)
		if err != nil || math.Abs(float64(k-celsius)) > 0.0501 {
			t.Fatalf("%v C is printed as %s, which reads %v, %v", celsius, text, k, err)
		}
	})
}
