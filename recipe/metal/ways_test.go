package metal

import (
	"math"
	"testing"

	"hepar/recipe/measure"
	"pgregory.net/rapid"
)

// whole draws a believable piece with every dimension of its shape known and in
// agreement. The ranges keep all that follows within the limits.
func whole(t *rapid.T) (string, Alloy, Dimensions) {
	alloy := rapid.SampledFrom(table()).Draw(t, "alloy")
	mm := func(name string, least, most float64) measure.Millimeters {
		return measure.Millimeters(rapid.Float64Range(least, most).Draw(t, name))
	}
	var d Dimensions
	shape := rapid.SampledFrom([]string{"disc", "bar", "ring", "tube", "wire", "ball", "chain"}).Draw(t, "shape")
	switch shape {
	case "disc":
		d.Diameter, d.Thickness = mm("diameter", 5, 200), mm("thickness", 0.1, 5)
	case "bar":
		d.Length, d.Width, d.Thickness = mm("length", 5, 200), mm("width", 5, 200), mm("thickness", 0.1, 5)
	case "ring", "tube":
		d.Inside, d.Thickness = mm("inside", 5, 100), mm("wall", 0.1, 5)
		d.Diameter = d.Inside + 2*d.Thickness
		if axis := mm("axis", 1, 200); shape == "ring" {
			d.Width = axis
		} else {
			d.Length = axis
		}
	case "wire":
		d.Wire, d.Length = mm("wire", 0.1, 4), mm("length", 5, 2000)
	case "ball":
		d.Diameter = mm("diameter", 1, 100)
	case "chain": // one link
		d.Wire, d.Inside = mm("wire", 0.2, 4), mm("inside", 1, 20)
	}
	return shape, alloy, d
}

func must(t *rapid.T, shape string, alloy Alloy, d Dimensions) Piece {
	p, err := New(shape, alloy, d)
	if err != nil {
		t.Fatalf("%s %+v: %v", shape, d, err)
	}
	sound(t, p)
	return p
}

// The order of the fields in which one may be left out once the mass is known.
func holes(shape string) []func(*Dimensions) {
	diameter := func(d *Dimensions) { d.Diameter = 0 }
	thickness := func(d *Dimensions) { d.Thickness = 0 }
	length := func(d *Dimensions) { d.Length = 0 }
	width := func(d *Dimensions) { d.Width = 0 }
	wire := func(d *Dimensions) { d.Wire = 0 }
	inside := func(d *Dimensions) { d.Inside = 0 }
	both := func(a, b func(*Dimensions)) func(*Dimensions) { return func(d *Dimensions) { a(d); b(d) } }
	all := func(*Dimensions) {}
	switch shape {
	case "disc":
		return []func(*Dimensions){all, diameter, thickness}
	case "bar":
		return []func(*Dimensions){all, length, width, thickness}
	case "ring", "tube":
		return []func(*Dimensions){all, diameter, inside, thickness, both(diameter, inside), both(diameter, thickness),
			both(inside, thickness), both(width, length), both(both(width, length), thickness), both(both(width, length), diameter)}
	case "wire":
		return []func(*Dimensions){all, wire, length}
	case "chain":
		return []func(*Dimensions){all, inside}
	default:
		return []func(*Dimensions){all, diameter}
	}
}

// Area and mass agree across the ways of giving a shape: weigh what was measured,
// leave out any dimension that the mass can stand for, and the piece is the same.
func TestWaysOfGivingAPieceAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape, alloy, d := whole(t)
		first := must(t, shape, alloy, d)
		for i, leave := range holes(shape) {
			weighed := d
			weighed.Mass = first.Mass
			leave(&weighed)
			p := must(t, shape, alloy, weighed)
			if !alike(p.Area, first.Area) || !alike(p.Mass, first.Mass) || !alike(p.Volume, first.Volume) || !alike(p.Thickness, first.Thickness) {
				t.Errorf("%s, way %d: %v cm2 %v g %v mm, first %v cm2 %v g %v mm", shape, i, p.Area, p.Mass, p.Thickness, first.Area, first.Mass, first.Thickness)
			}
			if shape == "chain" && weighed.Inside == 0 {
				continue // a link of unknown size
			}
			for j := range p.Extent {
				if !alike(p.Extent[j], first.Extent[j]) {
					t.Errorf("%s, way %d: outer size %v, first %v", shape, i, p.Extent, first.Extent)
				}
			}
		}
	})
}

// alike allows for the digits that a thin wall loses in a square root of squares.
func alike[T ~float64](a, b T) bool { return math.Abs(float64(a-b)) <= 1e-6*math.Abs(float64(b)) }

func scaled(d Dimensions, by float64) Dimensions {
	k := measure.Millimeters(by)
	d.Diameter, d.Inside, d.Thickness, d.Length, d.Width, d.Wire = d.Diameter*k, d.Inside*k, d.Thickness*k, d.Length*k, d.Width*k, d.Wire*k
	d.Mass *= measure.Grams(by * by * by)
	return d
}

// Twice as large in every direction: four times the area, eight times the mass.
func TestScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape, alloy, d := whole(t)
		if rapid.Bool().Draw(t, "weighed") {
			d.Mass = must(t, shape, alloy, d).Mass
			ways := holes(shape)
			ways[rapid.IntRange(0, len(ways)-1).Draw(t, "way")](&d)
		}
		one, two := must(t, shape, alloy, d), must(t, shape, alloy, scaled(d, 2))
		if !alike(two.Area, 4*one.Area) || !alike(two.Mass, 8*one.Mass) || !alike(two.Thickness, 2*one.Thickness) {
			t.Errorf("%s: %v cm2 %v g %v mm became %v cm2 %v g %v mm", shape, one.Area, one.Mass, one.Thickness, two.Area, two.Mass, two.Thickness)
		}
	})
}

// More of any outer dimension is more area and more mass; relief multiplies the
// area and leaves the mass alone.
func TestAreaGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape, alloy, d := whole(t)
		if shape == "ring" || shape == "tube" {
			d.Thickness = 0 // outside and inside, so that a wider outside is a thicker wall
		}
		small := must(t, shape, alloy, d)
		by := measure.Millimeters(rapid.Float64Range(1.01, 2).Draw(t, "by"))
		outer := map[string][]func(*Dimensions){
			"disc":  {func(d *Dimensions) { d.Diameter *= by }, func(d *Dimensions) { d.Thickness *= by }},
			"bar":   {func(d *Dimensions) { d.Length *= by }, func(d *Dimensions) { d.Width *= by }, func(d *Dimensions) { d.Thickness *= by }},
			"ring":  {func(d *Dimensions) { d.Diameter *= by }, func(d *Dimensions) { d.Width *= by }},
			"tube":  {func(d *Dimensions) { d.Diameter *= by }, func(d *Dimensions) { d.Length *= by }},
			"wire":  {func(d *Dimensions) { d.Wire *= by }, func(d *Dimensions) { d.Length *= by }},
			"ball":  {func(d *Dimensions) { d.Diameter *= by }},
			"chain": {func(d *Dimensions) { d.Wire *= by }, func(d *Dimensions) { d.Inside *= by }},
		}[shape]
		for i, grow := range outer {
			large := d
			grow(&large)
			if p := must(t, shape, alloy, large); p.Area <= small.Area || p.Mass <= small.Mass {
				t.Errorf("%s, side %d: %v cm2 %v g grew to %v cm2 %v g", shape, i, small.Area, small.Mass, p.Area, p.Mass)
			}
		}
		d.Relief = rapid.Float64Range(1, 5).Draw(t, "relief")
		if p := must(t, shape, alloy, d); !alike(p.Area, small.Area*measure.SquareCM(d.Relief)) || p.Mass != small.Mass || p.Relief != d.Relief {
			t.Errorf("%s: relief %v made %v cm2 of %v", shape, d.Relief, p.Area, small.Area)
		}
	})
}

// A ring of round wire is a torus, whatever of it is measured, and the same body as one round link.
func TestRingOfRoundWire(t *testing.T) {
	link, err := New("chain", sterling(t), Dimensions{Wire: 1, Inside: 6})
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range []Dimensions{{Wire: 1, Inside: 6}, {Wire: 1, Diameter: 8}, {Wire: 1, Mass: link.Mass}, {Wire: 1, Inside: 6, Diameter: 8, Mass: link.Mass}} {
		p, err := New("ring", sterling(t), d)
		if err != nil || !alike(p.Area, link.Area) || !alike(p.Mass, link.Mass) || !alike(p.Extent[0], 8) || !alike(p.Extent[2], 1) || len(p.Warnings) > 0 {
			t.Errorf("%+v: %v cm2, %v g, %v, %v, %v; one link has %v cm2, %v g", d, p.Area, p.Mass, p.Extent, p.Warnings, err, link.Area, link.Mass)
		}
	}
}

// What multiplies the area as no stamp does is not taken in silence.
func TestHighReliefIsDoubted(t *testing.T) {
	for relief, warnings := range map[float64]int{1.15: 0, 2: 0, 5: 1} {
		if p, err := New("ball", sterling(t), Dimensions{Diameter: 9, Relief: relief}); err != nil || len(p.Warnings) != warnings {
			t.Errorf("relief %v: %v, %v", relief, p.Warnings, err)
		}
	}
}
