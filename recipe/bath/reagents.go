package bath

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

func (o *Order) stocks(s *Sheet) error {
	o.reagents = nil
	for _, line := range o.Recipe.Bath.Reagents {
		what, err := reagent.Find(line.Substance)
		if err != nil {
			return err
		}
		supply := o.Supplies[line.Substance]
		stock, err := reagent.NewStock(what, line.Form, supply.Form, supply.Percent, line.Concentration.At.ByVolume)
		if err == nil {
			err = stock.NeedsStrength()
		}
		if err != nil {
			return err
		}
		// Below 10 % a slip of the pen is likelier than such a product, and below 60 % such a solid: common practice, no source.
		if p, solid := stock.Percent, !stock.Shelf.Liquid && !stock.Shelf.StrengthUnknown; p > 0 && p < 60 && solid && stock.Factor > 1 {
			s.Warn("purity-low", "A purity of ", num(p), " % is unusual for ", what.Name, " as ", stock.Shelf.Name, ": of a product of the usual strength the weight on this sheet makes a bath ",
				measure.Figures(stock.Factor, 2), " times too strong. Check the label; for a gel or a solution, add --form.")
		} else if p > 0 && p < 10 {
			s.Warn("purity-low", "A purity of ", num(p), " % is unusual for ", what.Name, ": check the label.")
		}
		step := float64(o.Shop.ReadabilityG)
		if stock.Poured() {
			step = o.Shop.CylinderML
		}
		o.reagents = append(o.reagents, shelved{Stock: stock, Concentration: line.Concentration, Step: step, Source: line.Source})
	}
	return nil
}

type shelved struct {
	reagent.Stock
	Concentration recipe.Range[measure.Concentration]
	Step          float64 // of the balance or the cylinder, in g or mL
	Source        string  // of the concentration
}

func (r shelved) dose(v measure.Liters) reagent.Amount {
	return r.Weigh(r.Concentration.At, r.Concentration.From, r.Concentration.To, v, r.Step)
}

func (o *Order) fromHand(s *Sheet) (measure.Liters, error) {
	r := o.reagents[0]
	shown, density, is, unit := float64(o.Have), float64(r.Shelf.Density), "weighed", "g"
	if r.Poured() {
		density, is, unit = 1/density, "measured by volume", "mL"
	}
	if o.HaveML > 0 {
		shown = o.HaveML.Milliliters()
	}
	if other := r.Poured() != (o.HaveML > 0); other && r.Shelf.Density <= 0 {
		return 0, fault.Usagef("%s is %s here", r.Substance.Name, is).At("--have").Try("give the amount at hand in %s", unit)
	} else if other {
		shown *= density
	}
	have := r.Of(shown)
	v := have.Fills(r.Concentration.At)
	if v > 1000 {
		return 0, fault.Usagef("that amount would make %s of bath", measure.Metric.Volume(v)).At("--have").Try("check the unit")
	}
	s.Step("bath that the reagent makes", "amount at hand / (concentration x form and purity)",
		fmt.Sprintf("%s %s / (%s %s x %s)", num(shown), have.Unit(), num(r.Concentration.At.PerL), r.Concentration.At.Unit(), num(r.Factor)),
		num(v)+" L", "concentration: recipe")
	return v, nil
}

// ReadingFactor is the standard uncertainty of a net weighing in steps of the
// balance: two readings of d/sqrt(12) each (rectangular distribution, GUM 4.3.7).
const ReadingFactor = 0.408

func (o *Order) weighed(s *Sheet, r shelved) ReagentLine {
	v, c, name := measure.Liters(s.Bath.VolumeL), r.Concentration, r.Substance.Name
	exact, taken := r.For(c.At, v), r.dose(v)
	made, step := taken.Makes(v), r.Of(r.Step).Figure()
	line := ReagentLine{Substance: r.Substance.ID, Name: name, Form: r.Shelf.Name, RecipeForm: r.Recipe.Name, PurityPercent: r.Percent,
		FromPerLiter: c.From.PerL, ToPerLiter: c.To.PerL, ReadingPercent: ReadingFactor * r.Step / taken.Shown * 100, Source: r.Source}
	if !r.Poured() {
		line.Grams = &taken.Shown
	}
	if volume, ok := taken.Volume(); ok {
		ml := volume.Milliliters()
		line.Milliliters = &ml
	}
	if r.ByVolume {
		line.MillilitersPerLiter = &made.PerL
	} else {
		line.GramsPerLiter = &made.PerL
	}
	finer := "balance"
	if r.Poured() {
		finer = "cylinder or a pipette"
	}
	if taken.Shown < r.Step { // it could not be rounded
		s.Warn("too-fine", name, ": ", exact.Figure(), " is less than one step of ", step, ". Make a stronger stock and measure from that, or take a finer ", finer, ".")
	}
	unit, form := taken.Unit(), ""
	if r.Factor != 1 {
		form = "form: molar masses and mass percents of " + r.Recipe.Name + " and " + r.Shelf.Name + "; purity: as given; "
	}
	s.Step(name, "concentration x volume x form and purity, to the nearest step of the balance or cylinder",
		fmt.Sprintf("%s %s x %s L x %s = %s %s", num(c.At.PerL), c.At.Unit(), num(v), num(r.Factor), num(exact.Shown), unit),
		fmt.Sprintf("%s %s, which makes %s %s; reading +/- %s %% (k=1)", num(taken.Shown), unit, num(made.PerL), made.Unit(), measure.Figures(line.ReadingPercent, 2)),
		"concentration: recipe; "+form+"reading: 0.408 d, GUM rectangular distribution")
	// One printed figure is met by any dose within 2 % of it.
	if made.PerL < min(c.From.PerL, c.At.PerL*0.98)*(1-1e-9) || made.PerL > max(c.To.PerL, c.At.PerL*1.02)*(1+1e-9) {
		asked := []any{"; the recipe asks for ", c.At}
		if c.To.PerL > c.From.PerL {
			asked = []any{", outside the ", c.From, " to ", c.To, " of the recipe"}
		}
		s.Warn("balance", append(append([]any{name, ": the nearest ", taken.Figure(), " makes ", made}, asked...), ". Take a finer "+finer+" or a larger bath.")...)
	} else if line.ReadingPercent > 5 && taken.Shown >= r.Step {
		s.Warn("balance", name, ": a step of ", step, " on ", taken.Figure(), " leaves the strength uncertain by ",
			measure.Figures(line.ReadingPercent, 2), " %. A finer "+finer+" helps batches to match.")
	}
	if r.Recipe.StrengthUnknown {
		s.Warn("stock-strength", name, " is a ready-made ", r.Recipe.Name, " of unknown strength: the amount follows the recipe, but the next bottle may be stronger or weaker. Ask its maker, or weigh lumps.")
	}
	at := o.Recipe.Bath.Water.At
	limit, known := reagent.SolubilityGPer100g(line.Substance, at)
	if asked := exact.Shown / float64(v); known && !r.Poured() && asked > limit*10 {
		s.Warn("solubility", name, " dissolves to about ", measure.GramsPerLiter(limit*10), " at ", at, "; the bath asks for ",
			measure.GramsPerLiter(asked), ", so some stays at the bottom.")
	}
	return line
}

// Amount reads the amount back. A substance or form that the table does not have, as
// on a sheet of another build, comes back by its id and figure alone.
func (l ReagentLine) Amount() reagent.Amount {
	what, err := reagent.Find(l.Substance)
	if err != nil {
		what = reagent.Substance{ID: l.Substance, Name: l.Name}
	}
	shelf := l.Form
	if shelf == l.RecipeForm {
		shelf = ""
	}
	stock, err := reagent.NewStock(what, l.RecipeForm, shelf, l.PurityPercent, l.MillilitersPerLiter != nil)
	if err != nil {
		stock = reagent.Stock{Substance: what, ByVolume: l.Grams == nil}
	}
	shown := l.Grams
	if stock.Poured() {
		shown = l.Milliliters
	}
	return stock.Of(*cmp.Or(shown, new(float64)))
}

// Makes returns what the amount makes in a liter of bath, within the range of the recipe.
func (l ReagentLine) Makes() recipe.Range[measure.Concentration] {
	made := cmp.Or(l.MillilitersPerLiter, l.GramsPerLiter)
	if made == nil {
		return recipe.Range[measure.Concentration]{}
	}
	of := func(x float64) measure.Concentration {
		return measure.Concentration{PerL: x, ByVolume: l.MillilitersPerLiter != nil}
	}
	return recipe.Range[measure.Concentration]{At: of(*made), From: of(l.FromPerLiter), To: of(l.ToPerLiter)}
}

// Forms returns how each reagent of a sheet stands on the shelf; nil where there is no sheet.
func (s *Sheet) Forms() []string {
	if s == nil {
		return nil
	}
	return mapped(s.Bath.Reagents, func(l ReagentLine) string { return l.Form })
}

// Amounts returns what goes into one bath of a sheet, as weighed and poured.
func (s *Sheet) Amounts() []reagent.Amount {
	return mapped(s.Bath.Reagents, ReagentLine.Amount)
}

// Doses returns what balance and cylinder show for one bath.
func (s *Sheet) Doses() []Dose {
	return mapped(s.Amounts(), dose)
}

// Sum adds up doses of the same substance.
func Sum(doses []Dose) []Dose {
	var sum []Dose
	for _, d := range doses {
		i := slices.IndexFunc(sum, func(had Dose) bool { return had.Substance == d.Substance && had.Unit == d.Unit })
		if i < 0 {
			sum = append(sum, d)
			continue
		}
		sum[i].Amount += d.Amount
	}
	return sum
}

// AllAmounts returns what the whole run weighs and measures of each reagent: the first bath,
// and what is added or mixed anew between loads.
func (s *Sheet) AllAmounts() []reagent.Amount {
	list := s.Amounts()
	for _, e := range s.Events {
		for _, d := range e.Doses {
			if i := slices.IndexFunc(list, func(a reagent.Amount) bool { return a.Substance.ID == d.Substance }); i >= 0 {
				list[i].Shown += d.Amount
			}
		}
	}
	return list
}

// Baths returns how many baths the whole run mixes, at least 1.
func (s *Sheet) Baths() int {
	if s.Run == nil {
		return 1
	}
	return max(s.Run.Totals.Baths, 1)
}

func mapped[T, U any](list []T, of func(T) U) (all []U) {
	for _, one := range list {
		all = append(all, of(one))
	}
	return all
}

// DoubtJar says what is odd about a jar on the shelf, else nothing: a form that no sheet can weigh, or one
// booked in mL whose density nobody knows. "gel 30 %" is a gel.
func DoubtJar(id, form string, byVolume bool) string {
	s, err := reagent.Find(id)
	if err != nil || form == "" {
		return ""
	}
	at := slices.IndexFunc(s.Forms, func(f reagent.Form) bool { return strings.HasPrefix(strings.ToLower(form), strings.ToLower(f.Name)) })
	if at < 0 {
		_, err = s.Form(form)
		return err.Error() + ", and no sheet can weigh it; " + strings.TrimSuffix(fault.CureOf(err), ", or leave the form out for the first")
	}
	if byVolume && s.Forms[at].Density <= 0 {
		return s.Name + " as " + s.Forms[at].Name + " is weighed: book the jar in g, or no sheet can be held against it"
	}
	return ""
}
