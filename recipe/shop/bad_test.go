package shop

import (
	"strings"
	"testing"
)

// bad is one change to the good file that makes it bad. The mark « stands where the
// finding has to be; what and cure are parts of what it has to say.
type bad struct{ old, new, what, cure string }

func badLines() []bad {
	long := strings.Repeat("x", 81)
	return []bad{
		// keys
		{"name   = \"Fernholm", "«Name   = \"Fernholm", "unknown key Name in the shop file", "write name: keys are in small letters"},
		{"[balance]", "«colour = 1\n[balance]", "unknown key colour in the shop file", "the keys here are"},
		{"[drain]", "«[drian]", "unknown key drian in the shop file", "did you mean drain?"},
		{"readability =", "«readabilty =", "unknown key readabilty in [balance]", "did you mean readability?"},
		{"cold =", "«tap_hardness =", "unknown key tap_hardness in [water]", ""},
		{"air_changes =", "«air-changes =", "unknown key air-changes in [room]", "did you mean air_changes?"},
		{"heater   =", "«watts   =", "unknown key watts in [[vessel]] 1", ""},
		{"relief_by_hand    =", "«relief    =", "unknown key relief in [minutes]", "relief_by_hand"},
		{"labour =", "«labor =", "unknown key labor in [rates]", "did you mean labour?"},
		{"no_smell =", "«nosmell =", "unknown key nosmell in [[worker]] 1", "did you mean no_smell?"},
		{"reason =", "«because =", "unknown key because in [[limit]] 1", ""},
		{"\nlimit =", "\n«limits =", "unknown key limits in [match]", "did you mean limit?"},
		// names and words
		{"\"Fernholm Medals\"", "«7", "name must be text in quotes, not a whole number", ""},
		{"\"Fernholm Medals\"", "«\"" + long + "\"", "name is longer than 80 characters", "shorten"},
		{"\"Fernholm Medals\"", "«\"\"", "name is empty", ""},
		{"\"Fernholm Medals\"", "«\"a\\u001b[31mred\"", "control or invisible character", ""},
		{"\"Fernholm Medals\"", "«\"FILL IN\"", "is not filled in", ""},
		{"\"metric\"", "«\"imperial\"", "units: imperial is unknown", "write one of: metric, us"},
		{"\"metric\"", "«\"Metric\"", "units: Metric is unknown", "did you mean metric?"},
		{"\"glass\"", "«\"brass\"", "material: brass is unknown", "write one of: borosilicate, enamel, glass"},
		// people
		{"person = \"Ilse Tamm\"", "person = «\"Ilse Tam\"", "Ilse Tam is not one of the people", "did you mean Ilse Tamm?"},
		{"\"Runa Fern\"]", "«\"ilse tamm\"]", "ilse tamm is listed twice", "once"},
		{"\"Runa Fern\"]", "«5]", "entry 3 of people must be text in quotes, not a whole number", ""},
		{"people = [", "people = «\"Ilse Tamm\"\nx=[", "people must be a list of texts, not text", ""},
		{"name  = \"Runa Fern\"", "name  = «\"Rune Fern\"", "Rune Fern is not one of the people", "did you mean Runa Fern?"},
		{"name  = \"Runa Fern\"", "name  = \"marek oja\"", "there are two [[worker]] marek oja", "keep one"},
		{"[[worker]]\nname  = \"Runa Fern\"\n", "«[[worker]]\npregnant = \"no\"\n", "[[worker]] 2 has no name", ""},
		{"alone = true", "alone = «\"yes\"", "alone must be true or false, not text", "alone = true"},
		{"person = \"Ilse Tamm\"\n", "«[[person]]\nname = \"x\"\n", "person must be text in quotes, not a list", ""},
		// balance, water, room
		{"\"0.01 g\"", "«0.01", "readability must be text with a unit, in quotes, not a bare number", "0.1 g"},
		{"\"0.01 g\"", "«\"0.01\"", "readability: \"0.01\" has no unit", ""},
		{"\"0.01 g\"", "«\"1,500 g\"", "could mark decimals or thousands", "1500"},
		{"\"0.01 g\"", "«\"0 g\"", "must be more than 0 and at most ", ""},
		{"\"0.01 g\"", "«\"1 kg\"", "must be more than 0 and at most 100 g", "check the unit"},
		{"\"0.01 g\"", "«\"1 mL\"", "a volume, but a mass is expected", ""},
		{"\"2 mL\"", "«\"1 tsp\"", "may be of two sizes", "mL"},
		{"\"2 mL\"", "«\"2 L\"", "must be more than 0 and at most 1000 mL", ""},
		{"\"92 C\"", "«\"101 C\"", "hot: must be from 0 to 100 C", ""},
		{"\"92 C\"", "«\"hot tap\"", "temperature in words", "thermometer"},
		{"\"92 C\"", "«\"12 C\"", "hot is not warmer than cold", "swapped"},
		{"\"19 C\"", "«\"66 C\"", "temperature: must be from -20 to 50 C", ""},
		{"\"55 %\"", "«\"0.55\"", "0.55 has no percent sign", ""},
		{"\"55 %\"", "«\"101 %\"", "humidity: must be from 0 to 100 %", ""},
		{"\"55 %\"", "«55", "humidity must be text with a unit, in quotes, not a whole number", "50 %"},
		{"\"55 %\"", "«\"5 % w/v\"", "a mass per volume, but a ratio is expected", ""},
		{"\"32 m3\"", "«\"0 m3\"", "must be from 2 to 100000 m3", "check the unit"},
		{"\"32 m3\"", "«\"32 L\"", "must be from 2 to 100000 m3", "check the unit"},
		{"\"32 m3\"", "«\"32 m2\"", "an area, but a volume is expected", ""},
		{"air_changes = 2.5", "air_changes = «0", "air_changes must be more than 0 and at most 200", "plain number"},
		{"air_changes = 2.5", "air_changes = «nan", "air_changes is not a plain decimal number", ""},
		{"air_changes = 2.5", "air_changes = «\"2 per h\"", "air_changes must be a plain number, not text", ""},
		{"hood        = true", "hood        = «1", "hood must be true or false, not a whole number", ""},
		// vessels
		{"\"150x180mm\"", "«\"150x180\"", "has no unit", "200x140x90mm"},
		{"\"150x180mm\"", "«\"150mm\"", "cannot read the vessel", ""},
		{"\"150x180mm\"", "«\"1x180mm\"", "has a side of 1 mm", ""},
		{"\"150x180mm\"", "«\"150x180m\"", "has a side of", ""},
		{"\"pot\"", "\"tub\"", "there are two [[vessel]] tub", ""},
		{"\"pot\"", "«\"10x10x10cm\"", "reads like a size", "in words"},
		{"inside = \"150x180mm\"", "", "[[vessel]] 2 has no inside", ""},
		{"[[vessel]]\nname   = \"pot\"\n", "«[[vessel]]\n", "[[vessel]] 2 has no name", "write name"},
		{"\"0.3 kW\"", "«\"300\"", "heater: \"300\" has no unit", ""},
		{"\"0.3 kW\"", "«\"300 kW\"", "heater: must be more than 0 and at most 10000 W", ""},
		{"\"0.3 kW\"", "«\"300 mL\"", "a volume, but a power is expected", ""},
		{"lid      = true", "lid      = «\"loose\"", "lid must be true or false, not text", ""},
		// hands, drain, minutes
		{"seconds_per_piece = 3", "seconds_per_piece = «\"3 s\"", "seconds_per_piece must be a plain number, not text", "without quotes"},
		{"seconds_per_piece = 3", "seconds_per_piece = «61", "seconds_per_piece must be more than 0 and at most 60", ""},
		{"\"plate:500W\"", "«\"oven\"", "is not a way to heat", "kettle"},
		{"air_speed = 0.4", "air_speed = «6", "air_speed must be from 0 to 5", ""},
		{"\"token-24\"", "«\"token 24\"", "holds a space", "token-24"},
		{"vessel   = \"tub\"", "«vesel   = \"tub\"", "vesel", "vessel"},
		{"= 24", "= «0", "rack must be from 1 to 10000", ""},
		{"= 24", "= «\"yes\"", "rack must be a whole number, not text", "rack = "},
		{"\"very poor\"", "«\"porr\"", "no drain habit is called \"porr\"", "very-poor"},
		{"\"very poor\"", "«\"80 mL\"", "a volume, but a volume per area is expected", ""},
		{"\"very poor\"", "«\"0 mL/m2\"", "must be more than 0 and at most ", ""},
		{"\"90 s\"", "«\"25 h\"", "cleaning: must be from 0 to 1440 min", "check the unit"},
		{"\"90 s\"", "«\"1.5\"", "cleaning: \"1.5\" has no unit", ""},
		{"\"90 s\"", "«\"3 m\"", "is a length, but a time is expected", "min for minutes"},
		{"\"20 min\"", "«20", "setup must be text with a unit", ""},
		// rates
		{"\"38 EUR per h\"", "«38", "labour must be text with a unit", "38 EUR per h"},
		{"\"38 EUR per h\"", "«\"38 EUR\"", "is not a price per h", "38 EUR per h"},
		{"\"38 EUR per h\"", "«\"38 EUR per day\"", "is not a price per h", "38 EUR per h"},
		{"\"38 EUR per h\"", "«\"EUR 38 per h\"", "is not a price per h", "38 EUR per h"},
		{"\"38 EUR per h\"", "«\"-38 EUR per h\"", "is not a price per h", "38 EUR per h"},
		{"\"38 EUR per h\"", "«\"38,50 EUR per h\"", "is not a price per h", "38 EUR per h"},
		{"\"38 EUR per h\"", "«\"3.8.0 EUR per h\"", "is not a price per h", "38 EUR per h"},
		{"\"38 EUR per h\"", "«\"38 EUR net per h\"", "is not a price per h", "38 EUR per h"},
		{"\"38 EUR per h\"", "«\"38000000 EUR per h\"", "is not a price per h", "38 EUR per h"},
		{"\"9 EUR per kg\"", "«\"9 USD per kg\"", "in USD, but 38 EUR per h is in EUR", "one currency"},
		{"\"9 EUR per kg\"", "«\"9 per kg\"", "in no currency, but 38 EUR per h is in EUR", ""},
		{"\"9 EUR per kg\"", "«\"9 EUR per L\"", "is not a price per kg", ""},
		{"liver-of-sulfur =", "«livr-of-sulfur =", "unknown substance \"livr-of-sulfur\"", "liver-of-sulfur"},
		{"labour = \"38 EUR per h\"\n\n[rates.reagent]\nliver-of-sulfur = \"60.5 EUR/kg\"\nammonia         = \"9 EUR per kg\"", "reagent = «3", "reagent must be a table, not a whole number", "[rates.reagent]"},
		// match
		{"\"12 %\"", "«\"0 %\"", "limit: must be more than 0 and at most 99 %", ""},
		{"\"12 %\"", "«\"120 %\"", "limit: must be more than 0 and at most 99 %", ""},
		// limits
		{"gas    = \"hydrogen sulfide\"\n", "", "[[limit]] 1 has no gas", "hydrogen sulfide"},
		{"reason = \"asked for in the contract\"\n", "", "[[limit]] 1 has no reason", ""},
		{"ppm    = 1\n", "", "[[limit]] 1 has no ppm", "ppm = 1"},
		{"list   = \"insurer\"\n", "", "[[limit]] 1 has no list", ""},
		{"ppm    = 1\n", "ppm = «0\n", "ppm must be more than 0 and at most 10000", ""},
		{"ppm    = 1\n", "ppm = «\"1 ppm\"\n", "ppm must be a plain number, not text", ""},
		{"\"2025-03-01\"", "«\"2025-02-30\"", "date: 2025-02-30 is not a day", "year, month, day"},
		{"\"2025-03-01\"", "«2025-03-01", "date must be text in quotes, not a date or time", "write date = "},
		{"[[limit]]\n", "[[limit]]\ngas = \"hydrogen sulfide\"\nlist = \"insurer\"\nppm = 2\nreason = \"x\"\n[[limit]]\n", "there are two [[limit]] hydrogen sulfide, insurer", ""},
		// tables that are none
		{"[[vessel]]\nname   = \"pot\"", "[«vessel]\nname   = \"pot\"", "not valid TOML", ""},
		{"habit = \"very poor\"", "habit.poor = «true", "habit must be text in quotes, not a table", "write habit = "},
	}
}

func TestBadLines(t *testing.T) {
	n := 0
	for _, c := range badLines() {
		n++
		t.Run(c.what, func(t *testing.T) {
			var text string
			var line, column int
			if strings.Contains(c.new, "«") {
				text, line, column = change(t, c.old, c.new)
			} else {
				if strings.Count(good, c.old) != 1 {
					t.Fatalf("%q does not stand once in the good file", c.old)
				}
				text = strings.Replace(good, c.old, c.new, 1)
			}
			s, findings := decode("x.toml", []byte(text))
			if len(findings) == 0 || s.Name != "" || s.settings != nil {
				t.Fatal("passed")
			}
			for _, f := range findings {
				if !strings.Contains(f.What, c.what) {
					continue
				}
				if line > 0 && (f.Line != line || f.Column != column) {
					t.Errorf("found at %d:%d, wanted %d:%d", f.Line, f.Column, line, column)
				}
				if f.Line == 0 || f.Cure == "" || !strings.Contains(f.Cure, c.cure) {
					t.Errorf("cure %q, wanted %q; line %d", f.Cure, c.cure, f.Line)
				}
				return
			}
			for _, f := range findings {
				t.Errorf("%s", strings.Join(f.Lines(), "\n"))
			}
			t.Errorf("none says %q", c.what)
		})
	}
	if n < 90 {
		t.Errorf("%d bad lines", n)
	}
}
