package measure

import (
	"strings"
	"testing"

	"hepar/recipe/fault"
)

// parsers are the ways in, by the word used in the table below.
func parsers() map[string]func(string) error {
	return map[string]func(string) error{
		"any":         func(s string) error { _, err := Parse(s); return err },
		"mass":        func(s string) error { _, err := ParseMass(s); return err },
		"volume":      func(s string) error { _, err := ParseVolume(s); return err },
		"length":      func(s string) error { _, err := ParseLength(s); return err },
		"temperature": func(s string) error { _, err := ParseTemperature(s); return err },
		"time":        func(s string) error { _, err := ParseDuration(s); return err },
		"ratio":       func(s string) error { _, err := ParseRatio(s); return err },
		"count":       func(s string) error { _, err := ParseCount(s, 1, 10000); return err },
		"find":        func(s string) error { _, err := Find(s); return err },
	}
}

// What is refused, in which words, and with which cure. Both lines must fit a
// terminal of 100 columns behind a short word.
func TestWrong(t *testing.T) {
	ways := parsers()
	for _, c := range []struct{ way, text, what, cure string }{
		{"any", "", "the quantity is empty", "write a number and a unit, such as 7.5 g/L"},
		{"any", "   ", "the quantity is empty", "write a number and a unit, such as 7.5 g/L"},
		{"mass", "12", `"12" has no unit`, "write the unit after the number, such as 14.5 g, 0.5 oz or 1 ozt"},
		{"volume", "12", `"12" has no unit`, "write the unit after the number, such as 850 mL, 1.5 L or 2 US qt"},
		{"time", "90", `"90" has no unit`, "write the unit after the number, such as 10 s, 1 min 30 s or 4 h"},
		{"temperature", "75", `"75" has no unit`, "write the unit after the number, such as 75 C, 167 F or 348 K"},
		{"temperature", "75°", `"75°" has no unit`, "write the unit after the number, such as 75 C, 167 F or 348 K"},
		{"any", "1/2", `"1/2" has no unit`, "write the unit after the number, such as 7.5 g/L"},
		{"any", "7,5,3 g", `"7,5,3 g" has more than one mark in its number`, "write a plain decimal such as 7.5"},
		{"any", "1,500 g", `the comma in "1,500 g" could mark decimals or thousands`, "write 1.500 for decimals or 1500 for thousands"},
		{"any", "1 000 g", `"1 000 g" has a space or mark between the digits of its number`, "write the number without spaces or marks between its digits, such as 1500"},
		{"any", "1'000 g", `"1'000 g" has a space or mark between the digits of its number`, "write the number without spaces or marks between its digits, such as 1500"},
		{"any", "1_000 g", `"1_000 g" has a space or mark between the digits of its number`, "write the number without spaces or marks between its digits, such as 1500"},
		{"any", "1.000.5 g", `"1.000.5 g" has two points in its number`, "write a plain decimal such as 7.5"},
		{"any", "5. g", `"5. g" has a point and no digits after it`, "write the digits after the point, or leave the point out"},
		{"any", "1,234.5 g", `"1,234.5 g" has commas between its thousands`, "leave the commas out, as in 1500"},
		{"any", "nan g", `"nan g" is not a number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "NaN", `"NaN" is not a number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "inf g", `"inf g" is not a number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "-Inf g", `"-Inf g" is not a number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "0x1p4 g", `"0x1p4 g" is not a plain decimal number`, "write one number in plain decimals, such as 7.5"},
		{"any", "infinity g", `"infinity g" is not a number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "-nan C", `"-nan C" is not a number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "1_000 C", `"1_000 C" has a space or mark between the digits of its number`, "write the number without spaces or marks between its digits, such as 1500"},
		{"any", "0x10 g", `"0x10 g" is not a plain decimal number`, "write one number in plain decimals, such as 7.5"},
		{"any", "1e3 g", `"1e3 g" has an exponent`, "write the number out as a plain decimal"},
		{"any", "1e400 g", `"1e400 g" has an exponent`, "write the number out as a plain decimal"},
		{"any", "1E-3 g", `"1E-3 g" has an exponent`, "write the number out as a plain decimal"},
		{"any", "99999999999999999 g", `"99999999999999999 g" is too large`, "check the number and the unit"},
		{"any", "0.0000000000000001 g", `"0.0000000000000001 g" is too small`, "check the number and the unit"},
		{"any", "-5 g", `"-5 g" is negative`, "leave out the minus sign; only a temperature can be below zero"},
		{"any", "-1 min 30 s", `"-1 min 30 s" is negative`, "write a time like 1 min 30 s or 4 h 15 min"},
		{"any", "+5 g", `"+5 g" starts with a plus sign`, "leave the plus sign out"},
		{"any", "~5 g", `"~5 g" is not an exact figure`, "write one figure, such as 7.5 g/L"},
		{"any", "about 5 g", `"about 5 g" is not an exact figure`, "write one figure, such as 7.5 g/L"},
		{"any", "<5 g", `"<5 g" is not an exact figure`, "write one figure, such as 7.5 g/L"},
		{"any", "4-5 g/L", `"4-5 g/L" is a range: one figure is expected`, "write one figure; in a recipe write { at = ..., from = ..., to = ... }"},
		{"any", "4 to 5 g/L", `"4 to 5 g/L" is a range: one figure is expected`, "write one figure; in a recipe write { at = ..., from = ..., to = ... }"},
		{"any", "4–5 g/L", `"4–5 g/L" is a range: one figure is expected`, "write one figure; in a recipe write { at = ..., from = ..., to = ... }"},
		{"any", "10 +/- 1 s", `"10 +/- 1 s" is a range: one figure is expected`, "write one figure; in a recipe write { at = ..., from = ..., to = ... }"},
		{"temperature", "-300 C", `"-300 C" is below absolute zero`, "check the figure and the unit: absolute zero is -273.15 C, -459.67 F or 0 K"},
		{"temperature", "-1 K", `"-1 K" is below absolute zero`, "check the figure and the unit: absolute zero is -273.15 C, -459.67 F or 0 K"},
		{"temperature", "-500 F", `"-500 F" is below absolute zero`, "check the figure and the unit: absolute zero is -273.15 C, -459.67 F or 0 K"},
		{"any", "5 Mm", `the unit "Mm" is not known`, "capitals count here: write mm if that is meant"},
		{"any", "5 ML", `the unit "ML" is not known`, "capitals count here: write mL if that is meant"},
		{"any", "5 G/L", `the unit "G/L" is not known`, "capitals count here: write g/L if that is meant"},
		{"any", "5 MG", `the unit "MG" is not known`, "capitals count here: write mg if that is meant"},
		{"any", "5 foo", `the unit "foo" is not known`, "use g kg oz ozt lb, mL L US gal, mm cm in, cm2 in2, C F, s min h, g/L mL/L oz/gal % w/v"},
		{"any", "5 g/foo", `the unit "g/foo" is not known`, "use g kg oz ozt lb, mL L US gal, mm cm in, cm2 in2, C F, s min h, g/L mL/L oz/gal % w/v"},
		{"any", "5 g/s", `the unit "g/s" has no meaning here: a mass divided by a time`, "write a concentration such as g/L, a load such as dm2/L or a spread such as mL/m2"},
		{"any", "5 g L", `the unit "g L" is not known`, "use g kg oz ozt lb, mL L US gal, mm cm in, cm2 in2, C F, s min h, g/L mL/L oz/gal % w/v"},
		{"volume", "5 oz", `"5 oz" could be a weight or one of two fluid ounces`, "write US fl oz (29.57 mL) or imp fl oz (28.41 mL)"},
		{"any", "5 us oz", `the unit "us oz" could be a weight or a liquid measure`, "write oz (28.35 g), ozt (31.10 g), US fl oz (29.57 mL) or imp fl oz (28.41 mL)"},
		{"any", "5 dram", `the unit "dram" means three things`, "write 3.888 g (apothecary dram), 1.772 g (avoirdupois) or 3.70 mL (US fluid dram)"},
		{"any", "5 drachms/pint", `the unit "drachms" means three things`, "write 3.888 g (apothecary dram), 1.772 g (avoirdupois) or 3.70 mL (US fluid dram)"},
		{"any", "3 mil", `the unit "mil" means three things`, "write thou (0.001 in), mL or mm"},
		{"any", "5 T", `the unit "T" could be a spoon or a tonne`, "write tbsp, tsp or kg"},
		{"any", "75 c", `the unit "c" could be a cup or a temperature`, "write US cup (237 mL), metric cup (250 mL) or C"},
		{"any", "5 ppm", `the unit "ppm" means different things in a bath`, "write mg/L (mass per volume), ppm w/w (by mass) or ppm v/v (by volume)"},
		{"any", "20 drops", `the unit "drops" has no fixed size`, "measure it in mL with a pipette or a syringe"},
		{"any", "2 lumps", `"lumps" is a size in words, not a unit`, "weigh it and write grams, such as 1.2 g"},
		{"any", "1 fluid dram", `the unit "fluid dram" means two things`, "write 3.70 mL (US fluid dram) or 3.55 mL (imperial fluid drachm)"},
		{"any", "1 N", `normality, "N", depends on the reaction`, "write mol/L"},
		{"any", "2 tons", `the unit "tons" is too large for a bath`, "write kg"},
		{"mass", "pea", `"pea" is a size in words, not a measure`, "weigh it and write grams, such as 1.2 g"},
		{"mass", "a pea-sized lump", `"a pea-sized lump" is a size in words, not a measure`, "weigh it and write grams, such as 1.2 g"},
		{"mass", "1 pinch", `"pinch" is a size in words, not a unit`, "weigh it and write grams, such as 1.2 g"},
		{"temperature", "hot tap", `"hot tap" is a temperature in words, not a measure`, "measure it with a thermometer and write degrees, such as 60 C"},
		{"temperature", "steaming", `"steaming" is a temperature in words, not a measure`, "measure it with a thermometer and write degrees, such as 60 C"},
		{"temperature", "just below boiling", `"just below boiling" is a temperature in words, not a measure`, "measure it with a thermometer and write degrees, such as 60 C"},
		{"mass", "a cup", `"a cup" has no number`, "write a number and a unit, such as 14.5 g, 0.5 oz or 1 ozt"},
		{"any", "pea2", `"pea2" is a size in words, not a measure`, "weigh it and write grams, such as 1.2 g"},
		{"mass", "1 tsp", `"1 tsp" is a volume, but a mass is expected`, "weigh it; a spoon or a cup of a solid is no mass unless its bulk density is known"},
		{"mass", "5 mL", `"5 mL" is a volume, but a mass is expected`, "weigh it; a spoon or a cup of a solid is no mass unless its bulk density is known"},
		{"volume", "5 g", `"5 g" is a mass, but a volume is expected`, "write it like 850 mL, 1.5 L or 2 US qt"},
		{"length", "5 M", `"5 M" is a molar concentration, but a length is expected`, "write it like 32 mm, 3.9 cm or 1 1/4 in"},
		{"time", "5 m", `"5 m" is a length, but a time is expected`, "write min for minutes; m is the meter (1 min 30 s)"},
		{"time", "5 m 30 s", `m in "5 m 30 s" is the meter`, "write min for minutes, as in 1 min 30 s"},
		{"time", "1:30", `"1:30" is not one number with a unit`, "write one number with its unit, such as 7.5 g/L or 1 min 30 s"},
		{"time", "1 min 90 s", `"1 min 90 s" has more s than fit in one min`, "write a time like 1 min 30 s or 4 h 15 min"},
		{"time", "1 min 60 s", `"1 min 60 s" has more s than fit in one min`, "write a time like 1 min 30 s or 4 h 15 min"},
		{"time", "5 s 5 s", `"5 s 5 s" does not run from the longer unit to the shorter`, "write a time like 1 min 30 s or 4 h 15 min"},
		{"any", "1 4/4 in", `the fraction in "1 4/4 in" is not less than 1`, "write a mixed number such as 1 1/4, or a decimal"},
		{"time", "30 s 1 min", `"30 s 1 min" does not run from the longer unit to the shorter`, "write a time like 1 min 30 s or 4 h 15 min"},
		{"time", "1.5 min 30 s", `"1.5 min 30 s" has a part of min before a smaller unit`, "write a time like 1 min 30 s or 4 h 15 min"},
		{"time", "1 h 30", `"1 h 30" ends with a number that has no unit`, "write a time like 1 min 30 s or 4 h 15 min"},
		{"time", "1 min 5 g", `"1 min 5 g" has a part that is not a time`, "write a time like 1 min 30 s or 4 h 15 min"},
		{"any", "1 lb 3 oz", `"1 lb 3 oz" contains more than one quantity`, "write one number with one unit; only times are added up, as in 1 min 30 s"},
		{"any", "5 ft 3 in", `"5 ft 3 in" contains more than one quantity`, "write one number with one unit; only times are added up, as in 1 min 30 s"},
		{"temperature", "5 g", `"5 g" is a mass, but a temperature is expected`, "write it like 75 C, 167 F or 348 K"},
		{"ratio", "1:0", `"1:0" is not a ratio of two numbers`, "write it like 1:10"},
		{"ratio", "5 g", `"5 g" is a mass, but a ratio is expected`, "write it like 0.1, 10 % or 1:10"},
		{"ratio", "-0.5", `"-0.5" is negative`, "leave out the minus sign"},
		{"ratio", "one in ten", `"one in ten" has no number`, "write a number and a unit, such as 0.1, 10 % or 1:10"},
		{"ratio", "1:10:5", `"1:10:5" is not a ratio of two numbers`, "write it like 1:10"},
		{"count", "3.5", `"3.5" is not a whole number`, "write a whole number from 1 to 10000 in plain digits"},
		{"count", "-3", `"-3" must be from 1 to 10000`, "write a whole number from 1 to 10000 in plain digits"},
		{"count", "0", `"0" must be from 1 to 10000`, "write a whole number from 1 to 10000 in plain digits"},
		{"count", "10000000000", `"10000000000" must be from 1 to 10000`, "write a whole number from 1 to 10000 in plain digits"},
		{"count", "1e3", `"1e3" is not a whole number`, "write a whole number from 1 to 10000 in plain digits"},
		{"count", "1,000", `"1,000" is not a whole number`, "write a whole number from 1 to 10000 in plain digits"},
		{"count", "", `"" is not a whole number`, "write a whole number from 1 to 10000 in plain digits"},
		{"count", "99999999999999999999999", `"99999999999999999999999" must be from 1 to 10000`, "write a whole number from 1 to 10000 in plain digits"},
		{"any", "5 \x1b[31mg", `"5 g" contains an invisible character`, "type it again with plain letters and digits"},
		{"any", "5\u202eg", `"5g" contains an invisible character`, "type it again with plain letters and digits"},
		{"any", "5 g\n", `"5 g " contains an invisible character`, "type it again with plain letters and digits"},
		{"any", "5 \xff", `"5 �" is not readable text`, "type it again with plain letters and digits"},
		{"any", "½1 in", `"½1 in" has a space or mark between the digits of its number`, "write the number without spaces or marks between its digits, such as 1500"},
		{"any", "1 in.2", `the unit "in.2" is not known`, "use g kg oz ozt lb, mL L US gal, mm cm in, cm2 in2, C F, s min h, g/L mL/L oz/gal % w/v"},
		{"any", "5² g", `the unit "² g" is not known`, "use g kg oz ozt lb, mL L US gal, mm cm in, cm2 in2, C F, s min h, g/L mL/L oz/gal % w/v"},
		{"any", "5/0 in", `"5/0 in" divides by zero`, "write a fraction such as 3/8"},
		{"any", "1 5/4 in", `the fraction in "1 5/4 in" is not less than 1`, "write a mixed number such as 1 1/4, or a decimal"},
		{"any", "1234567/2 in", `the fraction in "1234567/2 in" has too many digits`, "write it as a decimal such as 0.375"},
		{"any", "3/ in", `"3/ in" has no unit before the slash`, "write it like 7.5 g/L"},
		{"any", "/L", `"/L" has no number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "g", `"g" has no number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "5/L", `"5/L" has no unit before the slash`, "write it like 7.5 g/L"},
		{"any", "(5) g", `"(5) g" does not start with a number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "5 g" + strings.Repeat(" ", 70), "a quantity of 73 characters is too long", "write a number and a unit, such as 7.5 g/L"},
		{"any", "５ g", `"５ g" has no number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "5 × 3 g", `"5 × 3 g" contains more than one quantity`, "write one number with one unit; only times are added up, as in 1 min 30 s"},
		{"any", "5*3 g", `"5*3 g" is not one number with a unit`, "write one number with its unit, such as 7.5 g/L or 1 min 30 s"},
		{"any", "5 g 5 g", `"5 g 5 g" contains more than one quantity`, "write one number with one unit; only times are added up, as in 1 min 30 s"},
		{"any", "x g", `"x g" has no number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "$5", `"$5" does not start with a number`, "write a number and a unit, such as 7.5 g/L"},
		{"any", "5 °g", `the unit "°g" is not known`, "use g kg oz ozt lb, mL L US gal, mm cm in, cm2 in2, C F, s min h, g/L mL/L oz/gal % w/v"},
		{"any", "200x140x90mm", `"200x140x90mm" is not a plain decimal number`, "write one number in plain decimals, such as 7.5"},
		{"find", "", "the unit is missing", "write a unit after the number, such as g, mL, mm, C or g/L"},
		{"find", "5", `the unit "5" is not known`, "use g kg oz ozt lb, mL L US gal, mm cm in, cm2 in2, C F, s min h, g/L mL/L oz/gal % w/v"},
		{"find", strings.Repeat("g", 100), "a quantity of 100 characters is too long", "write a number and a unit, such as 7.5 g/L"},
	} {
		err := ways[c.way](c.text)
		if err == nil {
			t.Errorf("%s %q is accepted", c.way, c.text)
			continue
		}
		if err.Error() != c.what || fault.CureOf(err) != c.cure {
			t.Errorf("%s %q:\n got %s\n     %s\nwant %s\n     %s", c.way, c.text, err, fault.CureOf(err), c.what, c.cure)
		}
		if fault.KindOf(err) != fault.Usage {
			t.Errorf("%s %q: the kind is %v, not usage", c.way, c.text, fault.KindOf(err))
		}
		if len(err.Error()) > 92 || len(fault.CureOf(err)) > 92 {
			t.Errorf("%s %q: the message is too wide", c.way, c.text)
		}
	}
}

func TestConvertWrong(t *testing.T) {
	for _, c := range []struct{ text, in, what, cure string }{
		{"3 oz/gal", "mL/L", "oz/gal is a mass per volume and mL/L is a volume per volume", "a density is needed to go from one to the other"},
		{"5 ppm w/w", "mg/L", "ppm w/w is a mass fraction and mg/L is a mass per volume", "a density is needed to go from one to the other"},
		{"0.1 M", "g/L", "mol/L is a molar concentration and g/L is a mass per volume", "the molar mass of the substance is needed to go from one to the other"},
		{"1 US gal", "oz", "US gal is a volume and oz is a mass", "write US fl oz (29.57 mL) or imp fl oz (28.41 mL); oz is a weight"},
		{"1 cup", "g", "cup is a volume and g is a mass", "a density is needed to go from one to the other"},
		{"75 C", "mm", "C is a temperature and mm is a length", "choose a unit of temperature, as in 75 C, 167 F or 348 K"},
		{"1000000000000000 m", "nm", `"1000000000000000 m in nm" is too large`, "check the number and the unit"},
		{"0.000000000000001 nm", "m", `"0.000000000000001 nm in m" is too small`, "check the number and the unit"},
		{"5 g", "stone", `the unit "stone" is not known`, "use g kg oz ozt lb, mL L US gal, mm cm in, cm2 in2, C F, s min h, g/L mL/L oz/gal % w/v"},
	} {
		q, err := Parse(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		got, err := q.In(c.in)
		if err == nil {
			t.Errorf("%s in %s = %s", c.text, c.in, got)
			continue
		}
		if err.Error() != c.what || fault.CureOf(err) != c.cure {
			t.Errorf("%s in %s:\n got %s\n     %s", c.text, c.in, err, fault.CureOf(err))
		}
	}
}
