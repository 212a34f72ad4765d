package reagent

import (
	"cmp"
	"math"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Stock is a substance of a recipe as it stands on the shelf, made by [NewStock].
type Stock struct {
	Substance Substance
	Recipe    Form    // the form that the recipe speaks of
	Shelf     Form    // the form at hand; mass percent and gas yields are those of its purity
	Percent   float64 // purity or strength in percent by mass as given; 0 where nobody gave it
	ByVolume  bool    // the recipe counts it in mL
	Factor    float64 // g or mL on the shelf for one g or mL of the recipe's form, above 0
}

// NewStock returns the stock of a substance whose recipe speaks of one form ("": its default)
// and whose jar holds another ("": that of the recipe). percent is the purity of a solid or
// the strength of a liquid or gel by mass, 0 where not known. byVolume: the recipe counts in
// mL. Errors are of kind Usage and name the flag: an unknown form, a strength or density that
// is needed and not known.
func NewStock(s Substance, recipeForm, shelfForm string, percent float64, byVolume bool) (st Stock, err error) {
	defer func() {
		if f, ok := err.(*fault.Error); ok && f.Where == "" {
			f.At("--form")
		}
	}()
	st = Stock{Substance: s, Percent: percent, ByVolume: byVolume, Factor: 1}
	if st.Recipe, err = s.Form(recipeForm); err != nil {
		return st, err
	}
	if st.Shelf, err = s.Form(cmp.Or(shelfForm, st.Recipe.Name)); err != nil {
		return st, err
	}
	same := st.Shelf.Name == st.Recipe.Name
	if !same {
		if err := st.NeedsStrength(); err != nil {
			return st, err
		}
	}
	st.purify()
	switch {
	case same && (percent == 0 || st.Recipe.StrengthUnknown): // the recipe counts what is in the jar
	case st.Shelf.Formula == "" && st.Recipe.Formula == "":
		st.Factor = 100 / percent
	default:
		if st.Factor, err = HydrateFactor(st.Recipe, st.Shelf); err != nil {
			return st, err
		}
	}
	if byVolume && !same {
		if st.Recipe.Density <= 0 || st.Shelf.Liquid && st.Shelf.Density <= 0 {
			return st, fault.Usagef("%s as %s cannot be turned into %s: a density is not known", s.Name, st.Recipe.Name, st.Shelf.Name).
				Try("take %s as the recipe says", st.Recipe.Name)
		}
		st.Factor *= float64(st.Recipe.Density)
		if st.Shelf.Liquid {
			st.Factor /= float64(st.Shelf.Density)
		}
	}
	if !positive(st.Factor) {
		return st, fault.Usagef("the strength of %s as %s cannot be used", s.Name, st.Shelf.Name).At("--purity").Try("give --purity %s=PERCENT", s.ID)
	}
	return st, nil
}

// purify makes the shelf form one of the given purity: its content and the gas it frees.
func (s *Stock) purify() {
	if !(s.Percent > 0) {
		return
	}
	f, usual := &s.Shelf, s.Substance.Forms[0]
	// The strength is of the substance itself, so the usual product says what to expect.
	if f.StrengthUnknown && f.GasExpected == 0 && !usual.StrengthUnknown {
		f.GasExpected = usual.GasExpected
	}
	holds := cmp.Or(f.MassPercent, 100)
	share := s.Percent / 100
	if f.Liquid { // its strength, where the percent of a solid is its purity
		share = s.Percent / holds
	}
	f.MassPercent = holds * share
	f.GasUpper *= share
	f.GasExpected *= share
}

// NeedsStrength returns an error of kind Usage where the strength of the jar is not known and
// the recipe asks for grams of the substance itself.
func (s Stock) NeedsStrength() error {
	if !s.Shelf.StrengthUnknown || s.Percent != 0 || s.ByVolume {
		return nil
	}
	return fault.Usagef("the strength of %s as %s is not known", s.Substance.Name, s.Shelf.Name).At("--purity").
		Try("ask its maker how many percent it holds and give --purity 30%%, or weigh lumps")
}

// Poured tells that the cylinder measures it; otherwise the balance weighs it.
func (s Stock) Poured() bool {
	return s.ByVolume && (s.Shelf.Liquid || s.Shelf.Name == s.Recipe.Name)
}

// Unit returns "mL" of what is poured and "g" of what is weighed.
func (s Stock) Unit() string { return measure.Concentration{ByVolume: s.Poured()}.Counted() }

// Of returns an amount of the stock in its own unit, g or mL, 0 or more.
func (s Stock) Of(shown float64) Amount { return Amount{s, shown} }

// For returns, unrounded, what makes a volume of bath of a concentration of the recipe's form.
func (s Stock) For(c measure.Concentration, v measure.Liters) Amount {
	return s.Of(c.PerL * s.Factor * float64(v))
}

// Weigh returns [Stock.For] to the nearest whole number of steps of balance or cylinder, half
// to even. If rounding alone carries it out of the range, it takes the step beside it that
// lies inside. A step of 0 rounds nothing; less than half a step keeps two figures.
func (s Stock) Weigh(at, from, to measure.Concentration, v measure.Liters, step float64) Amount {
	exact, low, high := s.For(at, v).Shown, s.For(from, v).Shown, s.For(to, v).Shown
	shown := ToStep(exact, step)
	for _, near := range []float64{shown, ToStep(shown+step, step), ToStep(shown-step, step)} {
		if near >= low && near <= high {
			shown = near
			break
		}
	}
	if shown <= 0 && exact > 0 {
		shown = ToStep(exact, math.Pow(10, math.Floor(math.Log10(exact))-1))
	}
	return s.Of(shown)
}

// ToStep rounds to whole steps, half to even. A step of 0 rounds nothing.
func ToStep(x, step float64) float64 {
	if step <= 0 {
		return x
	}
	n := math.RoundToEven(x / step)
	// Dividing makes 85 steps of 0.1 8.5, and not 8.5000000000000007.
	if inverse := math.Round(1 / step); inverse > 1 && math.Abs(inverse*step-1) < 1e-9 {
		return n / inverse
	}
	return n * step
}

// Amount is what balance or cylinder shows of a stock.
type Amount struct {
	Stock
	Shown float64 // g, or mL where the stock is poured
}

// Figure returns the amount with its unit, for a sentence.
func (a Amount) Figure() measure.Figure { return measure.Figure{Value: a.Shown, Unit: a.Unit()} }

// Makes returns the concentration of the recipe's form in a volume of bath above 0.
func (a Amount) Makes(v measure.Liters) measure.Concentration {
	return measure.Concentration{PerL: a.Shown / a.Factor / float64(v), ByVolume: a.ByVolume}
}

// Fills returns the bath that the amount makes at a concentration above 0.
func (a Amount) Fills(c measure.Concentration) measure.Liters {
	return measure.Liters(a.Shown / a.Factor / c.PerL)
}

// Mass returns the grams on the shelf, with crystal water; false if poured, density unknown.
func (a Amount) Mass() (measure.Grams, bool) {
	if !a.Poured() {
		return measure.Grams(a.Shown), true
	}
	return measure.Grams(a.Shown * float64(a.Shelf.Density)), a.Shelf.Density > 0
}

// Volume returns the volume on the shelf; false for a solid and where the density is unknown.
func (a Amount) Volume() (measure.Liters, bool) {
	if a.Poured() {
		return measure.Liters(a.Shown / 1000), true
	}
	if !a.Shelf.Liquid || a.Shelf.Density <= 0 {
		return 0, false
	}
	return measure.Liters(a.Shown / float64(a.Shelf.Density) / 1000), true
}

// SulfideSulfur returns the sulfur present as sulfide, as expected of the common product: from
// the gas that acid would free. It is 0 for no sulfide, and where mass or yield is not known.
func (a Amount) SulfideSulfur() measure.Grams {
	mass, ok := a.Mass()
	if !ok || !a.Substance.In(Sulfide) {
		return 0
	}
	_, expected, _ := a.Shelf.GasFreed(mass)
	return expected / H2SPerSulfur
}

func positive(x float64) bool { return x > 0 && !math.IsInf(x, 0) }
