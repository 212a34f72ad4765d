package plan

import (
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// ParseHeat reads what warms the bath: none, kettle:1.5L, plate:500W, thermostat.
func ParseHeat(text string) (Heat, error) {
	kind, amount, given := strings.Cut(strings.TrimSpace(text), ":")
	h := Heat{Kind: HeatKind(strings.ToLower(kind))}
	var err error
	switch h.Kind {
	case NoHeat:
		if given {
			err = fault.Usagef("%q: none takes no amount", measure.Clean(text)).Try("write --heat none")
		}
	case Kettle:
		if given {
			h.Liters, err = measure.ParseVolume(amount)
			if err == nil && h.Liters <= 0 {
				err = fault.Usagef("%q is not above zero", measure.Clean(text)).Try("write its volume, as in kettle:1.5L")
			}
		}
	case Plate, Thermostat:
		if given {
			h.Watts, err = measure.ParseWatts(amount)
			if err == nil && h.Watts <= 0 {
				err = fault.Usagef("%q is not above zero", measure.Clean(text)).Try("write its watts, as in plate:500W")
			}
		}
	default:
		err = fault.Usagef("%q is no way to heat", measure.Clean(text)).Try("write none, kettle:1.5L, plate:500W or thermostat")
	}
	return h, err
}

// String writes the heat as ParseHeat reads it.
func (h Heat) String() string {
	switch {
	case h.Kind == "":
		return string(NoHeat)
	case h.Watts > 0:
		return string(h.Kind) + ":" + measure.Plain(h.Watts) + "W"
	case h.Liters > 0:
		return string(h.Kind) + ":" + measure.Plain(float64(h.Liters)) + "L"
	}
	return string(h.Kind)
}
