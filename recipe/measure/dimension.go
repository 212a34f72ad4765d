package measure

// Dimension is the kind of thing a unit measures. Units of one dimension convert
// into each other; units of two dimensions never do without a further figure
// such as a density.
type Dimension int

// The dimensions, each with the unit in which its factors are counted.
const (
	Mass            Dimension = iota + 1 // g
	Volume                               // L
	Length                               // mm
	Area                                 // cm2
	Temperature                          // C
	Time                                 // s
	Amount                               // mol
	MassPerVolume                        // g/L
	VolumePerVolume                      // mL/L
	MassFraction                         // g of substance per g of mixture
	Molar                                // mol/L
	Ratio                                // a plain number
	Load                                 // dm2 of metal per L of bath
	Spread                               // mL of liquid per m2 of face
	Power                                // W
)

// String names the dimension with its article, as in "a mass".
func (d Dimension) String() string {
	switch d {
	case Mass:
		return "a mass"
	case Volume:
		return "a volume"
	case Length:
		return "a length"
	case Area:
		return "an area"
	case Temperature:
		return "a temperature"
	case Time:
		return "a time"
	case Amount:
		return "an amount of substance"
	case MassPerVolume:
		return "a mass per volume"
	case VolumePerVolume:
		return "a volume per volume"
	case MassFraction:
		return "a mass fraction"
	case Molar:
		return "a molar concentration"
	case Ratio:
		return "a ratio"
	case Load:
		return "an area per volume"
	case Spread:
		return "a volume per area"
	case Power:
		return "a power"
	}
	return "an unknown kind of quantity"
}

// example gives a few well-formed quantities of the dimension, for a cure.
func (d Dimension) example() string {
	switch d {
	case Mass:
		return "14.5 g, 0.5 oz or 1 ozt"
	case Volume:
		return "850 mL, 1.5 L or 2 US qt"
	case Length:
		return "32 mm, 3.9 cm or 1 1/4 in"
	case Area:
		return "27 cm2, 0.27 dm2 or 4 in2"
	case Temperature:
		return "75 C, 167 F or 348 K"
	case Time:
		return "10 s, 1 min 30 s or 4 h"
	case Amount:
		return "0.5 mol"
	case MassPerVolume:
		return "7.5 g/L, 0.75 % w/v or 1 oz/US gal"
	case VolumePerVolume:
		return "20 mL/L, 2 % v/v or 2.5 US fl oz/US gal"
	case MassFraction:
		return "20 % w/w"
	case Molar:
		return "0.1 mol/L"
	case Ratio:
		return "0.1, 10 % or 1:10"
	case Load:
		return "2 dm2/L or 0.8 ft2/US gal"
	case Spread:
		return "80 mL/m2 or 2 US gal/1000 ft2"
	}
	return "7.5 g/L"
}
