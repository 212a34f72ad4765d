package reagent

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
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
	all, err := parseFormula(formula)
	if err != nil {
		return 0, err
	}
	return all.mass(), nil
}

// MassFraction returns the grams of an element in a gram of the formula, from 0
// to 1; for instance the silver in silver nitrate. The formula is read as in
// [MolarMass].
func MassFraction(formula, element string) (float64, error) {
	weight, ok := atomicWeight[element]
	if !ok {
		return 0, fault.Usagef("unknown element %q", clip(element)).Try("write the symbol of an element, such as Ag")
	}
	all, err := parseFormula(formula)
	if err != nil {
		return 0, err
	}
	var count float64
	for _, p := range all {
		count += p.times * p.atoms[element]
	}
	return count * weight / all.mass(), nil
}

// part is one of the pieces between the dots of a formula.
type part struct {
	times float64
	text  string             // without the number in front
	atoms map[string]float64 // how many of each element
}

type parts []part

// mass is in g/mol.
func (ps parts) mass() float64 {
	var sum float64
	for _, p := range ps {
		for _, symbol := range slices.Sorted(maps.Keys(p.atoms)) {
			sum += p.times * p.atoms[symbol] * atomicWeight[symbol]
		}
	}
	return sum
}

var leadingNumber = regexp.MustCompile(`^[0-9.]+`)

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
		if number := leadingNumber.FindString(p.text); number != "" {
			n, err := strconv.ParseFloat(number, 64)
			if err != nil || !(n > 0) || n > maxCount {
				return nil, bad("cannot use the number %q", number)
			}
			p.times, p.text = n, p.text[len(number):]
		}
		atoms, slip := countAtoms(p.text)
		if slip != "" {
			return nil, bad("%s", slip)
		}
		p.atoms = atoms
		all = append(all, p)
	}
	if mass := all.mass(); !(mass > 0 && mass <= maxMass) {
		return nil, bad("is heavier than %g g/mol", maxMass)
	}
	return all, nil
}

// piece is what a formula is made of: an element or a closing bracket with its
// count, or an opening bracket.
var piece = regexp.MustCompile(`^(?:([A-Z][a-z]?|[)\]])([0-9]*)|[(\[])`)

// countAtoms counts the atoms of one part; slip says what is wrong with it.
func countAtoms(text string) (atoms map[string]float64, slip string) {
	open := "" // the brackets that are open
	stack := []map[string]float64{{}}
	for rest := text; rest != ""; {
		m := piece.FindStringSubmatch(rest)
		if m == nil {
			return nil, fmt.Sprintf("cannot be read from %q on", clip(rest))
		}
		rest = rest[len(m[0]):]
		if m[1] == "" {
			if open += m[0]; len(open) > maxDepth {
				return nil, fmt.Sprintf("has brackets more than %d deep", maxDepth)
			}
			stack = append(stack, map[string]float64{})
			continue
		}
		times := 1
		if m[2] != "" {
			var err error
			if times, err = strconv.Atoi(m[2]); err != nil || times < 1 || times > maxCount {
				return nil, fmt.Sprintf("cannot use the number %q", clip(m[2]))
			}
		}
		inner := map[string]float64{m[1]: 1}
		if m[1] == ")" || m[1] == "]" {
			if open == "" {
				return nil, fmt.Sprintf("has a bracket %q too many", m[1])
			}
			last := len(open) - 1
			if (open[last] == '(') != (m[1] == ")") {
				return nil, fmt.Sprintf("has a bracket %q that is not closed", open[last])
			}
			inner, stack, open = stack[last+1], stack[:last+1], open[:last]
			if len(inner) == 0 {
				return nil, "has empty brackets"
			}
		} else if atomicWeight[m[1]] == 0 {
			return nil, fmt.Sprintf("has an unknown element %q", m[1])
		}
		top := stack[len(stack)-1]
		for symbol, n := range inner {
			if top[symbol] += n * float64(times); top[symbol] > maxCount*maxCount {
				return nil, fmt.Sprintf("has too many atoms of %s", symbol)
			}
		}
	}
	switch {
	case open != "":
		return nil, fmt.Sprintf("has a bracket %q that is not closed", open[len(open)-1])
	case len(stack[0]) == 0:
		return nil, "has an empty part"
	}
	return stack[0], ""
}
