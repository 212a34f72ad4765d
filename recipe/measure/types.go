package measure

// The named quantities that travel between packages. Each is a float64 in the
// unit of its name, so that no unit lives in anybody's head.
type (
	// Grams is a mass in g.
	Grams float64
	// Liters is a volume in L.
	Liters float64
	// Millimeters is a length in mm.
	Millimeters float64
	// SquareCM is an area in cm2.
	SquareCM float64
	// Celsius is a temperature in degrees C.
	Celsius float64
	// Seconds is a length of time in s.
	Seconds float64
	// GramsPerLiter is a concentration in g of substance per L of finished bath.
	GramsPerLiter float64
	// MillilitersPerLiter is a concentration in mL of a liquid per L of finished bath.
	MillilitersPerLiter float64
	// SquareDMPerLiter is a bath load in dm2 of metal per L of bath.
	SquareDMPerLiter float64
	// MillilitersPerSquareM is a spread of liquid over a face in mL/m2.
	MillilitersPerSquareM float64
	// GramsPerCM3 is a density in g/cm3, which is also g/mL and kg/L.
	GramsPerCM3 float64
)

// SquareDM returns the area in dm2 (1 dm2 = 100 cm2).
func (a SquareCM) SquareDM() float64 { return float64(a) / 100 }

// Milliliters returns the volume in mL.
func (v Liters) Milliliters() float64 { return float64(v) * 1000 }

// Minutes returns the time in minutes.
func (t Seconds) Minutes() float64 { return float64(t) / 60 }

// Kelvin returns the temperature in K (K = C + 273.15, exact).
func (t Celsius) Kelvin() float64 { return float64(t) + 273.15 }
