package metal

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
)

const (
	mmPerInch    = 25.4       // exact, international yard agreement of 1959
	cm2PerInch2  = 6.4516     // exact
	gramsPerDWT  = 1.55517384 // pennyweight of 24 grains of 64.79891 mg, exact
	gravitiesTxt = `page "Approximate specific gravities of alloys"`
)

func TestGeometryOutside(t *testing.T) {
	file, err := os.Open("testdata/geometry.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 30 {
		t.Fatalf("only %d rows", len(rows))
	}
	for _, r := range rows[1:] {
		alloy := Alloy{Name: "test metal", Density: measure.GramsPerCM3(number(t, r[2]))}
		d := given(t, r[3])
		p, err := New(r[1], alloy, d)
		if err != nil {
			t.Errorf("%s: %v", r[0], err)
			continue
		}
		got := asked(t, p, r[4])
		if r[6] == "in2" {
			got /= cm2PerInch2
		}
		outside.Check(t, r[4]+" of "+r[1]+" "+strings.ReplaceAll(r[3], ";", ", ")+" in "+r[6], r[0], number(t, r[5]), got, number(t, r[7]))
	}
}

// asked picks a figure of the piece. The end faces come off by plane geometry here,
// not by the code under test.
func asked(t *testing.T, p Piece, what string) float64 {
	t.Helper()
	switch what {
	case "area":
		return float64(p.Area)
	case "side":
		d := float64(p.Extent[1]) / 10 // the diameter stands twice in the box, so also in the middle
		return float64(p.Area) - math.Pi*d*d/2
	case "face":
		return float64(p.Area) / 2
	case "mass":
		return float64(p.Mass)
	case "volume":
		return p.Volume.Milliliters()
	case "thickness":
		return float64(p.Thickness)
	case "longest":
		return float64(p.Extent[0])
	}
	t.Fatalf("unknown question %q", what)
	return 0
}

func given(t *testing.T, text string) Dimensions {
	t.Helper()
	var d Dimensions
	for _, one := range strings.Split(text, ";") {
		name, rest, _ := strings.Cut(one, "=")
		value, unit, _ := strings.Cut(rest, " ")
		v := number(t, value)
		if unit == "in" {
			v *= mmPerInch
		}
		switch mm := measure.Millimeters(v); name {
		case "diameter":
			d.Diameter = mm
		case "inside":
			d.Inside = mm
		case "thickness":
			d.Thickness = mm
		case "length":
			d.Length = mm
		case "width":
			d.Width = mm
		case "wire":
			d.Wire = mm
		case "mass":
			d.Mass = measure.Grams(v)
		default:
			t.Fatalf("unknown dimension %q", name)
		}
	}
	return d
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Each check of a table value names where the figure was seen; the silver-copper
// row says from what it is computed.
func TestTableOutside(t *testing.T) {
	for _, c := range []struct {
		name      string
		want, tol float64
		source    string
	}{
		{"fine-999", 10.49, 0, gravitiesTxt},
		{"gold-fine", 19.32, 0, gravitiesTxt},
		{"sterling-925", 10.3, 0.1035, "published tables span 10.2 to 10.4 (trade table 10.40; tables of cast sterling 10.2 to 10.3)"},
		{"silver-835", 10.2, 0.05, "trade table of densities"},
		{"coin-900", 10.31, 0.005, "commonly tabulated (from memory)"},
		{"britannia-958", 10.40, 0.02, "trade tables (from memory)"},
		{"low-tarnish-935", 10.3, 0.05, "suppliers' sheets (from memory)"},
		{"gold-14k-yellow", 13.07, 0, "trade table of gold alloy densities"},
		{"platinum", 21.45, 0, "trade table of densities"},
		{"cupronickel-c706", 0.323 * 27.679905, 0.014, "mill data sheet, 0.323 lb/in3"},
		{"tin-brass-c435", 0.313 * 27.679905, 0.014, "mill data sheet, 0.313 lb/in3"},
		{"brass-c260", 0.308 * 27.679905, 0.014, "industry data sheet, 0.308 lb/in3 (from memory)"},
		{"copper-c110", 0.322 * 27.679905, 0.03, "industry data sheet, 0.321 to 0.323 lb/in3 (from memory)"},
	} {
		a, err := Find(c.name)
		if err != nil {
			t.Fatal(err)
		}
		outside.Check(t, "density of "+c.name+" in g/cm3", c.source, c.want, float64(a.Density), c.tol)
	}
	for _, c := range []struct {
		name   string
		want   float64
		source string
	}{
		{"fine-999", 0.235, "OpenStax University Physics vol. 2, table 1.3"},
		{"copper-c110", 0.385, "OpenStax Chemistry 2e, table 5.1"},
		{"gold-fine", 0.129, "OpenStax Chemistry 2e, table 5.1"},
		{"aluminium", 0.897, "OpenStax Chemistry 2e, table 5.1"},
		{"steel-carbon", 0.452, "OpenStax University Physics vol. 2, table 1.3"},
	} {
		a, err := Find(c.name)
		if err != nil {
			t.Fatal(err)
		}
		outside.Check(t, "specific heat of "+c.name+" in J/(g K)", c.source, c.want, a.SpecificHeat, 0)
	}
}

// A ring of 4 dwt in sterling taken as 10.40, cast again in 14-karat yellow gold of
// 13.07: printed 5.02 dwt from a shortened ratio, exactly 5.027.
func TestRingRecastOutside(t *testing.T) {
	size := Dimensions{Diameter: 21, Width: 6, Mass: 4 * gramsPerDWT}
	silver, err := New("ring", Alloy{Name: "sterling, as the text has it", Density: 10.40}, size)
	if err != nil {
		t.Fatal(err)
	}
	gold, err := Find("gold-14k-yellow")
	if err != nil {
		t.Fatal(err)
	}
	cast, err := New("ring", gold, Dimensions{Diameter: 21, Thickness: silver.Thickness, Width: 6})
	if err != nil {
		t.Fatal(err)
	}
	outside.Check(t, "4 dwt ring of sterling recast in 14-karat yellow gold, in dwt", gravitiesTxt, 5.02, float64(cast.Mass)/gramsPerDWT, 0.01)
}

// The dimensions of the coin come from memory, diameter and mass also from 31 USC
// 5112(e): with the rim taken for the thickness a plain disc is 30 % too heavy.
func TestRaisedRimOutside(t *testing.T) {
	fine, err := Find("fine-999")
	if err != nil {
		t.Fatal(err)
	}
	p, err := New("disc", fine, Dimensions{Diameter: 40.6, Thickness: 2.98, Mass: 31.103})
	if err != nil {
		t.Fatal(err)
	}
	outside.Check(t, "area of a 1 ozt coin of 40.6 mm with a rim of 2.98 mm, in cm2", "computed from diameter and mass of 31 USC 5112(e)", 28.8136, float64(p.Area), 1e-4)
	want := "The mass given, 31.1 g, and the mass of the dimensions, 40.5 g, differ by 30 %; the mass and the diameter were used. A raised rim is the usual reason, and a hole or a hollow the next."
	if len(p.Warnings) != 1 || p.Warnings[0].Text != want {
		t.Errorf("warnings %v", p.Warnings)
	}
	if p.Extent != [3]measure.Millimeters{40.6, 40.6, 2.98} {
		t.Errorf("the rim is not in the outer size: %v", p.Extent)
	}
}
