package metal

import (
	"errors"
	"math"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

func sterling(t testing.TB) Alloy {
	t.Helper()
	a, err := Find("sterling-925")
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Every way to get it wrong has one line of what and where, and one of cure.
func TestWrongPieces(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range []struct {
		shape string
		d     Dimensions
		want  string
		cure  string // a part of it
	}{
		{"", Dimensions{}, "--shape: --shape is required", "write one of disc, bar, ring"},
		{"coin", Dimensions{Diameter: 39}, `--shape: unknown shape "coin"`, "write disc"},
		{"sheet", Dimensions{}, `--shape: unknown shape "sheet"`, "write bar"},
		{"jump ring", Dimensions{}, `--shape: unknown shape "jump ring"`, "--wire and --inside"},
		{"bal", Dimensions{}, `--shape: unknown shape "bal"`, "write bar"},
		{"dodecahedron", Dimensions{}, `--shape: unknown shape "dodecahedron"`, "write one of disc"},

		{"disc", Dimensions{}, "--shape disc: a disc needs two of --diameter, --thickness and --mass; nothing was given", "add two of --diameter, --thickness and --mass"},
		{"disc", Dimensions{Diameter: 39}, "--shape disc: a disc needs two of --diameter, --thickness and --mass; given: --diameter", "add --thickness or --mass"},
		{"disc", Dimensions{Mass: 31}, "--shape disc: a disc needs two of --diameter, --thickness and --mass; given: --mass", "add --diameter or --thickness"},
		{"bar", Dimensions{Length: 50}, "--shape bar: a bar needs three of --length, --width, --thickness and --mass; given: --length", "add two of --width, --thickness and --mass"},
		{"bar", Dimensions{Length: 50, Mass: 30}, "--shape bar: a bar needs three of --length, --width, --thickness and --mass; given: --length, --mass", "add --width or --thickness"},
		{"ring", Dimensions{Diameter: 21, Inside: 18}, "--shape ring: a ring needs two of --diameter, --inside and --thickness (the wall) with --width or --mass, or one of them with both; given: --diameter, --inside", "add --width or --mass"},
		{"ring", Dimensions{Diameter: 21, Mass: 5}, "--shape ring: a ring needs two of --diameter, --inside and --thickness (the wall) with --width or --mass, or one of them with both; given: --diameter, --mass", "add --inside, --thickness or --width"},
		{"ring", Dimensions{Width: 6, Mass: 5}, "--shape ring: a ring needs two of --diameter, --inside and --thickness (the wall) with --width or --mass, or one of them with both; given: --width, --mass", "add --diameter, --inside or --thickness"},
		{"ring", Dimensions{Width: 6}, "--shape ring: a ring needs two of --diameter, --inside and --thickness (the wall) with --width or --mass, or one of them with both; given: --width", "two of --diameter, --inside and --thickness, or one of them and --mass"},
		{"ring", Dimensions{Wire: 1}, "--shape ring: a ring of round wire needs two of --wire, --inside, --diameter and --mass; given: --wire", "add --inside, --diameter or --mass"},
		{"ring", Dimensions{Inside: 6}, "--shape ring: a ring needs two of --diameter, --inside and --thickness (the wall) with --width or --mass, or one of them with both; given: --inside", "jump ring: --wire and --inside"},
		{"ring", Dimensions{Wire: 1, Inside: 6, Width: 1}, "--width cannot belong to a ring of round wire", "--wire, --inside, --diameter and --mass"},
		{"ring", Dimensions{Wire: 4, Diameter: 6}, "--shape ring: the inside diameter of the ring of round wire comes out as -2 mm, which is impossible", "check the units"},
		{"ring", Dimensions{Wire: 1, Inside: 6, Diameter: 30}, "--diameter: the outside diameter given, 30 mm, and the outside diameter that the rest makes, 8 mm, differ by a factor of 3.8", "check the units"},
		{"tube", Dimensions{Diameter: 12}, "--shape tube: a tube needs two of --diameter, --inside and --thickness (the wall) with --length or --mass, or one of them with both; given: --diameter", "add --inside or --thickness together with --length or --mass, or both --length and --mass"},
		{"tube", Dimensions{}, "--shape tube: a tube needs two of --diameter, --inside and --thickness (the wall) with --length or --mass, or one of them with both; nothing was given", "and --length or --mass"},
		{"wire", Dimensions{Wire: 1}, "--shape wire: a wire needs two of --wire, --length and --mass; given: --wire", "add --length or --mass"},
		{"wire", Dimensions{Mass: 3}, "--shape wire: a wire needs two of --wire, --length and --mass; given: --mass", "add --wire or --length"},
		{"wire", Dimensions{}, "--shape wire: a wire needs two of --wire, --length and --mass; nothing was given", "add two of --wire, --length and --mass"},
		{"chain", Dimensions{Wire: 1, Length: 450}, "--length: the length of a chain does not say how much wire is in it", "weigh the chain"},
		{"chain", Dimensions{Wire: 1}, "--shape chain: a chain needs --wire, with --mass or for one round link with --inside; given: --wire", "weigh the chain"},
		{"chain", Dimensions{Mass: 10}, "--shape chain: a chain needs --wire, with --mass or for one round link with --inside; given: --mass", "add --wire"},
		{"ball", Dimensions{}, "--shape ball: a ball needs --diameter or --mass; nothing was given", "add --diameter or --mass"},
		{"custom", Dimensions{Mass: 30, Thickness: 2}, "--shape custom: a custom piece needs --area; given: --thickness, --mass", "all faces of one piece"},

		{"disc", Dimensions{Diameter: 39, Mass: 31, Wire: 1}, "--wire cannot belong to a disc", "or use --shape ring, wire or chain"},
		{"disc", Dimensions{Diameter: 39, Mass: 31, Height: 3, Inside: 20}, "--height and --inside cannot belong to a disc", "a disc takes --diameter, --thickness and --mass"},
		{"ball", Dimensions{Diameter: 9, Area: 3}, "--area cannot belong to a ball", "or use --shape custom"},
		{"bar", Dimensions{Length: 50, Width: 20, Height: 3}, "--height cannot belong to a bar", "a bar takes --length, --width, --thickness and --mass"},

		{"disc", Dimensions{Diameter: -39, Mass: 31}, "--diameter: -39 mm is below zero", "above zero"},
		{"disc", Dimensions{Diameter: 39, Mass: -31}, "--mass: -31 g is below zero", "above zero"},
		{"custom", Dimensions{Area: -1}, "--area: -1 cm2 is below zero", "above zero"},
		{"ball", Dimensions{Diameter: 12, Relief: -1}, "--relief: the relief must be from 1 to 5, not -1", "1.15"},
		{"ball", Dimensions{Diameter: 12, Relief: 0.9}, "--relief: the relief must be from 1 to 5, not 0.9", "1.15"},
		{"ball", Dimensions{Diameter: 12, Relief: 115}, "--relief: the relief must be from 1 to 5, not 115", "1.15"},
		{"disc", Dimensions{Diameter: 39, Mass: 31, Relief: nan}, "--relief: the relief must be from 1 to 5, not NaN", "1.15"},
		{"wire", Dimensions{Wire: 1, Length: 10_001}, "--length: 10001 mm is too much for one piece", "10000 mm"},
		{"disc", Dimensions{Diameter: 39, Mass: 1_000_001}, "--mass: 1000001 g is too much for one piece", "1000000 g"},
		{"disc", Dimensions{Diameter: 0.0001, Mass: 1}, "--diameter: 0.0001 mm is too small for a piece", "check the unit"},
		{"custom", Dimensions{Area: 1e9}, "--area: 1000000000 cm2 is too much for one piece", "check the unit"},

		{"ring", Dimensions{Diameter: 18, Inside: 21, Width: 6}, "--inside: the inside diameter, 21 mm, is not smaller than the outside one, 18 mm", "--diameter"},
		{"ring", Dimensions{Diameter: 18, Inside: 18, Width: 6}, "--inside: the inside diameter, 18 mm, is not smaller than the outside one, 18 mm", "--diameter"},
		{"ring", Dimensions{Diameter: 20, Thickness: 10, Width: 6}, "--thickness: a wall of 10 mm does not fit into a diameter of 20 mm", "--width"},
		{"ring", Dimensions{Diameter: 21, Inside: 18, Thickness: 6, Width: 6}, "--thickness: the wall given, 6 mm, and the wall between the diameters, 1.5 mm, differ by a factor of 4", "check the units"},
		{"ring", Dimensions{Diameter: 21, Width: 6, Mass: 500}, "--mass: 500 g is more than a solid ring of these outer sizes would weigh", "check the units"},
		{"tube", Dimensions{Thickness: 5, Length: 100, Mass: 10}, "--mass: 10 g is too little for a tube with a wall of 5 mm", "check the units"},
		{"custom", Dimensions{Area: 10, Diameter: 20, Length: 30, Width: 4}, "--diameter: too many outer sizes", "--diameter and --height"},
		{"custom", Dimensions{Area: 10, Length: 30, Width: 4, Height: 2, Thickness: 3}, "--thickness: a thickness of 3 mm does not fit into a side of 2 mm", "outer sizes"},

		{"disc", Dimensions{Diameter: 39, Thickness: 25, Mass: 31.1}, "--mass: the mass given, 31.1 g, and the mass of the dimensions, 309.31 g, differ by a factor of 9.9", "a wrong one is the usual reason"},
		{"disc", Dimensions{Diameter: 39, Mass: 31_100}, "--mass: 31100 g on a diameter of 39 mm makes a rod 2513.7 mm long, not a disc", "check the units"},
		{"bar", Dimensions{Length: 50, Width: 28, Thickness: 2.1, Mass: 1}, "--mass: the mass given, 1 g, and the mass of the dimensions, 30.45 g, differ by a factor of 30", "leave out"},
		{"ball", Dimensions{Diameter: 12.2, Mass: 1}, "--mass: the mass given, 1 g, and the mass of the dimensions, 9.8472 g, differ by a factor of 9.8", "leave out"},
		{"wire", Dimensions{Wire: 1, Length: 100, Mass: 10}, "--mass: the mass given, 10 g, and the mass of the dimensions, 0.81344 g, differ by a factor of 12", "leave out"},
		{"chain", Dimensions{Wire: 1, Length: 450, Mass: 1}, "--mass: the wire that the mass makes, 122.94 mm, and the least that links of round wire need for this chain, 900 mm, differ by a factor of 7.3", "leave out"},
		{"chain", Dimensions{Wire: 2, Mass: 0.1}, "--mass: 0.1 g is less than the smallest closed link of 2 mm wire weighs, 0.20444 g", "--shape wire"},
		{"custom", Dimensions{Area: 27, Mass: 3110}, "--mass: the mass given, 3110 g, and the most that fits such an area and size, 136.63 g, differ by a factor of 23", "leave out"},
		{"custom", Dimensions{Area: 27, Thickness: 100}, "--thickness: the thickness given, 100 mm, and the thickness of the thickest body of that area, 29.316 mm, differ by a factor of 3.4", "leave out"},
		{"disc", Dimensions{Diameter: 10_000, Thickness: 10_000}, "--shape disc: the area of the disc comes out as 4712400 cm2, which is impossible", "check the units"},
		{"disc", Dimensions{Diameter: 5000, Mass: 0.01}, "--shape disc: the mean thickness of the disc comes out as 0.000000049174 mm, which is impossible", "check the units"},
	} {
		p, err := New(c.shape, sterling(t), c.d)
		if err == nil {
			t.Errorf("%s %+v was taken: %+v", c.shape, c.d, p)
			continue
		}
		var e *fault.Error
		if !errors.As(err, &e) || e.Kind != fault.Usage {
			t.Errorf("%s %+v: %#v", c.shape, c.d, err)
			continue
		}
		if err.Error() != c.want {
			t.Errorf("%s %+v:\n got %s\nwant %s", c.shape, c.d, err, c.want)
		}
		if !strings.Contains(e.Cure, c.cure) || e.Cure == "" {
			t.Errorf("%s %+v: cure %q, want %q in it", c.shape, c.d, e.Cure, c.cure)
		}
		if p.Area != 0 || p.Working != nil {
			t.Errorf("%s: a refused piece came along: %+v", c.shape, p)
		}
	}
	for _, rho := range []float64{0, -1, nan, inf, 0.1, 30} {
		_, err := New("ball", Alloy{Name: "odd", Density: measure.GramsPerCM3(rho)}, Dimensions{Diameter: 10})
		if err == nil || !strings.HasPrefix(err.Error(), `--alloy: "odd" has no believable density`) {
			t.Errorf("density %v: %v", rho, err)
		}
	}
	for _, v := range []float64{nan, inf, -inf} {
		_, err := New("ball", sterling(t), Dimensions{Diameter: measure.Millimeters(v)})
		if err == nil || err.Error() != "--diameter: not a number" {
			t.Errorf("%v: %v", v, err)
		}
	}
}
