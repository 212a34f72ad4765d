package waste

import (
	"strings"

	"hepar/recipe/measure"
)

// Lines puts an estimate into words, each line short enough for a label: the figures of
// bath and rinses, what is not known, and who decides. It never says that anything is
// low, permitted or harmless.
func (e Estimate) Lines() []string {
	var out []string
	add := func(where string, list []Figure) {
		var parts []string
		for _, f := range list {
			parts = append(parts, f.short())
		}
		for len(parts) > 0 {
			n := min(3, len(parts))
			out = append(out, "Estimate, "+where+": "+strings.Join(parts[:n], "; ")+".")
			parts = parts[n:]
		}
	}
	add("bath", e.Bath)
	add("rinses", e.Rinse)
	for _, x := range e.NotKnown {
		out = append(out, "Not known: "+x+".")
	}
	return append(out, "Estimated, not measured; a figure marked assumed may be off five times either way. Analysis and the local authority decide.")
}

func (f Figure) short() string {
	what := f.What
	if f.Element == "S" {
		what = "sulfide as S"
	}
	text := what + " " + amount(f.Expected)
	if f.AtMost > f.Expected {
		text += " to " + amount(f.AtMost)
	}
	text += " mg/L"
	if f.Assumed {
		text += " (assumed)"
	}
	return text
}

// amount prints mg/L to two figures: more would claim too much.
func amount(x float64) string { return measure.Figures(x, 2) }
