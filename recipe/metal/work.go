package metal

import (
	"cmp"
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
	in    Dimensions
	known map[string]float64 // by the letters of the form, with rho in g/cm3 and A without relief
	piece Piece
	thick float64 // cm
	box   []float64
	err   *fault.Error
}

func newWork(f form, alloy Alloy, d Dimensions) *work {
	w := &work{form: f, in: d, known: map[string]float64{"rho": float64(alloy.Density)}}
	letters := strings.Fields(f.letters)
	for _, g := range d.flags() {
		if i := slices.Index(f.takes, g.flag); i >= 0 && g.unit == "mm" {
			w.known[letters[i]] = g.value / 10
		} else if i >= 0 {
			w.known[letters[i]] = g.value
		}
	}
	w.piece = Piece{Shape: f.name, Alloy: alloy}
	density := fig(w.known["rho"])
	known := density + " g/cm3"
	if alloy.SpreadPercent > 0 {
		known += " +/- " + fig(alloy.SpreadPercent) + " %"
	}
	source := cmp.Or(alloy.Source, "as given")
	if alloy.Evidence == opened {
		source = "published: " + source
	}
	w.step("density of "+cmp.Or(alloy.Title, alloy.Name), "rho", density, known, source)
	return w
}

func (w *work) step(name, formula, numbers, result, source string) {
	w.piece.Working = append(w.piece.Working, Step{name, formula, numbers, result, source})
}

func (w *work) warn(parts ...any) {
	w.piece.Warnings = append(w.piece.Warnings, measure.Say(parts...))
}

func (w *work) fail(err *fault.Error) {
	if w.err == nil {
		w.err = err
	}
}

func (w *work) lack(needs, cure string) {
	had := "nothing was given"
	if given := w.in.given(); len(given) > 0 {
		had = "given: " + strings.Join(given, ", ")
	}
	w.fail(fault.Usagef("a %s needs %s; %s", w.form.noun, needs, had).At("--shape "+w.form.name).Try("%s", cure))
}

func (w *work) missing(flags ...string) []string {
	given := w.in.given()
	return slices.DeleteFunc(flags, func(flag string) bool { return slices.Contains(given, flag) })
}

// complete works the piece out in the first way that what was given allows.
func (w *work) complete() {
	f := w.form
	missing := w.missing(slices.Clone(f.takes)...)
	if lack := f.need - (len(f.takes) - len(missing)); lack > 0 {
		w.lack(ofList(f.need, f.takes), "add "+ofList(lack, missing))
		return
	}
	if len(missing) == 0 && f.mass != "" {
		w.agree(f.mass, f.used, f.reason)
	}
	for _, way := range f.ways {
		if slices.ContainsFunc(strings.Fields(way.given), func(letter string) bool { return w.known[letter] == 0 }) {
			continue
		}
		for _, step := range way.steps {
			name, formula, _ := strings.Cut(step, ": ")
			w.solve(name, formula)
		}
		break
	}
	if w.err == nil {
		f.build(w)
	}
}

// solve works out a letter by its formula and notes the step.
func (w *work) solve(name, formula string) {
	letter, right, _ := strings.Cut(formula, " = ")
	x, numbers := w.value(right), w.numbers(right)
	w.known[letter] = x
	unit := map[string]string{"m": "g", "A": "cm2"}[letter]
	if unit == "" {
		x, unit = x*10, "mm"
	}
	if between := limits[unit]; !(x >= between[0]*(1-1e-9) && x <= between[1]*(1+1e-9)) {
		w.fail(fault.Usagef("the %s of the %s comes out as %s %s, which is impossible", strings.TrimSuffix(name, " of one piece"), w.form.noun, fig(x), unit).
			At("--shape " + w.form.name).Try("check the units of what was given; lengths go from 0.001 mm to 10 m, a piece to 1000 kg"))
	}
	w.step(name, formula, numbers, fig(x)+" "+unit, srcGeometry)
}

func (w *work) agree(formula, used, reason string) {
	w.compare("--mass", "mass given", w.known["m"], "mass of the dimensions", w.value(formula), "g", used, reason)
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
		w.warn("The ", nameA, ", ", measure.Figure{Value: a, Unit: unit}, ", and the ", nameB, ", ", measure.Figure{Value: b, Unit: unit}, ", differ by "+figures((ratio-1)*100, 2)+" %; ", used, ". ", reason)
	}
}

// highRelief is the most that passes without a word. Chosen: a texture of grooves as deep as they are wide.
const highRelief = 2.0

func mm(cm float64) measure.Millimeters { return measure.Millimeters(cm * 10) }

// finish puts relief on the area and turns cm into the units of [Piece].
func (w *work) finish() (Piece, error) {
	if w.err != nil {
		return Piece{}, w.err
	}
	relief := cmp.Or(w.in.Relief, 1)
	w.known["relief"] = relief
	area, mass, volume := w.value("A relief"), w.known["m"], w.value("m/rho")
	if relief > highRelief {
		w.warn("The relief makes the area ", figures(relief, 3), " times that of a flat piece, and deep stamping about 1.3 (from memory): see that it is a factor, 1.05 for 5 %.")
	}
	if relief != 1 {
		w.step("area with relief", "A x relief", w.numbers("A relief"), fig(area)+" cm2", "relief as given")
	}
	if mass > 0 {
		w.step("volume of one piece", "V = m/rho", w.numbers("m/rho"), fig(volume)+" mL", "what density means; V in cm3 = mL")
	}
	p := w.piece
	p.Area, p.Relief, p.Thickness = measure.SquareCM(area), relief, w.millimeters(w.thick)
	p.Mass, p.Volume = measure.Grams(mass), measure.Liters(volume/1000)
	slices.SortFunc(w.box, func(a, b float64) int { return cmp.Compare(b, a) })
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

func fig(v float64) string { return figures(v, 5) }

func figures(v float64, digits int) string {
	text := measure.Figures(v, digits)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}
