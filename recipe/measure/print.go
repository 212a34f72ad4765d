package measure

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strconv"
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

// ladder is the units of one kind of figure, from the smallest to the largest. The
// second is used from that many of it upwards, each of the others from one.
type ladder struct {
	second float64
	steps  []step
}

// step is one unit of a ladder: size is the base units in one of it.
type step struct {
	symbol string
	size   float64
}

// ladders holds the metric and the US ladder by the base unit; factors as in the table.
var ladders = map[string][2]ladder{
	"g": {{0.1, []step{{"mg", 1e-3}, {"g", 1}, {"kg", 1000}}}, {0.25, []step{{"gr", 0.06479891}, {"oz", 28.349523125}, {"lb", 453.59237}}}},
	"L": {{1, []step{{"mL", 1e-3}, {"L", 1}}},
		{1, []step{{"US fl oz", 0.0295735295625}, {"US qt", 0.946352946}, {"US gal", 3.785411784}}}},
	"mm":    {{10, []step{{"mm", 1}, {"cm", 10}, {"m", 1000}}}, {3, []step{{"in", 25.4}, {"ft", 304.8}}}},
	"cm2":   {{0.1, []step{{"mm2", 0.01}, {"cm2", 1}, {"dm2", 100}, {"m2", 1e4}}}, {1, []step{{"in2", 6.4516}, {"ft2", 929.0304}}}},
	"g/L":   {{0.1, []step{{"mg/L", 1e-3}, {"g/L", 1}}}, {1, []step{{"oz/US gal", 28.349523125 / 3.785411784}}}},
	"mL/L":  {{1, []step{{"mL/L", 1}}}, {1, []step{{"US fl oz/US gal", 7.8125}}}}, // 1 in 128, exact
	"dm2/L": {{1, []step{{"dm2/L", 1}}}, {1, []step{{"ft2/US gal", 9.290304 / 3.785411784}}}},
	"mL/m2": {{1, []step{{"mL/m2", 1}}}, {1, []step{{"US gal/1000 ft2", 3785.411784 / 92.90304}}}},
}

// Of prints a figure of a unit that packages reckon in: g, L, mL, mm, cm2, dm2, C
// (how hot), K (by how much hotter), g/L, mL/L, dm2/L, mL/m2. A figure in any other
// unit (s, W, nm, %) is printed short and with its unit in both systems.
func (s System) Of(x float64, unit string) string {
	switch unit {
	case "g": // benches weigh in grams
		return s.with(Metric.Mass(Grams(x)), ounces(Grams(x)))
	case "L":
		return s.Liquid(Liters(x))
	case "mL":
		return s.with(Metric.Volume(Liters(x/1000)), US.Volume(Liters(x/1000)))
	case "dm2":
		return s.Area(SquareCM(x * 100))
	case "C":
		return s.Temperature(Celsius(x))
	case "K":
		return s.Degrees(Degrees(x))
	case "":
		return sensible(x)
	}
	if _, ok := ladders[unit]; ok {
		return s.climb(x, unit)
	}
	return sensible(x) + " " + unit
}

// with adds the US measure in brackets where the reader has US units. A balance and a
// cylinder are metric in both systems, as the trade has them.
func (s System) with(metric, us string) string {
	if s == US {
		return metric + " (" + us + ")"
	}
	return metric
}

// Mass prints a mass: mg below 0.1 g, g, and kg from 1000 g; US: grains below a
// quarter of an ounce, oz, and lb from 16 oz.
func (s System) Mass(m Grams) string { return s.climb(float64(m), "g") }

// Scale prints a mass as the balance shows it, to its last place: the mass has been
// rounded to a step of the balance. US adds ounces in brackets.
func (s System) Scale(m Grams) string {
	text := Plain(float64(m)) + " g"
	if len(text) > len("12345.6 g") {
		text = Metric.Mass(m)
	}
	return s.with(text, ounces(m))
}

// ounces leaves grains out: beside grams, gr is read as grams.
func ounces(m Grams) string { return ladder{1, ladders["g"][US].steps[1:]}.climb(float64(m)) }

// Volume prints a volume: mL, and L from 1000 mL; US: fl oz, quarts from 32 fl oz
// and gallons from 4 quarts, all named as US measures.
func (s System) Volume(v Liters) string { return s.climb(float64(v), "L") }

// Liquid prints a volume that is poured, as [System.Volume] does; but US below a
// fluid ounce, where there is no household measure left, in mL with fluid ounces.
func (s System) Liquid(v Liters) string {
	if s == US && v > 0 && float64(v) < ladders["L"][US].steps[0].size {
		return s.Of(v.Milliliters(), "mL")
	}
	return s.Volume(v)
}

// Length prints a length: mm, cm from 100 mm, m from 1000 mm; US: in, ft from 36 in.
func (s System) Length(l Millimeters) string { return s.climb(float64(l), "mm") }

// SixteenthMM is a sixteenth of an inch in mm (exact: 25.4 mm to the inch).
const SixteenthMM = 25.4 / 16

// Ruler prints a length as read off a ruler: "12 mm"; US: sixteenths of an inch,
// "7/16 in", "1 1/4 in", with the length in brackets where it lies between two marks.
func (s System) Ruler(l Millimeters) string {
	metric := Plain(float64(l)) + " mm"
	n := math.Round(float64(l) / SixteenthMM)
	switch {
	case s != US:
		return metric
	case !(n >= 0 && n < 1e6):
		return s.Length(l)
	}
	whole, part := strconv.Itoa(int(n)/16), big.NewRat(int64(n)%16, 16).RatString()
	text := strings.TrimSuffix(whole+" "+part, " 0") + " in"
	if n > 0 {
		text = strings.TrimPrefix(text, "0 ")
	}
	if math.Abs(n*SixteenthMM-float64(l)) > 0.05 {
		text += " (" + metric + ")"
	}
	return text
}

// Area prints an area: mm2 below 0.1 cm2, cm2, dm2 from 100 cm2, m2 from 100 dm2;
// US: in2, ft2 from 144 in2.
func (s System) Area(a SquareCM) string { return s.climb(float64(a), "cm2") }

// Temperature prints a temperature to a tenth of a degree: 75 C, 65.6 C; US: 149 F.
func (s System) Temperature(t Celsius) string {
	if s == US {
		return short(Round(float64(t)*9/5+32, 1)) + " F"
	}
	return short(Round(float64(t), 1)) + " C"
}

// Both prints a temperature for a thermometer of either scale: "75 C"; US: "167 F (75 C)".
func (s System) Both(t Celsius) string { return s.with(s.Temperature(t), Metric.Temperature(t)) }

// Degrees prints a difference of temperature to two figures: "1.3 C"; US: "2.3 F".
func (s System) Degrees(d Degrees) string {
	if s == US {
		return Figures(float64(d)*1.8, 2) + " F"
	}
	return Figures(float64(d), 2) + " C"
}

// Time prints a time for either system: tenths of a second below 10 s, whole
// seconds below an hour, whole minutes below two days, then hours: "8.5 s",
// "1 min 30 s", "4 h 15 min", "2 days 3 h".
func (s System) Time(t Seconds) string {
	x := float64(t)
	switch {
	case math.IsNaN(x) || math.Abs(x) > largest:
		return "? s"
	case math.Abs(x) < 9.95:
		return short(Round(x, 1)) + " s"
	case x < 0:
		return "-" + s.Time(-t)
	}
	seconds, minutes, hours := count(Round(x, 0)), count(Round(x/60, 0)), count(Round(x/3600, 0))
	switch {
	case seconds < 3600:
		return two(int(seconds), 60, "min", "s")
	case minutes < 48*60:
		return two(int(minutes), 60, "h", "min")
	}
	return two(int(hours), 24, "days", "h")
}

// two writes a time of one or two parts; a part of zero is left out.
func two(n, per int, large, small string) string {
	var parts []string
	if n >= per {
		parts = append(parts, fmt.Sprint(n/per, " "+large))
	}
	if n%per > 0 {
		parts = append(parts, fmt.Sprint(n%per, " "+small))
	}
	return strings.Join(parts, " ")
}

// Labour prints a time of work for either system as [System.Time] does, in hours and never
// in days, because a day of work has no fixed length: "60 h".
func (s System) Labour(t Seconds) string {
	if float64(t) < 48*3600 {
		return s.Time(t)
	}
	return Round(t.Minutes()/60, 0) + " h"
}

// Load prints a bath load: dm2/L; US: ft2/US gal.
func (s System) Load(l SquareDMPerLiter) string { return s.climb(float64(l), "dm2/L") }

// Spread prints how far a liquid goes: mL/m2; US: US gal/1000 ft2.
func (s System) Spread(x MillilitersPerSquareM) string { return s.climb(float64(x), "mL/m2") }

func (s System) climb(x float64, unit string) string { return ladders[unit][s].climb(x) }

// climb picks the largest unit of the ladder of which there is at least one once
// rounded, and prints the figure in it.
func (l ladder) climb(x float64) string {
	if x == 0 && l.second < 1 {
		return "0 " + l.steps[1].symbol
	}
	for i, step := range slices.Backward(l.steps) {
		least := 1.0
		if i == 1 {
			least = l.second
		}
		rounded := sensible(x / step.size)
		if i == 0 || math.Abs(x/step.size) >= least || rounded == short(Figures(math.Copysign(least, x), 3)) {
			return rounded + " " + step.symbol
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

// Span is a figure with its range in brackets, a unit that both ends share at its end only.
func Span(from, at, to string) string {
	if from == to {
		return at
	}
	number, unit, _ := strings.Cut(from, " ")
	if _, other, _ := strings.Cut(to, " "); other == unit && !strings.ContainsAny(unit, "0123456789(") {
		from = number
	}
	return at + " (" + from + " to " + to + ")"
}
