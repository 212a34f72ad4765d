package measure

import (
	"math"
	"math/big"
	"strconv"
	"strings"

	"hepar/recipe/fault"
)

// The magnitudes between which a quantity may lie, whatever its unit (zero is
// allowed too). Anything beyond is a slip of the hand, not a bath.
const (
	largest  = 1e15
	smallest = 1e-15
)

// Quantity is a number with a unit. Two quantities are the same when they compare
// equal with ==; 1 in and 25.4 mm are not, until one is converted with [Quantity.In].
type Quantity struct {
	Number float64
	Unit   Unit
}

// String prints the quantity so that [Parse] reads back exactly the same one: the
// shortest plain decimal of the number, a space and the symbol of the unit. It
// rounds nothing; for the eye use a [System], [Round] or [Figures].
func (q Quantity) String() string {
	return Plain(q.Number) + " " + q.Unit.Symbol
}

// Note says how a unit with a namesake was read; see [Unit.Note].
func (q Quantity) Note() string { return q.Unit.note }

// In converts the quantity to the unit written as symbol. The factor is exact and
// the result is rounded once, to the nearest float64. It is a usage error if the
// unit is unknown or measures something else.
func (q Quantity) In(symbol string) (Quantity, error) {
	u, err := Find(symbol)
	if err != nil {
		return Quantity{}, err
	}
	if q.Unit.Dimension != u.Dimension || q.Unit.den == 0 || u.num == 0 {
		e := fault.Usagef("%s is %s and %s is %s", printable(q.Unit.Symbol), q.Unit.Dimension, u.Symbol, u.Dimension)
		if q.Unit.Dimension == Volume && ounceWord(u.Symbol) {
			return Quantity{}, e.Try("write US fl oz (29.57 mL) or imp fl oz (28.41 mL); oz is a weight")
		}
		return Quantity{}, e.Try("%s", bridge(q.Unit.Dimension, u.Dimension))
	}
	base, err := q.rat()
	if err != nil {
		return Quantity{}, err
	}
	base.Mul(base, big.NewRat(u.den, u.num))
	base.Sub(base, big.NewRat(u.shift, 100))
	x, _ := base.Float64()
	if err := inRange(x, q.String()+" in "+u.Symbol); err != nil {
		return Quantity{}, err
	}
	return Quantity{Number: x + 0, Unit: u}, nil
}

// rat returns the exact value in the unit of the dimension. The number is taken at
// its decimal face value: 0.1 is one tenth.
func (q Quantity) rat() (*big.Rat, error) {
	if err := inRange(q.Number, q.String()); err != nil {
		return nil, err
	}
	r, _ := new(big.Rat).SetString(strconv.FormatFloat(q.Number, 'e', -1, 64))
	r.Add(r, big.NewRat(q.Unit.shift, 100))
	return r.Mul(r, big.NewRat(q.Unit.num, q.Unit.den)), nil
}

func (q Quantity) base() (float64, error) {
	r, err := q.rat()
	if err != nil {
		return 0, err
	}
	x, _ := r.Float64()
	return x, inRange(x, q.String())
}

func inRange(x float64, text string) error {
	switch {
	case math.IsNaN(x) || math.Abs(x) > largest:
		return fault.Usagef("%s is too large", quote(text)).Try("check the number and the unit")
	case x != 0 && math.Abs(x) < smallest:
		return fault.Usagef("%s is too small", quote(text)).Try("check the number and the unit")
	}
	return nil
}

// bridge says what it would take to get from one dimension to the other.
func bridge(from, to Dimension) string {
	concentration := func(d Dimension) bool {
		return d == MassPerVolume || d == VolumePerVolume || d == MassFraction || d == Molar
	}
	switch {
	case from == Molar && concentration(to), to == Molar && concentration(from):
		return "the molar mass of the substance is needed to go from one to the other"
	case concentration(from) && concentration(to), from == Mass && to == Volume, from == Volume && to == Mass:
		return "a density is needed to go from one to the other"
	}
	return "choose a unit of " + strings.TrimPrefix(strings.TrimPrefix(from.String(), "a "), "an ") + ", as in " + from.example()
}
