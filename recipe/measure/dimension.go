package measure

// Dimension is the kind of thing a unit measures. Units convert within a dimension, and
// never into another without a further figure such as a density.
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

// dimensions holds the name of each with its article, and quantities of it for a cure.
var dimensions = [...]struct{ name, example string }{
	0:               {"an unknown kind of quantity", "7.5 g/L"},
	Mass:            {"a mass", "14.5 g, 0.5 oz or 1 ozt"},
	Volume:          {"a volume", "850 mL, 1.5 L or 2 US qt"},
	Length:          {"a length", "32 mm, 3.9 cm or 1 1/4 in"},
	Area:            {"an area", "27 cm2, 0.27 dm2 or 4 in2"},
	Temperature:     {"a temperature", "75 C, 167 F or 348 K"},
	Time:            {"a time", "10 s, 1 min 30 s or 4 h"},
	Amount:          {"an amount of substance", "0.5 mol"},
	MassPerVolume:   {"a mass per volume", "7.5 g/L, 0.75 % w/v or 1 oz/US gal"},
	VolumePerVolume: {"a volume per volume", "20 mL/L, 2 % v/v or 2.5 US fl oz/US gal"},
	MassFraction:    {"a mass fraction", "20 % w/w"},
	Molar:           {"a molar concentration", "0.1 mol/L"},
	Ratio:           {"a ratio", "0.1, 10 % or 1:10"},
	Load:            {"an area per volume", "2 dm2/L or 0.8 ft2/US gal"},
	Spread:          {"a volume per area", "80 mL/m2 or 2 US gal/1000 ft2"},
	Power:           {"a power", "300 W or 1.2 kW"},
}

// String names the dimension with its article, as in "a mass".
func (d Dimension) String() string { return dimensions[d].name }

func (d Dimension) example() string { return dimensions[d].example }
