package metal

import (
	"math"
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Limits of what is taken for a piece. Chosen: beyond them a wrong unit is far
// likelier than such a piece on a bench.
const (
	leastLengthMM = 0.001  // mm
	mostLengthMM  = 10_000 // mm, 10 m
	leastMassG    = 1e-4   // g
	mostMassG     = 1e6    // g, 1000 kg
	leastAreaCM2  = 1e-4   // cm2
	mostAreaCM2   = 2e6    // cm2, both faces of 10 m by 10 m
	leastRelief   = 1      // a texture can only add to a flat face
	mostRelief    = 5      // five times the flat face is beyond any stamp or file
)

// flagged is one dimension under the name of its flag.
type flagged struct {
	flag        string
	value       float64
	unit        string
	least, most float64
}

// flags lists the dimensions in the order of the command line.
func (d Dimensions) flags() []flagged {
	mm := func(flag string, v float64) flagged {
		return flagged{flag, v, "mm", leastLengthMM, mostLengthMM}
	}
	return []flagged{
		mm("--diameter", float64(d.Diameter)),
		mm("--thickness", float64(d.Thickness)),
		mm("--length", float64(d.Length)),
		mm("--width", float64(d.Width)),
		mm("--height", float64(d.Height)),
		mm("--inside", float64(d.Inside)),
		mm("--wire", float64(d.Wire)),
		{"--area", float64(d.Area), "cm2", leastAreaCM2, mostAreaCM2},
		{"--mass", float64(d.Mass), "g", leastMassG, mostMassG},
	}
}

// check refuses figures that are no sizes and those that do not belong to the shape.
func (d Dimensions) check(f form) error {
	if r := d.Relief; r != 0 && (math.IsNaN(r) || r < leastRelief || r > mostRelief) {
		return fault.Usagef("a relief of %v is not between %d and %d", r, leastRelief, mostRelief).At("--relief").
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
		case g.value < g.least:
			return fault.Usagef("%s %s is too small for a piece", measure.Plain(g.value), g.unit).At(g.flag).
				Try("check the unit; the least is %s %s", measure.Plain(g.least), g.unit)
		case g.value > g.most:
			return fault.Usagef("%s %s is too much for one piece", measure.Plain(g.value), g.unit).At(g.flag).
				Try("check the unit, and enter the size of one piece; the most is %s %s", measure.Plain(g.most), g.unit)
		}
		if !slices.Contains(f.takes, g.flag) {
			foreign = append(foreign, g.flag)
		}
	}
	if len(foreign) == 0 {
		return nil
	}
	does, it := "does not belong", "it"
	if len(foreign) > 1 {
		does, it = "do not belong", "them"
	}
	err := fault.Usagef("%s to a %s", does, f.noun).At(strings.Join(foreign, ", "))
	if others := takersOf(foreign); len(others) > 0 {
		return err.Try("leave %s out (a %s takes %s), or use --shape %s", it, f.noun, andList(f.takes), orList(others))
	}
	return err.Try("leave %s out; a %s takes %s", it, f.noun, andList(f.takes))
}
