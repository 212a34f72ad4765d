package bath

import (
	"math"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

// Constants of the vessel. Both are house rules of the design: common practice,
// no published source.
const (
	// CoverMM is the liquid wanted above a piece, in mm.
	CoverMM measure.Millimeters = 20
	// FillFraction is how full a vessel may be filled, as a fraction of its height.
	FillFraction = 0.75
)

// Vessel is the inside of a tub or pot. A round one has a Diameter and no Length
// and Width.
type Vessel struct {
	Name     string              `json:"name,omitempty"`
	Length   measure.Millimeters `json:"length_mm,omitempty"`
	Width    measure.Millimeters `json:"width_mm,omitempty"`
	Diameter measure.Millimeters `json:"diameter_mm,omitempty"`
	Height   measure.Millimeters `json:"height_mm"`
}

// ParseVessel reads "200x140x90mm" (a box: inside length, width, height) or
// "150x180mm" (round: inside diameter, height). Every unit of length is taken;
// one unit at the end serves all figures.
func ParseVessel(text string) (Vessel, error) {
	bad := func() *fault.Error {
		return fault.Usagef("cannot read the vessel %q", measure.Clean(text)).
			Try("write inside length x width x height, \"200x140x90mm\", or diameter x height, \"150x180mm\"")
	}
	parts := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r == 'x' || r == '×' })
	if len(parts) != 2 && len(parts) != 3 {
		return Vessel{}, bad()
	}
	last := strings.TrimSpace(parts[len(parts)-1])
	unit := strings.TrimLeft(last, "0123456789. /")
	if unit == "" {
		return Vessel{}, fault.Usagef("the vessel %q has no unit", measure.Clean(text)).
			Try("put the unit at the end: \"200x140x90mm\"")
	}
	sides := make([]measure.Millimeters, len(parts))
	for i, part := range parts {
		part = strings.TrimSpace(part)
		if strings.TrimLeft(part, "0123456789. /") == "" {
			part += " " + unit
		}
		side, err := measure.ParseLength(part)
		if err != nil {
			return Vessel{}, bad().Because(err)
		}
		if side < 5 || side > 5000 {
			return Vessel{}, fault.Usagef("the vessel %q has a side of %s", measure.Clean(text), measure.Metric.Length(side)).
				Try("give the inside of the vessel, from 5 mm to 5 m a side")
		}
		sides[i] = side
	}
	if len(sides) == 2 {
		return Vessel{Diameter: sides[0], Height: sides[1]}, nil
	}
	return Vessel{Length: sides[0], Width: sides[1], Height: sides[2]}, nil
}

// FloorCM2 is the area of the floor, and of the free surface, in cm2.
func (v Vessel) FloorCM2() float64 {
	if v.Diameter > 0 {
		return math.Pi / 4 * float64(v.Diameter*v.Diameter) / 100
	}
	return float64(v.Length*v.Width) / 100
}

// At returns the volume at a depth of liquid.
func (v Vessel) At(depth measure.Millimeters) measure.Liters {
	return measure.Liters(v.FloorCM2() * float64(depth) / 10 / 1000)
}

// Depth returns the depth of a volume of liquid.
func (v Vessel) Depth(volume measure.Liters) measure.Millimeters {
	return measure.Millimeters(float64(volume) * 1000 / v.FloorCM2() * 10)
}

// Usable is the volume with a quarter of the height kept free.
func (v Vessel) Usable() measure.Liters { return v.At(v.Height * FillFraction) }

// WallCM2 is the area of floor and walls up to the rim, in cm2.
func (v Vessel) WallCM2() float64 {
	around := math.Pi * float64(v.Diameter)
	if v.Diameter == 0 {
		around = 2 * float64(v.Length+v.Width)
	}
	return v.FloorCM2() + around*float64(v.Height)/100
}

// Stand finds how a piece goes into the vessel: the least depth at which it
// lies or stands inside with [CoverMM] of liquid above. It tries the piece on
// each of its faces. ok is false where it does not fit below the fill line, or
// where the extent of the piece is not known.
func (v Vessel) Stand(p metal.Piece) (depth measure.Millimeters, known, ok bool) {
	e := p.Extent
	if e[0] <= 0 {
		return 0, false, false
	}
	best := measure.Millimeters(math.Inf(1))
	for up := range 3 {
		a, b := e[(up+1)%3], e[(up+2)%3]
		if !v.holds(a, b) {
			continue
		}
		if need := e[up] + CoverMM; need <= v.Height*FillFraction && need < best {
			best = need
		}
	}
	if math.IsInf(float64(best), 1) {
		return 0, true, false
	}
	return best, true, true
}

// holds reports whether a footprint of a by b lies on the floor.
func (v Vessel) holds(a, b measure.Millimeters) bool {
	if v.Diameter > 0 {
		return math.Hypot(float64(a), float64(b)) <= float64(v.Diameter)
	}
	return (a <= v.Length && b <= v.Width) || (b <= v.Length && a <= v.Width)
}
