package bath

import (
	"fmt"
	"math"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// dose is one reagent of a bath: what the recipe asks for per litre, and what
// must be taken from the shelf for it.
type dose struct {
	line   recipe.Reagent
	what   reagent.Substance
	stated reagent.Form // the form that the recipe speaks of
	shelf  reagent.Form // the form at hand
	// perStated is g of the shelf form for each g of the stated form, or mL for
	// each mL; purity included.
	perStated float64
	percent   float64 // purity given by the user; 0 where none was
	liquid    bool    // the recipe gives mL/L
}

// dose finds what a reagent of the recipe means for the shelf.
func (o *Order) dose(line recipe.Reagent) (dose, error) {
	what, err := reagent.Find(line.Substance)
	if err != nil {
		return dose{}, err
	}
	stated, err := what.Form(line.Form)
	if err != nil {
		return dose{}, err
	}
	supply := o.Supplies[line.Substance]
	shelf := stated
	if supply.Form != "" {
		if shelf, err = what.Form(supply.Form); err != nil {
			return dose{}, asUsage(err, "--form")
		}
	}
	d := dose{line: line, what: what, stated: stated, shelf: shelf, perStated: 1, percent: supply.Percent, liquid: line.Unit == "mL/L"}
	if shelf.StrengthUnknown && supply.Percent == 0 && (supply.Form != "" || !d.liquid) {
		return dose{}, fault.Usagef("the strength of %s as %s is not known", what.Name, shelf.Name).At("--purity").
			Try("ask its maker how many percent it holds and give --purity %s=30%%, or weigh lumps", what.ID)
	}
	if supply.Percent > 0 {
		if shelf.StrengthUnknown || shelf.Liquid {
			shelf.MassPercent = supply.Percent
		} else {
			// The purity of a solid is of the form it is sold as.
			shelf.MassPercent = stated100(shelf) * supply.Percent / 100
		}
	}
	switch {
	case shelf.Name == stated.Name && supply.Percent == 0:
	case shelf.StrengthUnknown:
		d.perStated = 100 / supply.Percent
	case shelf.Formula == "" && stated.Formula == "":
		d.perStated = 100 / supply.Percent
	default:
		// HydrateFactor counts both forms as sold, purity and water included.
		if d.perStated, err = reagent.HydrateFactor(stated, shelf); err != nil {
			return dose{}, asUsage(err, "--form")
		}
	}
	if d.liquid && shelf.Name != stated.Name {
		if shelf.Density <= 0 || stated.Density <= 0 {
			return dose{}, fault.Usagef("%s as %s cannot be turned into %s: a density is not known", what.Name, stated.Name, shelf.Name).At("--form").
				Try("take %s as the recipe says", stated.Name)
		}
		if shelf.Liquid {
			d.perStated *= float64(stated.Density / shelf.Density)
		} else {
			d.perStated *= float64(stated.Density) // now g per mL
			d.liquid = false
		}
	}
	if math.IsNaN(d.perStated) || math.IsInf(d.perStated, 0) || d.perStated <= 0 {
		return dose{}, fault.Usagef("the strength of %s as %s cannot be used", what.Name, shelf.Name).At("--purity").Try("give --purity %s=PERCENT", what.ID)
	}
	return d, nil
}

// stated100 is the mass percent of a form as sold, 100 where the table has none.
func stated100(f reagent.Form) float64 {
	if f.MassPercent > 0 {
		return f.MassPercent
	}
	return 100
}

func asUsage(err error, flag string) error {
	if f, ok := err.(*fault.Error); ok {
		g := *f
		g.Where, g.Kind = flag, fault.Usage
		return &g
	}
	return err
}

// perLiter is the concentration wanted, in g or mL of the shelf form per litre.
func (d dose) perLiter() float64 { return d.line.Concentration.At * d.perStated }

// makes gives the bath that an amount of this reagent makes.
func (d dose) makes(grams measure.Grams, volume measure.Liters) (measure.Liters, error) {
	amount := float64(grams)
	switch {
	case d.liquid && volume > 0:
		amount = volume.Milliliters()
	case d.liquid && grams > 0 && d.shelf.Density > 0:
		amount = float64(grams) / float64(d.shelf.Density)
	case !d.liquid && volume > 0 && d.shelf.Liquid && d.shelf.Density > 0:
		amount = volume.Milliliters() * float64(d.shelf.Density)
	case d.liquid, volume > 0:
		return 0, fault.Usagef("%s is %s here", d.what.Name, map[bool]string{true: "measured by volume", false: "weighed"}[d.liquid]).At("--have").
			Try("give the amount at hand in %s", map[bool]string{true: "mL", false: "g"}[d.liquid])
	}
	v := measure.Liters(amount / d.perLiter())
	if v > 1000 {
		return 0, fault.Usagef("%s would make %s of bath", measure.Metric.Mass(grams), measure.Metric.Volume(v)).At("--have").Try("check the unit")
	}
	return v, nil
}

func (d dose) haveNumbers(grams measure.Grams, volume measure.Liters) string {
	have := num(grams) + " g"
	if volume > 0 {
		have = num(volume.Milliliters()) + " mL"
	}
	return fmt.Sprintf("%s / (%s %s x %s)", have, num(d.line.Concentration.At), d.line.Unit, num(d.perStated))
}

// ReadingFactor is the standard uncertainty of a net weighing in steps of the
// balance: two readings of d/sqrt(12) each (rectangular distribution, GUM 4.3.7).
const ReadingFactor = 0.408

// reagents fills in what to weigh and measure.
func (o *Order) reagents(s *Sheet) error {
	s.Bath.Reagents = []ReagentLine{}
	for _, r := range o.Recipe.Bath.Reagents {
		d, err := o.dose(r)
		if err != nil {
			return err
		}
		line := o.weigh(s, d)
		s.Bath.Reagents = append(s.Bath.Reagents, line)
	}
	return nil
}

func (o *Order) weigh(s *Sheet, d dose) ReagentLine {
	v, c := s.Bath.VolumeL, d.line.Concentration
	line := ReagentLine{Substance: d.what.ID, Name: d.what.Name, Form: d.shelf.Name, PurityPercent: d.percent,
		FromPerLiter: c.From, ToPerLiter: c.To}
	exact := d.perLiter() * v
	step, unit := float64(o.Shop.ReadabilityG), "g"
	if d.liquid {
		step, unit = o.Shop.CylinderML, "mL"
	}
	amount := func(x float64) measure.Figure { return measure.Figure{Value: x, Unit: unit} }
	per := func(x float64) measure.Figure { return measure.Figure{Value: x, Unit: d.line.Unit} }
	taken := intoRange(toStep(exact, step), step, d.perStated*v, c)
	if taken == 0 && exact > 0 {
		s.warn("too-fine", d.what.Name, ": ", amount(exact), " is less than one step of ", amount(step), ". Make a stronger stock and measure from that, or take a finer ",
			map[bool]string{true: "cylinder or syringe", false: "balance"}[d.liquid], ".")
		taken = exact
	}
	results := 0.0
	if v > 0 {
		results = taken / (d.perStated * v)
		line.ReadingPercent = ReadingFactor * step / taken * 100
	}
	if d.liquid {
		line.Milliliters, line.MillilitersPerLiter = &taken, &results
	} else {
		line.Grams, line.GramsPerLiter = &taken, &results
		if d.shelf.Liquid && d.shelf.Density > 0 {
			ml := taken / float64(d.shelf.Density)
			line.Milliliters = &ml
		}
		if d.line.Unit == "mL/L" {
			line.GramsPerLiter, line.MillilitersPerLiter = nil, &results
		}
	}
	s.work(d.what.Name, "concentration x volume x form and purity, to the nearest step of the balance or cylinder",
		fmt.Sprintf("%s %s x %s L x %s = %s %s", num(c.At), d.line.Unit, num(v), num(d.perStated), num(exact), unit),
		fmt.Sprintf("%s %s, which makes %s %s; reading +/- %s %% (k=1)", num(taken), unit, num(results), d.line.Unit, measure.Figures(line.ReadingPercent, 2)),
		"concentration: recipe; "+d.formSource()+"reading: 0.408 d, GUM rectangular distribution")
	if results < c.From*(1-1e-9) || results > c.To*(1+1e-9) {
		s.warn("balance", d.what.Name, ": the nearest ", amount(taken), " makes ", per(results), ", outside the ", per(c.From), " to ", per(c.To),
			" of the recipe. A finer balance, or a larger bath, is needed.")
	} else if line.ReadingPercent > 5 && taken >= step {
		s.warn("balance", d.what.Name, ": a step of ", amount(step), " on ", amount(taken), " leaves the strength uncertain by ",
			measure.Figures(line.ReadingPercent, 2), " %. A finer balance helps batches to match.")
	}
	if d.stated.StrengthUnknown {
		s.warn("stock-strength", d.what.Name, " is a ready-made ", d.stated.Name, " whose strength is not known: the amount follows the recipe, but the next bottle may be stronger or weaker. Ask its maker, or weigh lumps.")
	}
	o.solubility(s, d, exact)
	return line
}

// intoRange moves a weighed amount by one step where rounding alone has carried it
// out of the recipe's range and one step brings it back. perUnit is the amount that
// makes 1 g or mL per litre.
func intoRange(taken, step, perUnit float64, c recipe.Range[float64]) float64 {
	inside := func(x float64) bool { return x >= c.From*perUnit && x <= c.To*perUnit }
	if inside(taken) || perUnit <= 0 {
		return taken
	}
	for _, next := range []float64{toStep(taken+step, step), toStep(taken-step, step)} {
		if inside(next) {
			return next
		}
	}
	return taken
}

// toStep rounds to the nearest whole number of steps, half to even.
func toStep(x, step float64) float64 {
	if step <= 0 {
		return x
	}
	n := math.RoundToEven(x / step)
	// Divide rather than multiply where the step is a decimal fraction, so that
	// 85 steps of 0.1 are 8.5 and not 8.5000000000000007.
	if inverse := math.Round(1 / step); inverse > 1 && math.Abs(inverse*step-1) < 1e-9 {
		return n / inverse
	}
	return n * step
}

func (o *Order) solubility(s *Sheet, d dose, amount float64) {
	if d.liquid || s.Bath.VolumeL <= 0 {
		return
	}
	at := o.Recipe.Bath.Water.At
	limit, ok := reagent.SolubilityGPer100g(d.what.ID, at)
	if ok && amount/s.Bath.VolumeL > limit*10 {
		s.warn("solubility", d.what.Name, " dissolves to about ", measure.GramsPerLiter(limit*10), " at ", at, "; the bath asks for ",
			measure.GramsPerLiter(amount/s.Bath.VolumeL), ", so some stays at the bottom.")
	}
}

// formSource says where the factor for form and purity comes from.
func (d dose) formSource() string {
	if d.perStated == 1 {
		return ""
	}
	return "form: molar masses and mass percents of " + d.stated.Name + " and " + d.shelf.Name + "; purity: as given; "
}
