package measure

import "testing"

// What people type, and the quantity it is.
func TestParse(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"7.5 g/L", "7.5 g/L"},
		{"7.5g/l", "7.5 g/L"},
		{"  7.5   g / L ", "7.5 g/L"},
		{"7.5 grams per liter", "7.5 g/L"},
		{"7.50 g/L", "7.5 g/L"},
		{".5 g", "0.5 g"},
		{"7,5 g", "7.5 g"},
		{"-7,25 C", "-7.25 C"},
		{"0,500 kg", "0.5 kg"},
		{"1,2345 g", "1.2345 g"},
		{"1 min 30,5 s", "90.5 s"},
		{"0 g", "0 g"},
		{"1 1/4 in", "1.25 in"},
		{"1-1/4 in", "1.25 in"},
		{"1 1/4\"", "1.25 in"},
		{"3/8 inch", "0.375 in"},
		{"½ cup", "0.5 cup"},
		{"1½ in", "1.5 in"},
		{"1 ½ in", "1.5 in"},
		{"1⁄4 in", "0.25 in"},
		{"1/3 oz", "0.3333333333333333 oz"},
		{"75C", "75 C"},
		{"75 °C", "75 C"},
		{"75° C", "75 C"},
		{"75 °c", "75 C"},
		{"75 ℃", "75 C"},
		{"75 degC", "75 C"},
		{"75 deg C", "75 C"},
		{"75 degrees Celsius", "75 C"},
		{"150°F", "150 F"},
		{"150f", "150 F"},
		{"348.15 K", "348.15 K"},
		{"-5 C", "-5 C"},
		{"−5 C", "-5 C"},
		{"-0 C", "0 C"},
		{"27 cm²", "27 cm2"},
		{"27 cm^2", "27 cm2"},
		{"27 cm2", "27 cm2"},
		{"27 sq cm", "27 cm2"},
		{"4 sq. in.", "4 in2"},
		{"4 square inches", "4 in2"},
		{"4 in²", "4 in2"},
		{"100 µL", "100 uL"},
		{"100 μm", "100 um"},
		{"100 microns", "100 um"},
		{"10 s", "10 s"},
		{"90s", "90 s"},
		{"1 min 30 s", "90 s"},
		{"1min30s", "90 s"},
		{"1 h 30 min", "5400 s"},
		{"1 h 1 min 1.5 s", "3661.5 s"},
		{"2 days 3 h", "183600 s"},
		{"4 h", "4 h"},
		{"1 1/2 hours", "1.5 h"},
		{"3 oz/gal", "3 oz/gal"},
		{"3 oz/US gal", "3 oz/US gal"},
		{"3 oz/imp gal", "3 oz/imp gal"},
		{"3 oz / imperial gallon", "3 oz/imp gal"},
		{"3 OZ/GAL", "3 oz/gal"},
		{"3 ozt/gal", "3 ozt/gal"},
		{"3 troy ounces per gallon", "3 ozt/gal"},
		{"10 gr/imp pint", "10 gr/imp pint"},
		{"10 grains/US pint", "10 grain/US pint"},
		{"2 fl. oz.", "2 fl oz"},
		{"2 US fl oz/US gal", "2 US fl oz/US gal"},
		{"1 U.S. gal", "1 US gal"},
		{"1 gal (US)", "1 US gal"},
		{"1 UK gallon", "1 imp gal"},
		{"2 metric tsp", "2 metric tsp"},
		{"2 metric tablespoons", "2 metric tbsp"},
		{"1 % w/v", "1 % w/v"},
		{"1%w/v", "1 % w/v"},
		{"1 % (w/v)", "1 % w/v"},
		{"20 wt%", "20 % w/w"},
		{"2 % v/v", "2 % v/v"},
		{"10 %", "10 %"},
		{"10 per cent", "10 %"},
		{"5 ppm w/w", "5 ppm w/w"},
		{"5 mg/L", "5 mg/L"},
		{"0.1 M", "0.1 mol/L"},
		{"100 mmol/L", "100 mmol/L"},
		{"2 dm²/L", "2 dm2/L"},
		{"0.8 ft2/US gal", "0.8 ft2/US gal"},
		{"80 mL/m2", "80 mL/m2"},
		{"2 US gal/1000ft2", "2 US gal/1000 ft2"},
		{"2 US gal per 1000 sq ft", "2 US gal/1000 ft2"},
		{"5 g/100 mL", "5 g/100 mL"},
		{"250 cc", "250 cm3"},
		{"1 KG", "1 kg"},
	} {
		q, err := Parse(c.text)
		if err != nil {
			t.Errorf("Parse(%q): %v", c.text, err)
			continue
		}
		if q.String() != c.want {
			t.Errorf("Parse(%q) = %s, want %s", c.text, q, c.want)
		}
		again, err := Parse(q.String())
		if err != nil || again != q {
			t.Errorf("Parse(%q) = %v, %v; want what %q gave", q, again, err, c.text)
		}
	}
}

// A name with a namesake carries a note; a full name does not.
func TestNotes(t *testing.T) {
	for _, text := range []string{"1 gal", "1 qt", "1 pint", "1 cup", "1 tbsp", "1 tsp", "1 fl oz", "1 oz", "1 gr", "1 g/gal", "1 oz/L"} {
		if noteOf(text) == "" {
			t.Errorf("%q carries no note", text)
		}
	}
	for _, text := range []string{"1 US gal", "1 imp qt", "1 ozt", "1 oz av", "1 grain", "1 g", "75 C", "no quantity", "5 %"} {
		if note := noteOf(text); note != "" {
			t.Errorf("%q carries the note %q", text, note)
		}
	}
	if note := noteOf("3 oz/gal"); note != noteOunce+"; "+noteGallon {
		t.Errorf("3 oz/gal carries %q", note)
	}
}

func TestTyped(t *testing.T) {
	near := func(what string, got float64, err error, want float64) {
		t.Helper()
		if err != nil || got != want {
			t.Errorf("%s = %v, %v; want %v", what, got, err, want)
		}
	}
	m, err := ParseMass("1 ozt")
	near("1 ozt", float64(m), err, 31.1034768)
	v, err := ParseVolume("850 mL")
	near("850 mL", float64(v), err, 0.85)
	l, err := ParseLength("1 1/4 in")
	near("1 1/4 in", float64(l), err, 31.75)
	a, err := ParseArea("4 in2")
	near("4 in2", float64(a), err, 25.8064)
	c, err := ParseTemperature("212 F")
	near("212 F", float64(c), err, 100)
	s, err := ParseDuration("1 min 30 s")
	near("1 min 30 s", float64(s), err, 90)
	load, err := ParseLoad("200 cm2/L")
	near("200 cm2/L", float64(load), err, 2)
	spread, err := ParseSpread("0.08 L/m2")
	near("0.08 L/m2", float64(spread), err, 80)
	for text, want := range map[string]float64{"0.1": 0.1, "10 %": 0.1, "1:10": 0.1, "1 : 10": 0.1, "1/10": 0.1, "3": 3, "0": 0} {
		r, err := ParseRatio(text)
		near(text, r, err, want)
	}
	n, err := ParseCount(" 200 ", 1, 10000)
	near("200", float64(n), err, 200)
}

// noteOf returns the note that goes with the unit of a text.
func noteOf(text string) string {
	q, err := Parse(text)
	if err != nil {
		return ""
	}
	return q.Note()
}
