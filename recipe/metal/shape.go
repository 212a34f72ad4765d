package metal

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Shapes returns the names of the shapes that [New] knows.
func Shapes() (names []string) {
	for _, f := range forms {
		names = append(names, f.name)
	}
	return names
}

// Takes tells whether a flag, such as --diameter, belongs to a shape.
func Takes(shape, flag string) bool {
	return slices.ContainsFunc(forms, func(f form) bool { return f.name == shape && slices.Contains(f.takes, flag) })
}

// New works out one piece of a shape (see [Shapes]) from what is known of it.
//
//   - disc: two of diameter, thickness, mass
//   - bar (and sheet): three of length, width, thickness, mass
//   - ring (a band) and tube: outside diameter, inside diameter and wall (thickness),
//     of which two make the third; width of a ring, length of a tube; mass in place
//     of any one of these
//   - ring of round wire (a jump ring): wire diameter, with inside or outside diameter or mass
//   - wire: two of wire diameter, length, mass; cut ends are counted
//   - chain: wire diameter and mass; or wire and inside diameter for one round link
//   - ball: diameter or mass
//   - custom: area; and where known mass, thickness and the outer sizes
//
// Lengths must lie between 0.001 mm and 10 m, masses between 0.1 mg and 1000 kg,
// relief between 1 and 5. What was given beyond need is compared, see the package
// comment. The area is that of all faces, in cm2, times the relief.
//
// Errors are of kind [fault.Usage] and name the flag. Source of the formulas:
// plane and solid geometry.
func New(shape string, alloy Alloy, d Dimensions) (Piece, error) {
	at := slices.IndexFunc(forms, func(f form) bool { return f.name == shape })
	if at < 0 {
		return Piece{}, unknownShape(shape)
	}
	f := forms[at]
	if shape == "ring" && d.Wire != 0 {
		f = torus
	}
	if rho := float64(alloy.Density); math.IsNaN(rho) || rho < 0.5 || rho > 25 {
		return Piece{}, fault.Usagef("%.60q has no believable density (%v g/cm3)", alloy.Name, rho).
			At("--alloy").Try("choose an alloy of the table, or enter the density of the alloy")
	}
	if err := d.check(f); err != nil {
		return Piece{}, err
	}
	w := newWork(f, alloy, d)
	w.complete()
	return w.finish()
}

type form struct {
	name    string
	noun    string   // as it stands in a sentence
	takes   []string // flags that belong to it
	letters string   // of the flags, in formulas
	need    int      // how many of the flags make a piece; 0 where build says it
	ways    []way    // the first of which all letters are given counts
	build   func(*work)

	// The mass of the dimensions, compared where everything was given; what was used then;
	// and why they may differ.
	mass, used, reason string
}

// way is how the rest of a piece follows from what is given.
type way struct {
	given string   // letters
	steps []string // "name: letter = formula"
}

const (
	massStep = "mass of one piece: m = "
	areaStep = "area of one piece: A = "
	barArea  = areaStep + "2 (L W + W T + T L)"
)

// forms is every shape. With mass and diameter the edge of a disc is 4 m/(rho D), so that no
// thickness needs to be measured; and none is trusted, because callipers read the rim.
// Of a bar the thickness is the worst measured. A hollow bead has the same outside as a
// ball, so that a diameter that was measured stands for the area whatever the balance says.
var forms = []form{
	{name: "disc", noun: "disc", takes: []string{"--diameter", "--thickness", "--mass"}, letters: "D t m", need: 2, build: disc,
		ways: []way{
			{"D m", []string{"mean thickness: t = 4 m/(rho pi D^2)", areaStep + "pi D^2/2 + 4 m/(rho D)"}},
			{"t m", []string{"diameter: D = sqrt(4 m/(rho pi t))", areaStep + "pi D^2/2 + pi D t"}},
			{"D t", []string{areaStep + "pi D^2/2 + pi D t", massStep + "rho pi D^2 t/4"}},
		},
		mass: "rho pi D^2 t/4", used: "the mass and the diameter were used",
		reason: "A raised rim is the usual reason, and a hole or a hollow the next."},
	{name: "bar", noun: "bar", takes: []string{"--length", "--width", "--thickness", "--mass"}, letters: "L W T m", need: 3, build: bar,
		ways: []way{
			{"L W T m", []string{"mean thickness: T = m/(rho L W)", barArea}},
			{"L W m", []string{"thickness: T = m/(rho L W)", barArea}},
			{"W T m", []string{"length: L = m/(rho W T)", barArea}},
			{"T L m", []string{"width: W = m/(rho T L)", barArea}},
			{"L W T", []string{massStep + "rho L W T", barArea}},
		},
		mass: "rho L W T", used: "the mass, the length and the width were used",
		reason: "Holes, rounded corners, a raised border or another alloy are the usual reasons."},
	{name: "ring", noun: "ring", takes: []string{"--diameter", "--inside", "--thickness", "--width", "--mass", "--wire"}, letters: "D d t w m W", build: hollow},
	{name: "wire", noun: "wire", takes: []string{"--wire", "--length", "--mass"}, letters: "d L m", need: 2, build: wire,
		ways: []way{
			{"d m", []string{"length of the wire: L = 4 m/(rho pi d^2)", areaStep + "4 m/(rho d) + pi d^2/2"}},
			{"L m", []string{"wire diameter: d = sqrt(4 m/(rho pi L))", areaStep + "pi d L + pi d^2/2"}},
			{"d L", []string{massStep + "rho pi d^2 L/4", areaStep + "pi d L + pi d^2/2"}},
		},
		mass: "rho pi d^2 L/4", used: "the mass and the wire diameter were used",
		reason: "Another alloy, a profile that is not round, or a wire measured over a burr are the usual reasons."},
	{name: "chain", noun: "chain", takes: []string{"--wire", "--inside", "--length", "--mass"}, letters: "d ID L m", build: chain},
	{name: "ball", noun: "ball", takes: []string{"--diameter", "--mass"}, letters: "D m", need: 1, build: ball,
		ways: []way{
			{"D m", []string{areaStep + "pi D^2"}},
			{"m", []string{"diameter: D = (6 m/(pi rho))^(1/3)", areaStep + "pi D^2"}},
			{"D", []string{massStep + "rho pi D^3/6", areaStep + "pi D^2"}},
		},
		mass: "rho pi D^3/6", used: "the area is that of the diameter and the mass that of the balance",
		reason: "A hollow bead or a drilled hole is the usual reason; an open hollow has an inner face that is not counted."},
	{name: "tube", noun: "tube", takes: []string{"--diameter", "--inside", "--thickness", "--length", "--mass"}, letters: "D d t L m", build: hollow},
	{name: "custom", noun: "custom piece", takes: []string{"--area", "--mass", "--thickness", "--length", "--width", "--height", "--diameter"},
		letters: "A m t L W H D", build: custom},
}

// torus is a ring of round wire: what forms has of a ring where --wire is given.
var torus = form{name: "ring", noun: "ring of round wire", takes: []string{"--wire", "--inside", "--diameter", "--mass"}, letters: "d ID D m", need: 2, build: ofWire,
	ways: []way{
		{"d m", []string{areaStep + "4 m/(rho d)", "inside diameter: ID = 4 m/(rho pi^2 d^2) - d"}},
		{"d ID", []string{massStep + "rho pi^2 d^2 (ID+d)/4", areaStep + "pi^2 d (ID+d)"}},
		{"d D", []string{"inside diameter: ID = D - 2 d", massStep + "rho pi^2 d^2 (ID+d)/4", areaStep + "pi^2 d (ID+d)"}},
	}}

// synonyms are words of the trade for the same bodies, and what to write. They are named,
// not taken: a medal may be a disc or anything else.
var synonyms = []struct{ words, cure string }{
	{"coin medal token round disk blank planchet circle", "write disc for a round flat piece, or custom with --area"},
	{"sheet plate ingot strip rectangle square pendant box cube block", "write bar for a piece with flat rectangular faces, or custom with --area"},
	{"band", "write ring"},
	{"link jump-ring jumpring torus", "write ring, with --wire and --inside"},
	{"necklace bracelet", "write chain"},
	{"sphere bead granule", "write ball"},
	{"pipe cylinder", "write tube for a hollow one, disc or wire for a solid one"},
	{"rod", "write wire"},
}

func unknownShape(shape string) *fault.Error {
	all := strings.Join(Shapes(), ", ")
	word := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(shape)), " ", "-")
	if word == "" {
		return fault.Usagef("--shape is required").At("--shape").Try("write one of %s", all)
	}
	err := fault.Usagef("unknown shape %.40q", shape).At("--shape")
	for _, s := range synonyms {
		if slices.Contains(strings.Fields(s.words), word) {
			return err.Try("%s", s.cure)
		}
	}
	return err.Try("write %s", cmp.Or(fault.Nearest(word, Shapes()), "one of "+all))
}

func orList(words []string) string { return joinList(words, " or ") }

func andList(words []string) string { return joinList(words, " and ") }

func ofList(n int, words []string) string {
	if n == 1 {
		return orList(words)
	}
	return []string{2: "two", 3: "three"}[n] + " of " + andList(words)
}

func joinList(words []string, last string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + last + words[n-1]
	}
	return strings.Join(words, "")
}

// limits are the least and the most that is taken for a piece, by unit: 10 m, 1000 kg, both
// faces of 10 m by 10 m. Chosen: beyond them a wrong unit is far likelier than such a piece.
var limits = map[string][2]float64{"mm": {0.001, 10_000}, "g": {1e-4, 1e6}, "cm2": {1e-4, 2e6}}

const (
	leastRelief = 1 // a texture can only add to a flat face
	mostRelief  = 5 // five times the flat face is beyond any stamp or file
)

type flagged struct {
	flag  string
	value float64
	unit  string
}

func (d Dimensions) flags() []flagged {
	return []flagged{
		{"--diameter", float64(d.Diameter), "mm"},
		{"--thickness", float64(d.Thickness), "mm"},
		{"--length", float64(d.Length), "mm"},
		{"--width", float64(d.Width), "mm"},
		{"--height", float64(d.Height), "mm"},
		{"--inside", float64(d.Inside), "mm"},
		{"--wire", float64(d.Wire), "mm"},
		{"--area", float64(d.Area), "cm2"},
		{"--mass", float64(d.Mass), "g"},
	}
}

func (d Dimensions) given() (list []string) {
	for _, g := range d.flags() {
		if g.value != 0 {
			list = append(list, g.flag)
		}
	}
	return list
}

// check refuses figures that are no sizes and those that do not belong to the shape.
func (d Dimensions) check(f form) error {
	if r := d.Relief; r != 0 && (math.IsNaN(r) || r < leastRelief || r > mostRelief) {
		return fault.Usagef("the relief must be from %[2]d to %[3]d, not %[1]v", r, leastRelief, mostRelief).At("--relief").
			Try("enter the area of the textured face divided by that of a flat one, such as 1.15; leave it out for smooth pieces")
	}
	var foreign []string
	for _, g := range d.flags() {
		if g.value == 0 {
			continue
		}
		switch {
		case math.IsNaN(g.value) || math.IsInf(g.value, 0):
			return fault.Usagef("not a number").At(g.flag).Try("write a size above zero, with its unit")
		case g.value < 0:
			return fault.Usagef("%s %s is below zero", measure.Plain(g.value), g.unit).At(g.flag).Try("write a size above zero, with its unit")
		case g.value < limits[g.unit][0]:
			return fault.Usagef("%s %s is too small for a piece", measure.Plain(g.value), g.unit).At(g.flag).
				Try("check the unit; the least is %s %s", measure.Plain(limits[g.unit][0]), g.unit)
		case g.value > limits[g.unit][1]:
			return fault.Usagef("%s %s is too much for one piece", measure.Plain(g.value), g.unit).At(g.flag).
				Try("check the unit, and enter the size of one piece; the most is %s %s", measure.Plain(limits[g.unit][1]), g.unit)
		}
		if !slices.Contains(f.takes, g.flag) {
			foreign = append(foreign, g.flag)
		}
	}
	if len(foreign) == 0 {
		return nil
	}
	err := fault.Usagef("%s cannot belong to a %s", andList(foreign), f.noun)
	takes := fmt.Sprintf("a %s takes %s", f.noun, andList(f.takes))
	var others []string
	for _, other := range forms {
		if !slices.ContainsFunc(foreign, func(flag string) bool { return !slices.Contains(other.takes, flag) }) {
			others = append(others, other.name)
		}
	}
	if len(others) > 0 {
		return err.Try("leave out what does not belong (%s), or use --shape %s", takes, orList(others))
	}
	return err.Try("leave out what does not belong; %s", takes)
}
