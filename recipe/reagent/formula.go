package reagent

import (
	"cmp"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// MolarMass returns the molar mass in g/mol of a formula such as "NaHCO3", "Cu(NO3)2.3H2O" or
// "2Cu(NO3)2.5H2O", and 0 for one that cannot be read. A full stop or a raised dot joins the
// parts of a hydrate; a number before a part multiplies that part, and may have decimals with
// a raised dot ("Cu(NO3)2·2.5H2O"). Brackets are round and do not nest. Atomic weights: IUPAC
// 2021 abridged.
func MolarMass(formula string) float64 {
	_, mass, _ := weigh(formula, "")
	return mass
}

// MassFraction returns the grams of an element in a gram of the formula, from 0 to 1, and 0
// for a formula that [MolarMass] does not read.
func MassFraction(formula, element string) float64 {
	if _, all, of := weigh(formula, element); all > 0 {
		return of / all
	}
	return 0
}

// part is one of the pieces between the dots of a formula.
type part struct {
	times float64
	text  string // without the number in front
}

// weigh returns the parts of a formula, its mass in g/mol, and that of one element in it;
// masses of 0 where it cannot be read.
func weigh(formula, element string) (parts []part, all, of float64) {
	separator := "."
	if strings.Contains(formula, "·") {
		separator = "·"
	}
	for text := range strings.SplitSeq(formula, separator) {
		p := part{1, strings.TrimLeft(text, "0123456789.")}
		if number := strings.TrimSuffix(text, p.text); number != "" {
			p.times, _ = strconv.ParseFloat(number, 64)
		}
		mass, share := weighPart(p.text, element)
		if mass == 0 || p.times == 0 {
			return nil, 0, 0
		}
		parts, all, of = append(parts, p), all+p.times*mass, of+p.times*share
	}
	return parts, all, of
}

var atoms = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(?:([A-Z][a-z]?)|\(([^()]+)\))(\d*)`) })

func weighPart(text, element string) (all, of float64) {
	for text != "" {
		m := atoms().FindStringSubmatch(text)
		if m == nil {
			return 0, 0
		}
		each, share := weighPart(m[2], element)
		if m[2] == "" {
			each = atomicWeight[m[1]]
		}
		if m[1] == element {
			share += each
		}
		n, err := strconv.ParseFloat(cmp.Or(m[3], "1"), 64)
		if each == 0 || err != nil {
			return 0, 0
		}
		all, of, text = all+n*each, of+n*share, text[len(m[0]):]
	}
	return all, of
}

// atomicWeight is in g/mol. Source: IUPAC 2021 abridged (Prohaska et al., Pure Appl. Chem. 94,
// 2022); those below the line are from memory of the same work.
var atomicWeight = map[string]float64{
	"Ag": 107.8682, "Al": 26.9815384, "Au": 196.96657, "B": 10.81, "Bi": 208.9804, "Br": 79.904,
	"C": 12.011, "Ca": 40.078, "Cd": 112.414, "Cl": 35.45, "Co": 58.933194, "Cr": 51.9961,
	"Cu": 63.546, "F": 18.998403162, "Fe": 55.845, "H": 1.008, "Hg": 200.592, "I": 126.90447,
	"K": 39.0983, "Mg": 24.305, "Mn": 54.938043, "N": 14.007, "Na": 22.98976928, "Ni": 58.6934,
	"O": 15.999, "P": 30.973761998, "Pb": 207.2, "S": 32.06, "Sb": 121.76, "Se": 78.971,
	"Si": 28.085, "Sn": 118.71, "Zn": 65.38,

	// From memory.
	"As": 74.921595, "Ba": 137.327, "Ge": 72.630, "In": 114.818, "Li": 6.94, "Pd": 106.42,
	"Pt": 195.084, "Rh": 102.90549, "Sr": 87.62, "Te": 127.60, "Ti": 47.867,
}

// HydrateFactor returns the grams of the form to that hold as much of the substance itself as
// one gram of the form from, by molar masses and mass percents. The two may be hydrates or
// solutions of one thing. A form without formula, or of unknown strength, is an error of kind
// Usage, except against itself.
func HydrateFactor(from, to Form) (float64, error) {
	if from == to {
		return 1, nil
	}
	for _, f := range []Form{from, to} {
		if f.StrengthUnknown {
			return 0, fault.Usagef("the strength of the form %q is not known", f.Name).
				Try("ask the maker for the grams of substance per liter, or use another form")
		}
		if f.molPerGram() == 0 {
			return 0, fault.Usagef("the form %q has no formula to convert by", f.Name).Try("weigh it in the form that the recipe names")
		}
	}
	if a, b := from.dry().text, to.dry().text; a != b {
		return 0, fault.Usagef("%q and %q are not forms of one substance", from.Formula, to.Formula).
			Try("convert only between hydrates and solutions of the same substance")
	}
	return from.molPerGram() / to.molPerGram(), nil
}

// molPerGram is the mol of the substance without its water in a gram from the jar, or 0.
func (f Form) molPerGram() float64 {
	if mass := MolarMass(f.Formula); mass > 0 && f.MassPercent > 0 && f.MassPercent <= 100 {
		return f.dry().times * f.MassPercent / 100 / mass
	}
	return 0
}

// dry is what a formula holds beside water, and how many of it: "2Cu(NO3)2.5H2O" holds two.
func (f Form) dry() part {
	dry := part{1, "H2O"}
	parts, _, _ := weigh(f.Formula, "")
	for _, p := range parts {
		if dry.text == "H2O" {
			dry = p
		} else if p.text != "H2O" {
			dry = part{1, dry.text + "." + p.text}
		}
	}
	return dry
}

// NeutralizerGrams returns the grams of a base that take up a mass of acid, by equivalents,
// and the grams of carbon dioxide that come off: the stoichiometric least. Masses are of the
// forms as weighed, of a solution all of it. Source: the reaction equations; checked against
// OpenStax Chemistry 2e, 4.5.
//
// It counts for rinses after a pickle. ok is false for what is no acid or no base, a strength
// that is not known, what is banned, and a sulfide, which neither a bicarbonate nor an acid
// destroys.
func NeutralizerGrams(acid Substance, acidForm Form, mass measure.Grams, base Substance, baseForm Form) (grams, carbonDioxide measure.Grams, ok bool) {
	for _, s := range []Substance{acid, base} {
		if s.In(Sulfide) || s.Banned != "" {
			return 0, 0, false
		}
	}
	molBase := float64(mass) * acidForm.molPerGram() * float64(acid.AcidEquivalents) / float64(base.BaseEquivalents)
	grams = measure.Grams(molBase / baseForm.molPerGram())
	if !positive(float64(grams)) {
		return 0, 0, false
	}
	if base.In(Carbonate) {
		carbonDioxide = measure.Grams(molBase * MolarMass("CO2")) // a mol per mol, of bicarbonate and of carbonate alike
	}
	return grams, carbonDioxide, true
}

// H2SPerSulfur is the hydrogen sulfide, in g, that acid frees per g of sulfur present as
// sulfide; IUPAC 2021 atomic weights.
const H2SPerSulfur = 34.076 / 32.06

// GasFreed returns the grams of gas, see [Substance].GasWithAcid, that acid in excess frees
// from a mass of the form: at most, and as expected of the common product. ok is false where
// the yield is not known.
func (f Form) GasFreed(mass measure.Grams) (upper, expected measure.Grams, ok bool) {
	upper, expected = mass*measure.Grams(f.GasUpper), mass*measure.Grams(f.GasExpected)
	if f.GasExpected == 0 {
		expected = upper
	}
	return upper, expected, f.GasUpper > 0
}
