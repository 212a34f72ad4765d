package reagent

import (
	"math"
	"strconv"
	"strings"

	"hepar/recipe/fault"
)

// The bounds of a formula: beyond them it is a slip or an attack.
const (
	maxFormula = 120    // bytes
	maxDepth   = 8      // brackets within brackets
	maxCount   = 10_000 // atoms of one kind in a group
	maxMass    = 1e6    // g/mol
)

// MolarMass returns the molar mass in g/mol of a formula such as "NaHCO3",
// "Cu(NO3)2.3H2O" or "2Cu(NO3)2.5H2O". The parts of a hydrate are joined by a
// full stop, a raised dot or an asterisk, and a number before a part multiplies
// that part alone; with a raised dot or an asterisk the number may have
// decimals ("Cu(NO3)2·2.5H2O"). Round and square brackets nest up to 8 deep.
// Charges and isotopes are not read. Atomic weights: IUPAC 2021 abridged, see
// [MassFraction] for the share of one element. The error is of kind Usage.
func MolarMass(formula string) (float64, error) {
	parts, err := parseFormula(formula)
	if err != nil {
		return 0, err
	}
	return parts.mass(), nil
}

// MassFraction returns the grams of an element in a gram of the formula, from 0
// to 1; for instance the silver in silver nitrate. The formula is read as in
// [MolarMass].
func MassFraction(formula, element string) (float64, error) {
	weight, ok := atomicWeight[element]
	if !ok {
		return 0, fault.Usagef("unknown element %q", clip(element)).Try("write the symbol of an element, such as Ag")
	}
	parts, err := parseFormula(formula)
	if err != nil {
		return 0, err
	}
	var count float64
	for _, p := range parts {
		for _, a := range p.atoms {
			if a.symbol == element {
				count += p.times * a.count
			}
		}
	}
	return count * weight / parts.mass(), nil
}

// atom is an element and how often it stands in a part.
type atom struct {
	symbol string
	count  float64
	weight float64 // g/mol of one
}

// part is one of the pieces between the dots of a formula.
type part struct {
	times float64
	text  string // without the number in front
	atoms []atom
}

type parts []part

func (p part) mass() float64 {
	var sum float64
	for _, a := range p.atoms {
		sum += a.count * a.weight
	}
	return p.times * sum
}

func (ps parts) mass() float64 {
	var sum float64
	for _, p := range ps {
		sum += p.mass()
	}
	return sum
}

func parseFormula(formula string) (parts, error) {
	bad := func(format string, args ...any) error {
		return fault.Usagef(format, args...).At("formula " + strconv.Quote(clip(formula))).
			Try("write it like CuSO4.5H2O, with capital letters for elements")
	}
	text := strings.TrimSpace(formula)
	if text == "" {
		return nil, bad("is empty")
	}
	if len(text) > maxFormula {
		return nil, bad("is longer than %d letters", maxFormula)
	}
	text = strings.ReplaceAll(text, "·", "*")
	separator := "."
	if strings.Contains(text, "*") {
		separator = "*"
	}
	var all parts
	for piece := range strings.SplitSeq(text, separator) {
		p := part{times: 1, text: strings.TrimSpace(piece)}
		digits := 0
		for digits < len(p.text) && (isDigit(p.text[digits]) || p.text[digits] == '.') {
			digits++
		}
		if digits > 0 {
			n, err := strconv.ParseFloat(p.text[:digits], 64)
			if err != nil || !(n > 0) || n > maxCount {
				return nil, bad("cannot use the number %q", p.text[:digits])
			}
			p.times, p.text = n, p.text[digits:]
		}
		r := reader{text: p.text}
		atoms, err := r.group(0)
		if err != nil {
			return nil, bad("%s", err.what)
		}
		if len(atoms) == 0 {
			return nil, bad("has an empty part")
		}
		p.atoms = atoms
		all = append(all, p)
	}
	if mass := all.mass(); !(mass > 0) || mass > maxMass || math.IsInf(mass, 0) {
		return nil, bad("is heavier than %g g/mol", maxMass)
	}
	return all, nil
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
