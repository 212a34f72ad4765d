package reagent

import (
	"math"
	"slices"

	"hepar/recipe/fault"
)

// HydrateFactor returns the grams of the form to that hold as much of the
// substance itself as one gram of the form from: m(to) = factor x m(from). It
// works between hydrates, between solutions, and from one to the other, as long
// as both are the same thing but for their water. The factor follows from the
// molar masses and the mass percents of the two forms. A form without formula,
// or of unknown strength, is an error of kind Usage, except against itself.
func HydrateFactor(from, to Form) (float64, error) {
	if from == to {
		return 1, nil
	}
	a, err := from.core()
	if err != nil {
		return 0, err
	}
	b, err := to.core()
	if err != nil {
		return 0, err
	}
	if a.text != b.text {
		return 0, fault.Usagef("%q and %q are not forms of one substance", from.Formula, to.Formula).
			Try("convert only between hydrates and solutions of the same substance")
	}
	return a.unitsPerGram / b.unitsPerGram, nil
}

// core is what is left of a form without its water.
type core struct {
	text         string
	unitsPerGram float64 // mol of core per g of what is in the jar
}

func (f Form) core() (core, error) {
	if f.StrengthUnknown {
		return core{}, fault.Usagef("the strength of the form %q is not known", f.Name).
			Try("ask the maker for the grams of substance per liter, or use another form")
	}
	if f.Formula == "" || !(f.MassPercent > 0) || f.MassPercent > 100 {
		return core{}, fault.Usagef("the form %q has no formula to convert by", f.Name).
			Try("weigh it in the form that the recipe names")
	}
	all, err := parseFormula(f.Formula)
	if err != nil {
		return core{}, err
	}
	c := core{text: "H2O", unitsPerGram: f.MassPercent / 100 / all.mass()}
	dry := slices.DeleteFunc(slices.Clone(all), func(p part) bool { return p.text == "H2O" })
	for i, p := range dry {
		if i == 0 {
			c.text = p.text
		} else {
			c.text += "." + p.text
		}
	}
	if len(dry) == 1 {
		c.unitsPerGram *= dry[0].times // "2Cu(NO3)2.5H2O" holds two of its core in one formula
	}
	if math.IsInf(c.unitsPerGram, 0) {
		return core{}, fault.Usagef("the formula %q has next to no mass", clip(f.Formula)).Try("check the formula")
	}
	return c, nil
}
