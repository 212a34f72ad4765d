package metal

import (
	"math"
	"slices"
	"strings"

	"hepar/recipe/fault"
)

// Shapes returns the names of the shapes that [New] knows.
func Shapes() []string {
	return []string{"disc", "bar", "ring", "wire", "chain", "ball", "tube", "custom"}
}

// New works out one piece of a shape (see [Shapes]) from what is known of it.
//
//   - disc: two of diameter, thickness, mass
//   - bar (and sheet): three of length, width, thickness, mass
//   - ring (a band) and tube: outside diameter, inside diameter and wall (thickness),
//     of which two make the third; width of a ring, length of a tube; mass in place
//     of any one of these
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
	f, ok := formOf(shape)
	if !ok {
		return Piece{}, unknownShape(shape)
	}
	if rho := float64(alloy.Density); math.IsNaN(rho) || rho < 0.5 || rho > 25 {
		return Piece{}, fault.Usagef("%.60q has no believable density (%v g/cm3)", alloy.Name, rho).
			At("--alloy").Try("choose an alloy of the table, or enter the density of the alloy")
	}
	if err := d.check(f); err != nil {
		return Piece{}, err
	}
	w := newWork(f, alloy, d)
	f.build(w)
	return w.finish()
}

// form is what is particular to a shape.
type form struct {
	name  string
	noun  string   // as it stands in a sentence
	takes []string // flags that belong to it
	build func(*work)
}

func formOf(shape string) (form, bool) {
	switch shape {
	case "disc":
		return form{shape, "disc", []string{"--diameter", "--thickness", "--mass"}, disc}, true
	case "bar":
		return form{shape, "bar", []string{"--length", "--width", "--thickness", "--mass"}, bar}, true
	case "ring":
		return form{shape, "ring", []string{"--diameter", "--inside", "--thickness", "--width", "--mass"}, hollow}, true
	case "tube":
		return form{shape, "tube", []string{"--diameter", "--inside", "--thickness", "--length", "--mass"}, hollow}, true
	case "wire":
		return form{shape, "wire", []string{"--wire", "--length", "--mass"}, wire}, true
	case "chain":
		return form{shape, "chain", []string{"--wire", "--inside", "--length", "--mass"}, chain}, true
	case "ball":
		return form{shape, "ball", []string{"--diameter", "--mass"}, ball}, true
	case "custom":
		return form{shape, "custom piece", []string{"--area", "--mass", "--thickness",
			"--length", "--width", "--height", "--diameter"}, custom}, true
	}
	return form{}, false
}

func unknownShape(shape string) *fault.Error {
	if strings.TrimSpace(shape) == "" {
		return fault.Usagef("--shape is required").At("--shape").Try("write one of %s", strings.Join(Shapes(), ", "))
	}
	err := fault.Usagef("unknown shape %.40q", shape).At("--shape")
	word := strings.ToLower(strings.TrimSpace(shape))
	// Words of the trade for the same bodies. They are named, not taken: a medal
	// may be a disc or anything else.
	switch word {
	case "coin", "medal", "token", "round", "disk", "blank", "planchet", "circle":
		return err.Try("write disc for a round flat piece, or custom with --area")
	case "sheet", "plate", "ingot", "strip", "rectangle", "square", "pendant", "box", "cube", "block":
		return err.Try("write bar for a piece with flat rectangular faces, or custom with --area")
	case "band":
		return err.Try("write ring")
	case "link", "jump-ring", "jump ring", "jumpring", "torus", "necklace", "bracelet":
		return err.Try("write chain; one round link is --wire with --inside")
	case "sphere", "bead", "granule":
		return err.Try("write ball")
	case "pipe", "cylinder":
		return err.Try("write tube for a hollow one, disc or wire for a solid one")
	case "rod":
		return err.Try("write wire")
	}
	if near := fault.Nearest(word, Shapes()); near != "" {
		return err.Try("write %s", near)
	}
	return err.Try("write one of %s", strings.Join(Shapes(), ", "))
}

// takersOf names the shapes that take all of the flags.
func takersOf(flags []string) []string {
	var names []string
	for _, name := range Shapes() {
		f, _ := formOf(name)
		if !slices.ContainsFunc(flags, func(flag string) bool { return !slices.Contains(f.takes, flag) }) {
			names = append(names, name)
		}
	}
	return names
}

// orList joins with commas and a last "or".
func orList(words []string) string { return joinList(words, " or ") }

// andList joins with commas and a last "and".
func andList(words []string) string { return joinList(words, " and ") }

func joinList(words []string, last string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + last + words[n-1]
	}
	return strings.Join(words, "")
}
