package measure

import (
	"math"
	"strings"
)

// System is the set of units in which quantities are printed.
type System int

// The systems. US stands for ounces, US liquid measures, inches and Fahrenheit.
const (
	Metric System = iota
	US
)

// String returns "metric" or "us".
func (s System) String() string {
	if s == US {
		return "us"
	}
	return "metric"
}

// step is one unit of a ladder: used from that many of the base unit upwards.
// size is the base units in one of it.
type step struct {
	symbol string
	size   float64
}

// Ladders run from the smallest unit to the largest; factors as in the table of units.
var (
	massMetric   = []step{{"mg", 1e-3}, {"g", 1}, {"kg", 1000}}
	massUS       = []step{{"gr", 0.06479891}, {"oz", 28.349523125}, {"lb", 453.59237}}
	volumeMetric = []step{{"mL", 1e-3}, {"L", 1}}
	volumeUS     = []step{{"US fl oz", 0.0295735295625}, {"US qt", 0.946352946}, {"US gal", 3.785411784}}
	lengthMetric = []step{{"mm", 1}, {"cm", 10}, {"m", 1000}}
	lengthUS     = []step{{"in", 25.4}, {"ft", 304.8}}
	areaMetric   = []step{{"mm2", 0.01}, {"cm2", 1}, {"dm2", 100}, {"m2", 1e4}}
	areaUS       = []step{{"in2", 6.4516}, {"ft2", 929.0304}}
)

// Mass prints a mass: mg below 0.1 g, g, and kg from 1000 g; US: grains below a
// quarter of an ounce, oz, and lb from 16 oz.
func (s System) Mass(m Grams) string {
	return s.climb(float64(m), massMetric, 0.1, massUS, 0.25)
}

// Volume prints a volume: mL, and L from 1000 mL; US: fl oz, quarts from 32 fl oz
// and gallons from 4 quarts, all named as US measures.
func (s System) Volume(v Liters) string {
	return s.climb(float64(v), volumeMetric, 1, volumeUS, 1)
}

// Length prints a length: mm, cm from 100 mm, m from 1000 mm; US: in, ft from 36 in.
func (s System) Length(l Millimeters) string {
	if s == US {
		return climb(float64(l), lengthUS, 3)
	}
	if math.Abs(float64(l)) < 100 {
		return climb(float64(l), lengthMetric[:1], 1)
	}
	return climb(float64(l), lengthMetric, 1)
}

// Area prints an area: mm2 below 0.1 cm2, cm2, dm2 from 100 cm2, m2 from 100 dm2;
// US: in2, ft2 from 144 in2.
func (s System) Area(a SquareCM) string {
	if s == US {
		return climb(float64(a), areaUS, 1)
	}
	if math.Abs(float64(a)) < 0.1 {
		return climb(float64(a), areaMetric[:1], 1)
	}
	return climb(float64(a), areaMetric[1:], 1)
}

// Temperature prints a temperature to a tenth of a degree: 75 C, 65.6 C; US: 149 F.
func (s System) Temperature(t Celsius) string {
	if s == US {
		return short(Round(float64(t)*9/5+32, 1)) + " F"
	}
	return short(Round(float64(t), 1)) + " C"
}

// Time prints a time for either system: tenths of a second below 10 s, whole
// seconds below an hour, whole minutes below two days, then hours: "8.5 s",
// "1 min 30 s", "4 h 15 min", "2 days 3 h".
func (s System) Time(t Seconds) string {
	x := float64(t)
	if math.IsNaN(x) || math.Abs(x) > largest {
		return "? s"
	}
	sign := ""
	if x < 0 {
		sign, x = "-", -x
	}
	if text := short(Round(x, 1)); x < 9.95 {
		if text == "0" {
			sign = ""
		}
		return sign + text + " s"
	}
	seconds := whole(x)
	switch {
	case seconds < 60:
		return sign + two(seconds, "s", 0, "")
	case seconds < 3600:
		return sign + two(math.Floor(seconds/60), "min", math.Mod(seconds, 60), "s")
	}
	minutes := whole(x / 60)
	if minutes < 48*60 {
		return sign + two(math.Floor(minutes/60), "h", math.Mod(minutes, 60), "min")
	}
	hours := whole(x / 3600)
	return sign + two(math.Floor(hours/24), "days", math.Mod(hours, 24), "h")
}

// Labour prints a time of work for either system as [System.Time] does, in hours and never
// in days, because a day of work has no fixed length: "60 h".
func (s System) Labour(t Seconds) string {
	if float64(t) < 48*3600 {
		return s.Time(t)
	}
	return Round(t.Minutes()/60, 0) + " h"
}

// MassConcentration prints a concentration of mass: g/L, mg/L below 0.1 g/L; US: oz/US gal.
func (s System) MassConcentration(c GramsPerLiter) string {
	return s.climb(float64(c), []step{{"mg/L", 1e-3}, {"g/L", 1}}, 0.1, []step{{"oz/US gal", 28.349523125 / 3.785411784}}, 1)
}

// VolumeConcentration prints a concentration of volume: mL/L; US: US fl oz/US gal
// (1 fl oz in a gallon of 128 fl oz is 7.8125 mL/L, exact).
func (s System) VolumeConcentration(c MillilitersPerLiter) string {
	return s.climb(float64(c), []step{{"mL/L", 1}}, 1, []step{{"US fl oz/US gal", 7.8125}}, 1)
}

// Load prints a bath load: dm2/L; US: ft2/US gal.
func (s System) Load(l SquareDMPerLiter) string {
	return s.climb(float64(l), []step{{"dm2/L", 1}}, 1, []step{{"ft2/US gal", 9.290304 / 3.785411784}}, 1)
}

// Spread prints how far a liquid goes: mL/m2; US: US gal/1000 ft2.
func (s System) Spread(x MillilitersPerSquareM) string {
	return s.climb(float64(x), []step{{"mL/m2", 1}}, 1, []step{{"US gal/1000 ft2", 3785.411784 / 92.90304}}, 1)
}

// Density prints a density in g/cm3 for either system.
func (s System) Density(d GramsPerCM3) string {
	return climb(float64(d), []step{{"g/cm3", 1}}, 1)
}

// climb picks the ladder of the system.
func (s System) climb(x float64, metric []step, second float64, us []step, secondUS float64) string {
	if s == US {
		return climb(x, us, secondUS)
	}
	return climb(x, metric, second)
}

// climb picks the largest unit of the ladder of which there is at least one once
// rounded, and prints the figure in it. The second unit is used from that many of
// it upwards: 0.1 g, 3 ft.
func climb(x float64, ladder []step, second float64) string {
	if x == 0 {
		home := 0
		if second < 1 {
			home = 1
		}
		return "0 " + ladder[home].symbol
	}
	for i := len(ladder) - 1; i >= 0; i-- {
		least := 1.0
		if i == 1 {
			least = second
		}
		rounded := sensible(x / ladder[i].size)
		if i == 0 || math.Abs(x/ladder[i].size) >= least || rounded == short(Figures(math.Copysign(least, x), 3)) {
			return rounded + " " + ladder[i].symbol
		}
	}
	return ""
}

// sensible rounds to three significant figures, and to whole ones above 999, and
// drops zeros after the point that say nothing.
func sensible(x float64) string {
	if math.Abs(x) >= 999.5 {
		return Round(x, 0)
	}
	return short(Figures(x, 3))
}

// short drops zeros at the end of a decimal.
func short(text string) string {
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// whole rounds to a whole number, half to even.
func whole(x float64) float64 { return count(Round(x, 0)) }

// two writes a time of one or two parts; a second part of zero is left out.
func two(a float64, unit string, b float64, unit2 string) string {
	text := Round(a, 0) + " " + unit
	if b > 0 {
		text += " " + Round(b, 0) + " " + unit2
	}
	return text
}
