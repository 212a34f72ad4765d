package measure

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
