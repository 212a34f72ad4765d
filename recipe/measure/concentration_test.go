package measure

import (
	"math"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/outside"
)

// Labels of bottled reagents: percent by mass and density to mol/L.
func TestLabelToMolarity(t *testing.T) {
	const source = "OpenStax Chemistry 2e, table of concentrated acids and bases in the appendices"
	for _, c := range []struct {
		name    string
		percent string
		density GramsPerCM3
		molar   GramsPerMole // from the standard atomic weights, IUPAC 2021
		want    float64
	}{
		{"acetic acid, glacial", "99.5 % w/w", 1.05, 60.052, 17.4},
		{"ammonia, as NH3", "28 % w/w", 0.90, 17.031, 14.8},
		{"hydrochloric acid", "36 % w/w", 1.18, 36.458, 11.6},
		{"nitric acid", "71 % w/w", 1.42, 63.012, 16.0},
		{"phosphoric acid", "85 % w/w", 1.7, 97.994, 14.7},
		{"sodium hydroxide", "50 % w/w", 1.53, 39.997, 19.1},
		{"sulfuric acid", "96 % w/w", 1.84, 98.072, 18.0},
	} {
		conc, err := ParseConcentration(c.percent)
		if err != nil {
			t.Fatal(err)
		}
		got, err := conc.MolesPerLiter(Of{MolarMass: c.molar, Solution: c.density})
		if err != nil {
			t.Fatal(err)
		}
		outside.Check(t, c.name+" "+c.percent+" in mol/L", source, c.want, got, 0.06)
	}
}

func TestGramsFromWorkedExamples(t *testing.T) {
	percent, err := ParseConcentration("37.2 % w/w")
	if err != nil {
		t.Fatal(err)
	}
	g, err := percent.GramsPerLiter(Of{Solution: 1.19})
	if err != nil {
		t.Fatal(err)
	}
	outside.Check(t, "g of HCl in 0.500 L of 37.2 % w/w at 1.19 g/mL", "OpenStax Chemistry 2e, example 3.23", 221, float64(g)*0.5, 0.5)
	molar, err := ParseConcentration("5.30 M")
	if err != nil {
		t.Fatal(err)
	}
	g, err = molar.GramsPerLiter(Of{MolarMass: 58.44})
	if err != nil {
		t.Fatal(err)
	}
	outside.Check(t, "g of NaCl in 0.250 L of 5.30 M", "OpenStax Chemistry 2e, example 3.17", 77.4, float64(g)*0.25, 0.05)
}

// Each kind keeps its kind, goes where it can, and names what it lacks.
func TestKindsKeptApart(t *testing.T) {
	all := Of{MolarMass: 60, Liquid: 1.05, Solution: 1.01}
	for _, c := range []struct {
		text string
		kind Dimension
		base float64
		lack string // what GramsPerLiter lacks without anything known
	}{
		{"7.5 g/L", MassPerVolume, 7.5, ""},
		{"1 % w/v", MassPerVolume, 10, ""},
		{"20 mL/L", VolumePerVolume, 20, "the density of the liquid"},
		{"2 % v/v", VolumePerVolume, 20, "the density of the liquid"},
		{"1 % w/w", MassFraction, 0.01, "the density of the solution"},
		{"500 ppm w/w", MassFraction, 0.0005, "the density of the solution"},
		{"0.1 mol/L", Molar, 0.1, "the molar mass of the substance"},
	} {
		conc, err := ParseConcentration(c.text)
		if err != nil || conc.Kind != c.kind || math.Abs(conc.Value-c.base) > 1e-15 {
			t.Errorf("%s = %+v, %v", c.text, conc, err)
			continue
		}
		if conc.String() != Figures(mustNumber(t, c.text), 4)+" "+conc.Unit.Symbol {
			t.Errorf("%s prints as %s", c.text, conc)
		}
		g, err := conc.GramsPerLiter(Of{})
		if c.lack == "" {
			if err != nil || float64(g) != c.base {
				t.Errorf("%s = %v g/L, %v", c.text, g, err)
			}
		} else if want := conc.String() + " cannot be converted: " + c.lack + " is not known"; err == nil || err.Error() != want || fault.CureOf(err) == "" {
			t.Errorf("%s: got %v, want %s", c.text, err, want)
		}
		// There and back over the other kinds, with everything known.
		g, err = conc.GramsPerLiter(all)
		if err != nil {
			t.Error(err)
		}
		mol, err := conc.MolesPerLiter(all)
		if err != nil || math.Abs(mol*60-float64(g)) > 1e-12*float64(g) {
			t.Errorf("%s = %v mol/L and %v g/L, %v", c.text, mol, g, err)
		}
		ml, err := conc.MillilitersPerLiter(all)
		if err != nil || math.Abs(float64(ml)*1.05-float64(g)) > 1e-12*float64(g) {
			t.Errorf("%s = %v mL/L and %v g/L, %v", c.text, ml, g, err)
		}
		w, err := conc.Fraction(all)
		if err != nil || math.Abs(w*1010-float64(g)) > 1e-12*float64(g) {
			t.Errorf("%s = %v g/g and %v g/L, %v", c.text, w, g, err)
		}
	}
}

// Amounts that cannot be do not come out, whatever was put in.
func TestImpossibleConcentrations(t *testing.T) {
	of := Of{MolarMass: 60, Liquid: 1, Solution: 1}
	for _, c := range []Concentration{
		{}, {Kind: MassPerVolume, Value: -1}, {Kind: MassPerVolume, Value: math.NaN()}, {Kind: Molar, Value: math.Inf(1)}, {Kind: Mass, Value: 1},
	} {
		g, err := c.GramsPerLiter(of)
		if err == nil {
			t.Errorf("%+v gave %v g/L", c, g)
		}
		if m, err := c.MolesPerLiter(of); err == nil {
			t.Errorf("%+v gave %v mol/L", c, m)
		}
		if m, err := c.MillilitersPerLiter(of); err == nil {
			t.Errorf("%+v gave %v mL/L", c, m)
		}
		if m, err := c.Fraction(of); err == nil {
			t.Errorf("%+v gave %v g/g", c, m)
		}
	}
	c := Concentration{Kind: MassPerVolume, Value: 2000}
	if w, err := c.Fraction(of); err == nil {
		t.Errorf("2000 g/L at 1 g/mL gave a fraction of %v", w)
	}
	for _, bad := range []Of{{MolarMass: -1}, {MolarMass: GramsPerMole(math.NaN())}, {MolarMass: GramsPerMole(math.Inf(1))}} {
		if g, err := (Concentration{Kind: Molar, Value: 1}).GramsPerLiter(bad); err == nil {
			t.Errorf("%+v gave %v g/L", bad, g)
		}
	}
}

func mustNumber(t *testing.T, text string) float64 {
	t.Helper()
	q, err := Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return q.Number
}
