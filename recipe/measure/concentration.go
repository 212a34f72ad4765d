package measure

import "hepar/recipe/fault"

// GramsPerMole is a molar mass in g/mol.
type GramsPerMole float64

// Concentration is how much of a substance is in a bath, in the kind in which it
// was given. The four kinds are not the same thing and turn into each other only
// with a molar mass or a density; the methods say which one is missing.
type Concentration struct {
	Kind  Dimension // MassPerVolume, VolumePerVolume, MassFraction or Molar
	Value float64   // g/L, mL/L, g per g of mixture, or mol/L
	Unit  Unit      // as it was written
}

// Of is what is known about the substance and the bath. A zero is "not known".
type Of struct {
	MolarMass GramsPerMole // of the substance, g/mol
	Liquid    GramsPerCM3  // density of the substance as a liquid, before it goes in
	Solution  GramsPerCM3  // density of the finished bath
}

// ParseConcentration reads a concentration of any of the four kinds: "7.5 g/L",
// "3 oz/gal", "20 mL/L", "2 % v/v", "1 % w/v", "20 % w/w", "0.1 mol/L". A bare "%"
// and a bare "ppm" are refused with the choices named.
func ParseConcentration(text string) (Concentration, error) {
	q, err := parse(text, MassPerVolume)
	if err != nil {
		return Concentration{}, err
	}
	switch d := q.Unit.Dimension; d {
	case MassPerVolume, VolumePerVolume, MassFraction, Molar:
		x, err := q.base()
		if err != nil {
			return Concentration{}, err
		}
		if d == MassFraction && x > 1 || d == VolumePerVolume && x > 1000 {
			return Concentration{}, fault.Usagef("%s is more than the whole", quote(text)).Try("check the figure and the unit")
		}
		return Concentration{Kind: d, Value: x, Unit: q.Unit}, nil
	case Ratio:
		return Concentration{}, fault.Usagef("the percent in %s could be of mass or of volume", quote(text)).
			Try("write %% w/v (1 %% = 10 g/L), %% v/v (1 %% = 10 mL/L) or %% w/w (by mass)")
	default:
		e := fault.Usagef("%s is %s and a concentration is wanted", quote(text), d)
		if d == Mass && q.Unit.Symbol == "g" {
			return Concentration{}, e.Try("write g/L, the grams in one liter of finished bath")
		}
		return Concentration{}, e.Try("write it like 7.5 g/L, 20 mL/L or 3 oz/US gal")
	}
}

// Note says how a unit with a namesake was read; see [Unit.Note].
func (c Concentration) Note() string { return c.Unit.note }

// String prints the concentration in the unit it was written in, with four figures.
func (c Concentration) String() string {
	base := Quantity{Number: c.Value, Unit: baseUnit(c.Kind)}
	q, err := base.to(c.Unit)
	if err != nil {
		q = base
	}
	return Figures(q.Number, 4) + " " + q.Unit.Symbol
}

// GramsPerLiter gives the concentration in g of substance per L of finished bath.
// A volume per volume needs of.Liquid, a mass fraction of.Solution, a molar
// concentration of.MolarMass.
func (c Concentration) GramsPerLiter(of Of) (GramsPerLiter, error) {
	switch c.Kind {
	case MassPerVolume:
		return within[GramsPerLiter](c, c.Value)
	case VolumePerVolume:
		if !known(of.Liquid) {
			return 0, c.missing("the density of the liquid")
		}
		return within[GramsPerLiter](c, c.Value*float64(of.Liquid))
	case MassFraction:
		if !known(of.Solution) {
			return 0, c.missing("the density of the solution")
		}
		return within[GramsPerLiter](c, c.Value*1000*float64(of.Solution))
	case Molar:
		if !known(of.MolarMass) {
			return 0, c.missing("the molar mass of the substance")
		}
		return within[GramsPerLiter](c, c.Value*float64(of.MolarMass))
	}
	return 0, c.missing("a known kind of concentration")
}

// MillilitersPerLiter gives the concentration in mL of a liquid substance per L of
// finished bath. All kinds but a volume per volume need of.Liquid, and what
// [Concentration.GramsPerLiter] needs.
func (c Concentration) MillilitersPerLiter(of Of) (MillilitersPerLiter, error) {
	if c.Kind == VolumePerVolume {
		return within[MillilitersPerLiter](c, c.Value)
	}
	if !known(of.Liquid) {
		return 0, c.missing("the density of the liquid")
	}
	g, err := c.GramsPerLiter(of)
	if err != nil {
		return 0, err
	}
	return within[MillilitersPerLiter](c, float64(g)/float64(of.Liquid))
}

// MolesPerLiter gives the concentration in mol/L. All kinds but a molar one need
// of.MolarMass, and what [Concentration.GramsPerLiter] needs.
func (c Concentration) MolesPerLiter(of Of) (float64, error) {
	if c.Kind == Molar {
		return within[float64](c, c.Value)
	}
	if !known(of.MolarMass) {
		return 0, c.missing("the molar mass of the substance")
	}
	g, err := c.GramsPerLiter(of)
	if err != nil {
		return 0, err
	}
	return within[float64](c, float64(g)/float64(of.MolarMass))
}

// Fraction gives the concentration in g of substance per g of solution, 0 to 1.
// All kinds but a mass fraction need of.Solution, and what
// [Concentration.GramsPerLiter] needs.
func (c Concentration) Fraction(of Of) (float64, error) {
	if c.Kind == MassFraction {
		return within[float64](c, c.Value)
	}
	if !known(of.Solution) {
		return 0, c.missing("the density of the solution")
	}
	g, err := c.GramsPerLiter(of)
	if err != nil {
		return 0, err
	}
	w := float64(g) / 1000 / float64(of.Solution)
	if w > 1 {
		return 0, fault.Usagef("%s is more than the whole", c).Try("check the figure and the densities")
	}
	return within[float64](c, w)
}

func known[T ~float64](x T) bool { return x > 0 && float64(x) <= largest }

// within keeps a figure that is no amount from leaving.
func within[T ~float64](c Concentration, x float64) (T, error) {
	if !(x >= 0) || x > largest {
		return 0, fault.Usagef("the concentration %s cannot be", c).Try("check the figure, the molar mass and the densities")
	}
	return T(x), nil
}

func (c Concentration) missing(what string) error {
	return fault.Usagef("%s cannot be converted: %s is not known", c, what).Try("give %s, or write the concentration in g/L or mL/L", what)
}

// baseUnit is the unit in which a concentration of the kind is counted.
func baseUnit(kind Dimension) Unit {
	u := Unit{Dimension: kind, num: 1, den: 1}
	switch kind {
	case MassPerVolume:
		u.Symbol = "g/L"
	case VolumePerVolume:
		u.Symbol = "mL/L"
	case MassFraction:
		u.Symbol = "g/g"
	case Molar:
		u.Symbol = "mol/L"
	}
	return u
}
