package metal

import (
	"math"
	"slices"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"pgregory.net/rapid"
)

// What contradicts itself is still worked out, and said.
func TestWarnings(t *testing.T) {
	for _, c := range []struct {
		name  string
		shape string
		d     Dimensions
		want  []string // the beginning of each warning
	}{
		{"within 10 %", "disc", Dimensions{Diameter: 39, Thickness: 2.5, Mass: 29}, nil},
		{"a little beyond 10 %", "disc", Dimensions{Diameter: 39, Thickness: 2.5, Mass: 28}, []string{"The mass given, 28 g, and the mass of the dimensions, 30.9 g, differ by 10 %; the mass and the diameter were used. A raised rim"}},
		{"heavier than measured", "disc", Dimensions{Diameter: 39, Thickness: 2.5, Mass: 40}, []string{"The mass given, 40 g, and the mass of the dimensions, 30.9 g, differ by 29 %"}},
		{"a rod", "disc", Dimensions{Diameter: 10, Thickness: 12}, []string{"This disc is thicker (12 mm) than it is wide (10 mm)"}},
		{"bar", "bar", Dimensions{Length: 50, Width: 28, Thickness: 2.1, Mass: 20}, []string{"The mass given, 20 g, and the mass of the dimensions, 30.4 g, differ by 52 %; the mass, the length and the width were used."}},
		{"a bar on end", "bar", Dimensions{Length: 5, Width: 5, Thickness: 21}, []string{"This bar is thicker (21 mm)"}},
		{"half-round ring", "ring", Dimensions{Diameter: 21, Inside: 18, Width: 6, Mass: 4.5}, []string{"The mass given, 4.5 g, and the mass of the dimensions, 5.71 g, differ by 27 %; the mass was used, and the wall that it gives. A rounded profile"}},
		{"walls at odds", "tube", Dimensions{Diameter: 12, Inside: 10, Thickness: 1.2, Length: 100}, []string{"The wall given, 1.2 mm, and the wall between the diameters, 1 mm, differ by 20 %; the diameters were used."}},
		{"wire", "wire", Dimensions{Wire: 1, Length: 1000, Mass: 10}, []string{"The mass given, 10 g, and the mass of the dimensions, 8.13 g, differ by 23 %; the mass and the wire diameter were used."}},
		{"a stub", "wire", Dimensions{Wire: 3, Length: 2}, []string{"This wire is thicker (3 mm) than it is long (2 mm)"}},
		{"hollow bead", "ball", Dimensions{Diameter: 10, Mass: 2}, []string{"The mass given, 2 g, and the mass of the dimensions, 5.42 g, differ by 170 %; the area is that of the diameter and the mass that of the balance."}},
		{"cable chain", "chain", Dimensions{Wire: 1, Length: 450, Mass: 10}, nil},
		{"too light a chain", "chain", Dimensions{Wire: 1, Length: 450, Mass: 5}, []string{"The wire that the mass makes, 61.5 cm, and the least that links of round wire need for this chain, 90 cm, differ by 46 %"}},
		{"a rope of chains", "chain", Dimensions{Wire: 1, Length: 100, Mass: 30}, []string{"The wire that the mass makes, 3.69 m, and the most that was expected"}},
		{"less than a link", "chain", Dimensions{Wire: 1, Inside: 4, Mass: 0.1}, []string{"The mass given, 0.1 g, and the mass of one such link, 0.128 g, differ by 28 %"}},
		{"unweighed", "custom", Dimensions{Area: 40}, []string{"The mass of a piece was not given: the heat that a piece absorbs"}},
		{"weighed", "custom", Dimensions{Area: 40, Mass: 30}, nil},
		{"too heavy", "custom", Dimensions{Area: 40, Mass: 300}, []string{"The mass given, 300 g, and the most that fits such an area and size, 246 g"}},
		{"too heavy for a plate", "custom", Dimensions{Area: 40, Thickness: 2, Mass: 60}, []string{"The mass given, 60 g, and the most that fits such an area and size, 41.4 g"}},
		{"too heavy for its box", "custom", Dimensions{Area: 40, Length: 30, Width: 30, Height: 2, Mass: 30}, []string{"The mass given, 30 g, and the most that fits such an area and size, 18.6 g"}},
		{"too thick and unweighed", "custom", Dimensions{Area: 40, Thickness: 50}, []string{"The thickness given, 50 mm, and the thickness of the thickest body of that area, 35.7 mm", "The mass of a piece was not given"}},
	} {
		p, err := New(c.shape, sterling(t), c.d)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if len(p.Warnings) != len(c.want) {
			t.Errorf("%s: warnings %v, want %d", c.name, p.Warnings, len(c.want))
			continue
		}
		for i, want := range c.want {
			if !strings.HasPrefix(p.Warnings[i].Text, want) || !strings.HasSuffix(p.Warnings[i].Text, ".") {
				t.Errorf("%s:\n got %s\nwant %s...", c.name, p.Warnings[i].Text, want)
			}
		}
		sound(t, p)
	}
}

// Thickness and outer size, by which a piece is set into a vessel.
func TestThicknessAndExtent(t *testing.T) {
	type box = [3]measure.Millimeters
	for _, c := range []struct {
		shape string
		d     Dimensions
		thick measure.Millimeters
		box   box
	}{
		{"disc", Dimensions{Diameter: 40.6, Thickness: 2.98}, 2.98, box{40.6, 40.6, 2.98}},
		{"bar", Dimensions{Thickness: 2.1, Length: 28, Width: 50.3}, 2.1, box{50.3, 28, 2.1}},
		{"ring", Dimensions{Inside: 18, Diameter: 21, Width: 6}, 1.5, box{21, 21, 6}},
		{"tube", Dimensions{Inside: 10, Diameter: 12, Length: 100.1}, 1, box{100.1, 12, 12}},
		{"wire", Dimensions{Wire: 1.1, Length: 100}, 1.1, box{100, 1.1, 1.1}},
		{"chain", Dimensions{Wire: 1, Inside: 4}, 1, box{6, 6, 1}},
		{"chain", Dimensions{Wire: 1, Length: 450, Mass: 10}, 1, box{}}, // it folds
		{"ball", Dimensions{Diameter: 12.2}, 0, box{12.2, 12.2, 12.2}},
		{"custom", Dimensions{Area: 40, Mass: 45}, 0, box{}},
		{"custom", Dimensions{Area: 300, Diameter: 80, Height: 90, Thickness: 1}, 1, box{90, 80, 80}},
		{"custom", Dimensions{Area: 90, Width: 25, Length: 180, Thickness: 2.5}, 2.5, box{180, 25, 2.5}},
	} {
		p, err := New(c.shape, sterling(t), c.d)
		if err != nil {
			t.Errorf("%s: %v", c.shape, err)
			continue
		}
		for i := range c.box {
			if math.Abs(float64(p.Extent[i]-c.box[i])) > 1e-9 {
				t.Errorf("%s %+v: outer size %v, want %v", c.shape, c.d, p.Extent, c.box)
			}
		}
		if math.Abs(float64(p.Thickness-c.thick)) > 1e-9 {
			t.Errorf("%s %+v: thickness %v, want %v", c.shape, c.d, p.Thickness, c.thick)
		}
	}
}

func TestWorkingShowsNumbersAndSource(t *testing.T) {
	p, err := New("disc", sterling(t), Dimensions{Diameter: 39, Mass: 31.1, Relief: 1.15})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range p.Working {
		got = append(got, s.Name+": "+s.Formula+" = "+s.Numbers+" = "+s.Result)
		if s.Source == "" {
			t.Errorf("%s has no source", s.Name)
		}
	}
	want := []string{
		"density of sterling silver 925: rho = 10.357 = 10.357 g/cm3 +/- 1 %",
		"mean thickness: t = 4 m/(rho pi D^2) = 4 x 31.1/(10.357 x pi x 3.9^2) = 2.5137 mm",
		"area of one piece: A = pi D^2/2 + 4 m/(rho D) = pi x 3.9^2/2 + 4 x 31.1/(10.357 x 3.9) = 26.972 cm2",
		"area with relief: A x relief = 26.972 x 1.15 = 31.017 cm2",
		"volume of one piece: V = m/rho = 31.1/10.357 = 3.0028 mL",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if !strings.Contains(p.Working[0].Source, "published tables span 10.2 to 10.4") {
		t.Errorf("the density does not say how well it is known: %q", p.Working[0].Source)
	}
}

// sound is what holds for every piece there is.
func sound(t interface{ Errorf(string, ...any) }, p Piece) {
	figures := []float64{float64(p.Area), float64(p.Mass), float64(p.Volume), float64(p.Thickness), p.Relief}
	for _, side := range p.Extent {
		figures = append(figures, float64(side))
	}
	for _, v := range figures {
		if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
			t.Errorf("%s: a figure is %v: %+v", p.Shape, v, p)
		}
	}
	if p.Area <= 0 || p.Relief < 1 || len(p.Working) < 2 {
		t.Errorf("%s: %+v", p.Shape, p)
	}
	if m := p.Volume.Milliliters() * float64(p.Alloy.Density); !near(m, float64(p.Mass)) {
		t.Errorf("%s: volume and mass part: %v g, %v g", p.Shape, m, p.Mass)
	}
	if p.Extent[0] < p.Extent[1] || p.Extent[1] < p.Extent[2] {
		t.Errorf("%s: the outer size is out of order: %v", p.Shape, p.Extent)
	}
	// No body has less skin than a ball of its volume (the isoperimetric inequality);
	// the shapes that are worked out must keep to that, custom takes what it is given.
	if least := math.Cbrt(36 * math.Pi * math.Pow(p.Volume.Milliliters(), 2)); p.Shape != "custom" && p.Shape != "ball" && float64(p.Area) < least*(1-1e-9) {
		t.Errorf("%s: %v cm2 cannot hold %v mL", p.Shape, p.Area, p.Volume.Milliliters())
	}
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(math.Abs(a), math.Abs(b)) }

// Whatever comes in: a sound piece, or an error with a place and a cure.
func TestAnythingGoesInNothingBreaks(t *testing.T) {
	alloy := sterling(t)
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.OneOf(
			rapid.Just(0.0), rapid.Just(0.0), rapid.Float64Range(0.01, 200), rapid.Float64Range(0.0005, 20_000),
			rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), -1, 1e-320, 1e300, 10_000, 0.001}))
		mm := func(name string) measure.Millimeters { return measure.Millimeters(size.Draw(t, name)) }
		d := Dimensions{
			Diameter: mm("diameter"), Inside: mm("inside"), Thickness: mm("thickness"), Length: mm("length"),
			Width: mm("width"), Height: mm("height"), Wire: mm("wire"),
			Area: measure.SquareCM(size.Draw(t, "area")), Mass: measure.Grams(size.Draw(t, "mass")),
			Relief: rapid.SampledFrom([]float64{0, 1, 1.15, 5, 0.5, math.NaN()}).Draw(t, "relief"),
		}
		shape := rapid.SampledFrom(append(Shapes(), "blob")).Draw(t, "shape")
		if at := slices.IndexFunc(forms, func(f form) bool { return f.name == shape }); at >= 0 && rapid.IntRange(0, 9).Draw(t, "foreign") > 0 {
			d = only(d, forms[at].takes) // else next to nothing would get past the first check
		}
		p, err := New(shape, alloy, d)
		if err != nil {
			if fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" || !strings.HasPrefix(err.Error(), "--") {
				t.Errorf("%s: %v, cure %q", shape, err, fault.CureOf(err))
			}
			if strings.Contains(err.Error(), "?") {
				t.Errorf("%s: no number in %v", shape, err)
			}
			return
		}
		sound(t, p)
		for _, s := range p.Working {
			if strings.ContainsAny(s.Numbers+s.Result, "?") || strings.Contains(s.Numbers+s.Result, "NaN") || strings.Contains(s.Numbers+s.Result, "Inf") {
				t.Errorf("%s: %+v", shape, s)
			}
		}
	})
}

// only keeps the dimensions that belong to a shape.
func only(d Dimensions, takes []string) Dimensions {
	for flag, field := range map[string]*measure.Millimeters{
		"--diameter": &d.Diameter, "--inside": &d.Inside, "--thickness": &d.Thickness, "--length": &d.Length,
		"--width": &d.Width, "--height": &d.Height, "--wire": &d.Wire,
	} {
		if !slices.Contains(takes, flag) {
			*field = 0
		}
	}
	if !slices.Contains(takes, "--area") {
		d.Area = 0
	}
	return d
}

func BenchmarkNew(b *testing.B) {
	alloy := sterling(b)
	for b.Loop() {
		if _, err := New("disc", alloy, Dimensions{Diameter: 39, Mass: 31.1}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFind(b *testing.B) {
	for b.Loop() {
		if _, err := Find("steel-316"); err != nil {
			b.Fatal(err)
		}
	}
}
