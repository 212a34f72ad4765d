package reagent

import (
	"fmt"
	"strconv"
)

// reader walks over one part of a formula.
type reader struct {
	text string
	at   int
}

// slip is what is wrong in a formula; parseFormula adds the place and the cure.
type slip struct{ what string }

func slipf(format string, args ...any) *slip { return &slip{fmt.Sprintf(format, args...)} }

// group reads atoms and brackets up to the end of the text or, inside brackets,
// up to the one that closes them, which it leaves in place.
func (r *reader) group(depth int) ([]atom, *slip) {
	if depth > maxDepth {
		return nil, slipf("has brackets more than %d deep", maxDepth)
	}
	var atoms []atom
	for r.at < len(r.text) {
		c := r.text[r.at]
		switch {
		case c == '(' || c == '[':
			r.at++
			inner, err := r.group(depth + 1)
			if err != nil {
				return nil, err
			}
			if r.at >= len(r.text) || !closes(c, r.text[r.at]) {
				return nil, slipf("has a bracket %q that is not closed", c)
			}
			r.at++
			if len(inner) == 0 {
				return nil, slipf("has empty brackets")
			}
			times, err := r.number()
			if err != nil {
				return nil, err
			}
			for _, a := range inner {
				a.count *= times
				if atoms, err = add(atoms, a); err != nil {
					return nil, err
				}
			}
		case c == ')' || c == ']':
			if depth == 0 {
				return nil, slipf("has a bracket %q too many", c)
			}
			return atoms, nil
		case c >= 'A' && c <= 'Z':
			start := r.at
			r.at++
			if r.at < len(r.text) && r.text[r.at] >= 'a' && r.text[r.at] <= 'z' {
				r.at++
			}
			symbol := r.text[start:r.at]
			weight, ok := atomicWeight[symbol]
			if !ok {
				return nil, slipf("has an unknown element %q", symbol)
			}
			count, err := r.number()
			if err != nil {
				return nil, err
			}
			if atoms, err = add(atoms, atom{symbol, count, weight}); err != nil {
				return nil, err
			}
		default:
			return nil, slipf("cannot be read from %q on", clip(r.text[r.at:]))
		}
	}
	return atoms, nil
}

// number reads the count after an element or a bracket; none means 1.
func (r *reader) number() (float64, *slip) {
	start := r.at
	for r.at < len(r.text) && isDigit(r.text[r.at]) {
		r.at++
	}
	if start == r.at {
		return 1, nil
	}
	n, err := strconv.Atoi(r.text[start:r.at])
	if err != nil || n < 1 || n > maxCount {
		return 0, slipf("cannot use the number %q", clip(r.text[start:r.at]))
	}
	return float64(n), nil
}

// add sums atoms of one kind, so that nested brackets do not multiply the work.
func add(atoms []atom, a atom) ([]atom, *slip) {
	for i := range atoms {
		if atoms[i].symbol == a.symbol {
			atoms[i].count += a.count
			a = atoms[i]
			if a.count > maxCount*maxCount {
				return nil, slipf("has too many atoms of %s", a.symbol)
			}
			return atoms, nil
		}
	}
	if a.count > maxCount*maxCount {
		return nil, slipf("has too many atoms of %s", a.symbol)
	}
	return append(atoms, a), nil
}

func closes(open, c byte) bool { return open == '(' && c == ')' || open == '[' && c == ']' }
