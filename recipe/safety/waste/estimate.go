package waste

import (
	"slices"
	"strings"

	"hepar/recipe/measure"
)

// Figure is the amount of one element in the bath, in mg/L. Both values are finite and not
// negative, and AtMost is never the smaller one.
type Figure struct {
	What             string // "sulfide, counted as sulfur"
	Element          string // "S", "Ag"
	Expected, AtMost float64
	Assumed          bool // rests on an assumption: off by a factor of five either way
	Source           string
}

// Estimate is the outcome.
type Estimate struct {
	BathL    measure.Liters // left in the tank
	Bath     []Figure
	NotKnown []string // what no figure could be given for
}

// Lines puts an estimate into words, each line short enough for a label: the figures of
// the bath, what is not known, and who decides. It never says that anything is low,
// permitted or harmless.
func (e Estimate) Lines() []string {
	var parts, out []string
	for _, f := range e.Bath {
		parts = append(parts, f.String())
	}
	for some := range slices.Chunk(parts, 3) {
		out = append(out, "Estimate, bath: "+strings.Join(some, "; ")+".")
	}
	for _, x := range e.NotKnown {
		out = append(out, "Not known: "+x+".")
	}
	return append(out, "Estimated, not measured; a figure marked assumed may be off five times either way. Analysis and the local authority decide.")
}

// String returns the figure with its unit: "silver 12 to 60 mg/L (assumed)".
func (f Figure) String() string {
	amount := func(x float64) string { return measure.Figures(x, 2) } // more would claim too much
	text := f.What
	if f.Element == "S" {
		text = "sulfide as S"
	}
	text += " " + amount(f.Expected)
	if f.AtMost > f.Expected {
		text += " to " + amount(f.AtMost)
	}
	text += " mg/L"
	if f.Assumed {
		text += " (assumed)"
	}
	return text
}
