package measure

// The named quantities that travel between packages. Each is a float64 in the
// unit of its name, so that no unit has to be remembered.
type (
	Grams                 float64 // mass in g
	Liters                float64 // volume in L
	Millimeters           float64 // length in mm
	SquareCM              float64 // area in cm2
	Celsius               float64 // temperature in degrees C
	Degrees               float64 // difference of two temperatures in K: by how much a bath cools, not how hot it is
	Seconds               float64 // time in s
	GramsPerLiter         float64 // g of substance per L of finished bath
	MillilitersPerLiter   float64 // mL of a liquid per L of finished bath
	SquareDMPerLiter      float64 // bath load, dm2 of metal per L of bath
	MillilitersPerSquareM float64 // spread of liquid over a face in mL/m2
	GramsPerCM3           float64 // density in g/cm3, which is also g/mL and kg/L
)

// SquareDM returns the area in dm2 (1 dm2 = 100 cm2).
func (a SquareCM) SquareDM() float64 { return float64(a) / 100 }

// Milliliters returns the volume in mL.
func (v Liters) Milliliters() float64 { return float64(v) * 1000 }

// Minutes returns the time in minutes.
func (t Seconds) Minutes() float64 { return float64(t) / 60 }

// Kelvin returns the temperature in K (K = C + 273.15, exact).
func (t Celsius) Kelvin() float64 { return float64(t) + 273.15 }

// Concentration is how much of a thing goes into a liter of finished bath: a mass
// in g, or a volume of a liquid in mL. The one turns into the other only with a
// density, so that it is never done here.
type Concentration struct {
	PerL     float64 // g/L, or mL/L where ByVolume is set
	ByVolume bool
}

// Unit returns "g/L" or "mL/L".
func (c Concentration) Unit() string { return c.Counted() + "/L" }

// Counted returns the unit of what goes into a liter, "g" or "mL".
func (c Concentration) Counted() string {
	if c.ByVolume {
		return "mL"
	}
	return "g"
}

// Times returns the concentration multiplied by a factor without unit.
func (c Concentration) Times(factor float64) Concentration {
	c.PerL *= factor
	return c
}

// String prints the concentration in metric units, as [System.Of] does.
func (c Concentration) String() string { return Metric.Of(c.PerL, c.Unit()) }
