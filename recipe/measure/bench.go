package measure

import "math"

// What a bench reads off its own tools: a balance and a cylinder are metric in both
// systems, as the trade has them, with the US measure in brackets.

// Scale prints a mass as the balance shows it, to its last place: the mass has been
// rounded to a step of the balance. US adds ounces in brackets.
func (s System) Scale(m Grams) string {
	text := Plain(float64(m)) + " g"
	if len(text) > len("12345.6 g") {
		text = Metric.Mass(m)
	}
	if s == US {
		text += " (" + ounces(m) + ")"
	}
	return text
}

// ounces leaves grains out: beside grams, gr is read as grams.
func ounces(m Grams) string { return climb(float64(m), massUS[1:], 1) }

// Lab prints a volume as a measuring cylinder shows it. US adds US fluid ounces in
// brackets.
func (s System) Lab(v Liters) string {
	if s == US {
		return Metric.Volume(v) + " (" + US.Volume(v) + ")"
	}
	return Metric.Volume(v)
}

// Liquid prints a volume that is poured, as [System.Volume] does; but US below a
// fluid ounce, where there is no household measure left, as [System.Lab].
func (s System) Liquid(v Liters) string {
	if s == US && v > 0 && float64(v) < volumeUS[0].size {
		return s.Lab(v)
	}
	return s.Volume(v)
}

// Degrees prints a difference of temperature to two figures: "1.3 C"; US: "2.3 F".
func (s System) Degrees(d Degrees) string {
	if s == US {
		return Figures(float64(d)*1.8, 2) + " F"
	}
	return Figures(float64(d), 2) + " C"
}

// Both prints a temperature for a thermometer of either scale: "75 C"; US:
// "167 F (75 C)".
func (s System) Both(t Celsius) string {
	if s == US {
		return s.Temperature(t) + " (" + Metric.Temperature(t) + ")"
	}
	return s.Temperature(t)
}

// Ruler prints a length as read off a ruler: "12 mm"; US: sixteenths of an inch,
// "7/16 in", "1 1/4 in", with the length in brackets where it lies between two marks.
func (s System) Ruler(l Millimeters) string {
	if s != US {
		return Plain(float64(l)) + " mm"
	}
	n := math.Round(float64(l) / SixteenthMM)
	if !(n >= 0 && n < 1e6) {
		return s.Length(l)
	}
	whole, part, of := int(n)/16, int(n)%16, 16
	for part > 0 && part%2 == 0 {
		part, of = part/2, of/2
	}
	text := Round(float64(whole), 0)
	if part > 0 {
		text += " " + Round(float64(part), 0) + "/" + Round(float64(of), 0)
		if whole == 0 {
			text = text[2:]
		}
	}
	text += " in"
	if math.Abs(n*SixteenthMM-float64(l)) > 0.05 {
		text += " (" + Plain(float64(l)) + " mm)"
	}
	return text
}

// SixteenthMM is a sixteenth of an inch in mm (exact: 25.4 mm to the inch).
const SixteenthMM = 25.4 / 16
