package measure

import (
	"math/big"
	"strconv"
	"strings"
	"testing"

	"hepar/recipe/outside"
)

// The factors against the published definitions. An exact definition must be met
// exactly, as a fraction, before it is met as a float64.
func TestUnitsAgainstDefinitions(t *testing.T) {
	for _, row := range records(t, "testdata/units.csv") {
		symbol, in, value, source := row[0], row[1], row[2], row[3]
		want, err := strconv.ParseFloat(value, 64)
		if err != nil {
			t.Fatal(err)
		}
		q, err := Parse("1 " + symbol)
		if err != nil {
			t.Fatal(err)
		}
		got, err := q.In(in)
		if err != nil {
			t.Fatal(err)
		}
		tolerance := 0.0
		if source == "computed from the exact definitions" {
			tolerance = 1e-15 * want
		}
		outside.Check(t, "1 "+symbol+" in "+in, source, want, got.Number, tolerance)
		if tolerance > 0 {
			continue
		}
		exact, _ := new(big.Rat).SetString(value)
		n, d := q.Unit.num, q.Unit.den
		n2, d2 := got.Unit.num, got.Unit.den
		if have := new(big.Rat).Mul(big.NewRat(n, d), big.NewRat(d2, n2)); have.Cmp(exact) != 0 {
			t.Errorf("1 %s is %s %s, not exactly %s", symbol, have, in, value)
		}
	}
}

// Exact relations within a system, by definition.
func TestRelations(t *testing.T) {
	const handbook = "NIST Handbook 44 Appendix C (excerpt)"
	for _, c := range []struct {
		one, in string
		want    float64
		source  string
	}{
		{"1 ozt", "gr", 480, handbook},
		{"1 dwt", "gr", 24, handbook},
		{"1 lb", "gr", 7000, handbook},
		{"1 lb", "oz", 16, handbook},
		{"1 US gal", "in3", 231, handbook},
		{"1 US gal", "US fl oz", 128, handbook},
		{"1 US tbsp", "US tsp", 3, handbook},
		{"1 US fl oz", "US tbsp", 2, handbook},
		{"1 US gal", "US cup", 16, handbook},
		{"1 imp gal", "imp fl oz", 160, "from memory: UK Weights and Measures Act 1985"},
		{"1 imp pint", "imp fl oz", 20, "from memory: UK Weights and Measures Act 1985"},
		{"1 ft2", "in2", 144, "12 in to the foot"},
		{"1 ft3", "in3", 1728, "12 in to the foot"},
		{"1 m2", "dm2", 100, "SI prefixes"},
		{"1 m3", "L", 1000, "SI brochure: 1 L = 1 dm3"},
		{"1 g/mL", "g/L", 1000, "SI prefixes"},
		{"1 % w/v", "g/L", 10, "1 g in 100 mL"},
		{"1 % v/v", "mL/L", 10, "1 mL in 100 mL"},
		{"1 % w/w", "ppm w/w", 10000, "parts per million"},
		{"1 mol/mL", "mmol/L", 1e6, "SI prefixes"},
		{"0.1 M", "mmol/L", 100, "SI prefixes"},
		{"1 g/kg", "% w/w", 0.1, "SI prefixes"},
		{"1 m2/L", "dm2/L", 100, "SI prefixes"},
		{"1 L/m2", "mL/m2", 1000, "SI prefixes"},
		{"212 F", "C", 100, "definition of the scales"},
		{"-40 F", "C", -40, "definition of the scales"},
		{"32 F", "K", 273.15, "definition of the scales"},
		{"98.6 F", "C", 37, "definition of the scales"},
		{"0 K", "F", -459.67, "definition of the scales"},
		{"150 F", "C", 65.0 + 5.0/9.0, "definition of the scales"},
		{"1 week", "h", 168, "definition"},
	} {
		q, err := Parse(c.one)
		if err != nil {
			t.Errorf("%s: %v", c.one, err)
			continue
		}
		got, err := q.In(c.in)
		if err != nil {
			t.Errorf("%s in %s: %v", c.one, c.in, err)
			continue
		}
		outside.Check(t, c.one+" in "+c.in, c.source, c.want, got.Number, 0)
	}
}

// No spelling may stand for two units, or a typed word would depend on the order
// of the table.
func TestSpellingsAreUnique(t *testing.T) {
	owner := map[string]string{}
	for _, e := range table {
		spellings := append([]string{e.unit.Symbol}, e.exact...)
		for _, s := range spellings {
			if was, taken := owner[s]; taken && was != e.unit.Symbol {
				t.Errorf("%q stands for %s and %s", s, was, e.unit.Symbol)
			}
			owner[s] = e.unit.Symbol
		}
	}
	for _, e := range table {
		for _, w := range e.words {
			for s, symbol := range owner {
				if strings.EqualFold(s, w) && symbol != e.unit.Symbol {
					t.Errorf("the word %q of %s also spells %s", w, e.unit.Symbol, symbol)
				}
			}
			if was, taken := owner[w]; taken && was != e.unit.Symbol {
				t.Errorf("%q stands for %s and %s", w, was, e.unit.Symbol)
			}
			owner[w] = e.unit.Symbol
		}
	}
}

// Every spelling is found, every symbol finds itself, and every compound that
// makes sense has a factor that fits, whatever the two units.
func TestFindAll(t *testing.T) {
	compounds := 0
	for _, e := range table {
		for _, s := range append(append([]string{e.unit.Symbol}, e.exact...), e.words...) {
			if u, err := Find(s); err != nil || u != e.unit {
				t.Errorf("Find(%q) = %v, %v", s, u, err)
			}
		}
		for _, w := range e.words {
			if u, err := Find(strings.ToUpper(w)); err != nil || u != e.unit {
				t.Errorf("Find(%q) = %v, %v", strings.ToUpper(w), u, err)
			}
		}
		for _, f := range table {
			d := ratios[[2]Dimension{e.unit.Dimension, f.unit.Dimension}].Dimension
			if d == 0 {
				continue
			}
			for _, times := range []string{"", "10 ", "100 ", "1000 "} {
				symbol := e.unit.Symbol + "/" + times + f.unit.Symbol
				u, err := Find(symbol)
				if err != nil {
					t.Errorf("Find(%q): %v", symbol, err)
					continue
				}
				if u.Symbol != symbol && u.Symbol != "mol/L" && u.Symbol != "mmol/L" || u.Dimension != d || u.num <= 0 || u.den <= 0 {
					t.Errorf("Find(%q) = %+v", symbol, u)
				}
				compounds++
			}
		}
	}
	t.Logf("%d compound units", compounds)
}

// A measure of two sizes is told from one whose namesake is of another kind.
func TestAmbiguous(t *testing.T) {
	for symbol, want := range map[string]bool{
		"gal": true, "qt": true, "pint": true, "cup": true, "fl oz": true, "tbsp": true, "tsp": true,
		"oz/gal": true, "gal/1000 ft2": true, "gr/pint": true, "ozt/gal": true, "fl oz/US gal": true,
		"g": false, "oz": false, "gr": false, "oz/L": false, "g/L": false, "% w/v": false,
		"US gal": false, "imp gal": false, "metric tsp": false, "oz/US gal": false, "US gal/1000 ft2": false,
	} {
		u, err := Find(symbol)
		if err != nil {
			t.Fatal(err)
		}
		if u.Ambiguous() != want {
			t.Errorf("%s: %v", symbol, !want)
		}
	}
	if (Unit{}).Ambiguous() {
		t.Error("no unit is ambiguous")
	}
}
