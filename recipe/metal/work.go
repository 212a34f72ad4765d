package metal

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// What was given twice is compared. Chosen by this project: callipers, balance and
// the density of an alloy agree within a few percent; 10 % is a rim, a hollow or a
// wrong alloy, and a factor of three is a wrong unit.
const (
	warnDiffer   = 0.10 // larger over smaller, less one
	refuseFactor = 3.0  // larger over smaller
)

// srcGeometry is the source of a formula that needs none but mathematics.
const srcGeometry = "geometry, closed form; lengths in cm"

// work is a piece under way. Lengths are in cm, so that areas come out in cm2 and
// masses in g. The first error stays and the steps after it do nothing of weight.
type work struct {
	form  form
	rho   float64 // g/cm3
	in    Dimensions
	piece Piece
	area  float64 // cm2, without relief
	mass  float64 // g
	thick float64 // cm
	box   []float64
	err   *fault.Error

	diameter, inside, thickness, length, width, height, wire float64 // cm; 0 where not known
}

func newWork(f form, alloy Alloy, d Dimensions) *work {
	w := &work{
		form: f, rho: float64(alloy.Density), in: d, mass: float64(d.Mass),
		diameter: float64(d.Diameter) / 10, inside: float64(d.Inside) / 10, thickness: float64(d.Thickness) / 10,
		length: float64(d.Length) / 10, width: float64(d.Width) / 10, height: float64(d.Height) / 10, wire: float64(d.Wire) / 10,
	}
	w.piece = Piece{Shape: f.name, Alloy: alloy}
	spread := ""
	if alloy.SpreadPercent > 0 {
		spread = put(" +/- %s %%", alloy.SpreadPercent)
	}
	source := cmp.Or(alloy.Source, "as given")
	if alloy.Evidence == opened {
		source = "published: " + source
	}
	w.step("density of "+cmp.Or(alloy.Title, alloy.Name), "rho", fig(w.rho), fig(w.rho)+" g/cm3"+spread, source)
	return w
}

func (w *work) step(name, formula, numbers, result, source string) {
	w.piece.Working = append(w.piece.Working, Step{name, formula, numbers, result, source})
}

func (w *work) warn(parts ...any) {
	w.piece.Warnings = append(w.piece.Warnings, measure.Say(parts...))
}

// fail keeps the first error.
func (w *work) fail(err *fault.Error) {
	if w.err == nil {
		w.err = err
	}
}

// lack refuses for want of dimensions: what the shape needs, and what would do.
func (w *work) lack(needs, cure string) {
	had := "nothing was given"
	if given := w.in.given(); len(given) > 0 {
		had = "given: " + strings.Join(given, ", ")
	}
	w.fail(fault.Usagef("a %s needs %s; %s", w.form.noun, needs, had).At("--shape "+w.form.name).Try("%s", cure))
}

// missing returns the flags that were not given.
func (w *work) missing(flags ...string) []string {
	given := w.in.given()
	return slices.DeleteFunc(flags, func(flag string) bool { return slices.Contains(given, flag) })
}

// setLength takes a length that followed from the others, in cm.
func (w *work) setLength(to *float64, name string, cm float64, formula, numbers string) {
	*to = cm
	w.within(name, cm*10, "mm", leastLengthMM, mostLengthMM)
	w.step(name, formula, numbers, fig(cm*10)+" mm", srcGeometry)
}

// setMass takes the mass that followed from the dimensions, in g.
func (w *work) setMass(grams float64, formula, numbers string) {
	w.mass = grams
	w.within("mass", grams, "g", leastMassG, mostMassG)
	w.step("mass of one piece", formula, numbers, fig(grams)+" g", srcGeometry)
}

// setArea takes the smooth area of all faces, in cm2.
func (w *work) setArea(cm2 float64, formula, numbers string) {
	w.area = cm2
	w.within("area", cm2, "cm2", leastAreaCM2, mostAreaCM2)
	w.step("area of one piece", formula, numbers, fig(cm2)+" cm2", srcGeometry)
}

// within refuses a figure that follows from the others and cannot be.
func (w *work) within(name string, v float64, unit string, least, most float64) {
	if !(v >= least*(1-1e-9) && v <= most*(1+1e-9)) {
		w.fail(fault.Usagef("the %s of the %s comes out as %s %s, which is impossible", name, w.form.noun, fig(v), unit).
			At("--shape " + w.form.name).Try("check the units of what was given; lengths go from 0.001 mm to 10 m, a piece to 1000 kg"))
	}
}

// agree compares the mass on the balance with that of the dimensions.
func (w *work) agree(grams float64, used, reason string) {
	w.compare("--mass", "mass given", w.mass, "mass of the dimensions", grams, "g", used, reason)
}

// compare sets a figure against what follows from the others: silent, warned or refused.
func (w *work) compare(flag, nameA string, a float64, nameB string, b float64, unit, used, reason string) {
	ratio := max(a, b) / min(a, b)
	switch {
	case !(ratio <= refuseFactor): // also where it is not a number
		w.fail(fault.Usagef("the %s, %s %s, and the %s, %s %s, differ by a factor of %s",
			nameA, fig(a), unit, nameB, fig(b), unit, figures(ratio, 2)).At(flag).
			Try("check the units, a wrong one is the usual reason; or leave out the figure you trust least"))
	case ratio-1 > warnDiffer:
		w.warn("The ", nameA, ", ", typed(a, unit), ", and the ", nameB, ", ", typed(b, unit), ", differ by "+figures((ratio-1)*100, 2)+" %; ", used, ". ", reason)
	}
}

// typed returns a figure its unit, g or mm.
func typed(x float64, unit string) any {
	if unit == "g" {
		return measure.Grams(x)
	}
	return measure.Millimeters(x)
}

// finish puts relief on the area and turns cm into the units of [Piece].
func (w *work) finish() (Piece, error) {
	if w.err == nil {
		w.within("area", w.area, "cm2", leastAreaCM2, mostAreaCM2)
	}
	if w.err != nil {
		return Piece{}, w.err
	}
	relief := cmp.Or(w.in.Relief, 1)
	if relief != 1 {
		smooth := w.area
		w.area *= relief
		w.step("area with relief", "A x relief", put("%s x %s", smooth, relief), fig(w.area)+" cm2", "relief as given")
	}
	volume := w.mass / w.rho
	if w.mass > 0 {
		w.step("volume of one piece", "V = m/rho", put("%s/%s", w.mass, w.rho), fig(volume)+" mL", "what density means; V in cm3 = mL")
	}
	p := w.piece
	p.Area, p.Relief, p.Thickness = measure.SquareCM(w.area), relief, w.millimeters(w.thick)
	p.Mass, p.Volume = measure.Grams(w.mass), measure.Liters(volume/1000)
	slices.Sort(w.box)
	slices.Reverse(w.box)
	for i := range min(len(w.box), len(p.Extent)) {
		p.Extent[i] = w.millimeters(w.box[i])
	}
	return p, nil
}

// millimeters turns cm back into mm. What was given comes out as it went in, to
// the last digit: 40.6 mm must still fit where 40.6 mm is free.
func (w *work) millimeters(cm float64) measure.Millimeters {
	for _, g := range w.in.flags() {
		if g.unit == "mm" && g.value/10 == cm {
			return measure.Millimeters(g.value)
		}
	}
	return measure.Millimeters(cm * 10)
}

// fig prints a figure of the working to five digits, without needless zeros.
func fig(v float64) string { return figures(v, 5) }

func figures(v float64, digits int) string {
	text := measure.Figures(v, digits)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// put writes figures into a pattern that has %s for each.
func put(pattern string, values ...float64) string {
	args := make([]any, len(values))
	for i, v := range values {
		args[i] = fig(v)
	}
	return fmt.Sprintf(pattern, args...)
}
