package bath

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath/plan"
	drag "hepar/recipe/bath/rinse"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

const (
	// LeastShownG is the least neutraliser worth a line, in g: below a milligram the
	// rinses have left nothing to weigh for.
	LeastShownG = 0.001
	// NeutraliserExcess is what is added to the stoichiometric least. 10 to 25 %
	// is common practice, no published source; the upper end is taken.
	NeutraliserExcess = 1.25
)

// rinses lists the helper baths beside the finish, in the order of the steps. A
// rinse tub is taken as large as the bath: common practice, no source.
func (o *Order) rinses(s *Sheet) error {
	volume := s.Bath.VolumeL
	if o.Recipe.Kind.Coated() {
		volume = 0
	}
	var acid reagent.Amount // in a liter of what clings to the metal; nothing where no acid was met
	if o.Recipe.Kind == recipe.Pickle {
		o.spentPickle(s)
	}
	dipped, hot := false, measure.Liters(s.Bath.Water.HotL)
	var beside []any
	for i, step := range o.Recipe.Steps {
		r := Rinse{Step: i + 1, Do: step.Do, Baths: max(step.Baths, 1), Running: step.Running, VolumeL: volume, Note: step.Note}
		switch step.Do {
		case "dip":
			dipped = true
			if o.Recipe.Kind == recipe.Pickle {
				acid = o.reagents[0].For(o.reagents[0].Concentration.At, 1)
			}
			continue
		case "rinse":
			if s.Run != nil { // what running water would do in the place of the tubs
				perMinute := o.carried(s) / s.Run.Totals.Minutes
				r.CounterTubs = max(r.Baths, 2)
				r.RunningLMin, r.CounterLMin = drag.CounterFlow(1/RinseShare, 1)*perMinute, drag.CounterFlow(1/RinseShare, r.CounterTubs)*perMinute
				s.Step(fmt.Sprintf("running rinse in place of step %d", r.Step), "Q = D (C0/C - 1); in counter-flow C/C0 = (q - 1)/(q^(n+1) - 1), q = Q/D",
					fmt.Sprintf("D %s L/min dragged out, C0/C %s, n %d", num(perMinute), num(1/RinseShare), r.CounterTubs),
					num(r.RunningLMin)+" L/min in one tub, "+num(r.CounterLMin)+fmt.Sprintf(" L/min through %d, in counter-flow", r.CounterTubs), "ideal mixing; drag-out: as assumed or from the shop file")
			}
			if at := step.Water.At; step.HasWater && !step.Running && volume > 0 && at > o.Shop.Ambient+plan.ColdOver {
				share, _, _ := reagent.HotCold(1, o.Shop.HotWater, o.Shop.ColdWater, at)
				hot += measure.Liters(float64(share) * volume * float64(r.Baths))
				beside = append(beside, measure.Liters(volume*float64(r.Baths)), " of water at ", at, fmt.Sprintf(" for step %d; ", r.Step))
			}
			// A running rinse is counted as one that stays clean, to a hundredth.
			if row := (drag.Row{Volume: measure.Liters(volume), Tubs: r.Baths}); step.Running {
				acid.Shown *= RinseShare
			} else if volume > 0 {
				acid.Shown *= float64(row.Dip(1, measure.Liters(o.carried(s))))
			}
		case "pickle", "neutralise":
			what, unknown := reagent.Find(step.With)
			stock, err := reagent.NewStock(what, "", "", 0, step.Concentration.At.ByVolume) // in its usual form
			if err := cmp.Or(unknown, err); err != nil {
				return err
			}
			r.Substance = step.With
			if a := stock.For(step.Concentration.At, measure.Liters(volume)); a.Shown > 0 && !a.Poured() {
				grams := reagent.ToStep(a.Shown, float64(o.Shop.ReadabilityG))
				r.Grams = &grams
				if volume > 0 {
					beside = append(beside, a.Of(grams).Figure(), " of "+what.Name+" in ", measure.Liters(volume), fmt.Sprintf(" for step %d; ", r.Step))
				}
			}
			if step.Do == "pickle" {
				acid = stock.For(step.Concentration.At, 1)
				break
			}
			r.LeastGrams = o.leastFor(s, acid, stock)
			acid = reagent.Amount{}
		default:
			continue
		}
		s.Rinses = append(s.Rinses, r)
		if s.Run == nil || r.Running {
			continue
		}
		water := float64(r.Baths) * r.VolumeL
		s.Run.Totals.WaterL += water
		if dipped {
			s.Run.Totals.WasteL += water
		}
	}
	if len(beside) > 0 {
		s.Ready = append(s.Ready, measure.Say(append([]any{"beside the bath: "}, append(beside[:len(beside)-1], strings.TrimSuffix(beside[len(beside)-1].(string), "; "))...)...))
	}
	all := measure.Say(hot, " of water at ", o.Shop.HotWater, " in all")
	if s.Bath.Water.HotL == 0 {
		all = measure.Say(hot, " of water at ", o.Shop.HotWater, " for the rinse")
	} else if float64(hot) > s.Bath.Water.HotL {
		all = measure.Say(all, ", with that of the rinse")
	}
	kettle, assumed := o.Heat.Liters, ""
	if kettle == 0 {
		kettle, assumed = plan.DefaultKettle, " (assumed)"
	}
	if o.Heat.Kind == plan.Kettle && hot > kettle {
		s.Ready = append(s.Ready, measure.Say(all, ": boil a kettle of ", kettle, assumed, " ", int(math.Ceil(float64(hot/kettle))), " times"))
	} else if float64(hot) > s.Bath.Water.HotL {
		s.Ready = append(s.Ready, all)
	}
	return nil
}

func (o *Order) carried(s *Sheet) float64 { return float64(drag.Carried(s.MetalAreaDM, o.Shop.Drain)) } // L

// RinseShare is what may cling behind a rinse, as a part of the bath: a hundredth.
// Assumed, common practice, no published source.
const RinseShare = 0.01

// leastFor returns the least neutraliser for the acid that clings to the batch. acid is
// what one liter on the metal holds. It is nil where nothing worth weighing is left, and
// where the equivalents are not known: no figure rather than a guess.
func (o *Order) leastFor(s *Sheet, acid reagent.Amount, base reagent.Stock) *float64 {
	perLiter, ok := acid.Mass()
	if !ok || !(acid.Shown > 0) {
		return nil
	}
	grams, _, ok := reagent.NeutralizerGrams(acid.Substance, acid.Shelf, perLiter*measure.Grams(o.carried(s)), base.Substance, base.Shelf)
	if !ok || grams < LeastShownG {
		return nil
	}
	least := float64(grams)
	s.Step("neutraliser for the acid carried over", "area x drag-out x acid left x equivalents",
		fmt.Sprintf("%s dm2 x %s mL/m2 x %s g/L of %s", num(s.MetalAreaDM), num(o.Shop.Drain), num(perLiter), acid.Substance.Name),
		num(least)+" g of "+base.Substance.Name+" at least", "stoichiometry from the molar masses; drag-out from memory")
	return &least
}

func (o *Order) spentPickle(s *Sheet) {
	base, err := reagent.Find("sodium-bicarbonate")
	acid := o.reagents[0].dose(measure.Liters(s.Bath.VolumeL))
	mass, known := acid.Mass()
	if err != nil || !known {
		return
	}
	grams, co2, ok := reagent.NeutralizerGrams(acid.Substance, acid.Shelf, mass, base, base.Forms[0])
	if !ok {
		return // not an acid with known equivalents: no figure rather than a guess
	}
	least, with := float64(grams), reagent.ToStep(float64(grams)*NeutraliserExcess, float64(o.Shop.ReadabilityG))
	s.Rinses = append(s.Rinses, Rinse{Do: "spent bath", Baths: 1, VolumeL: s.Bath.VolumeL, Substance: base.ID, Grams: &with, LeastGrams: &least,
		FoamG: float64(co2), Note: "for the acid of a fresh bath, with a quarter more than the least; add little by little in a vessel twice as large. Only where your local authority lets you treat it; collect pickle that has met copper."})
	s.Step("soda for the spent pickle", "acid x equivalents, and a quarter more",
		fmt.Sprintf("%s g of %s", num(mass), acid.Substance.Name), num(least)+" g at least, "+num(with)+" g with the excess", "stoichiometry from the molar masses; excess 10 to 25 %: common practice, no source")
}

// In says what is in the bath, in the units of a reader.
func (r Rinse) In(u measure.System) string {
	flow := func(l float64) string { return u.Liquid(measure.Liters(l)) + " a minute" }
	if r.Substance == "" && r.Running && r.RunningLMin > 0 {
		return fmt.Sprintf("water; or running, %s, or %s in counter-flow through %d tubs", flow(r.RunningLMin), flow(r.CounterLMin), r.CounterTubs)
	} else if r.Substance == "" {
		return "water"
	}
	text := r.Substance
	if what, err := reagent.Find(r.Substance); err == nil {
		text = what.Name
	}
	if r.Grams != nil {
		text = u.Scale(measure.Grams(*r.Grams)) + " of " + text
	}
	if r.LeastGrams != nil {
		text += "; at least " + u.Of(*r.LeastGrams, "g") + " for the acid"
	}
	if r.Note != "" {
		text += "; " + strings.TrimSuffix(r.Note, ".")
	}
	if r.FoamG > 0 {
		text += "; about " + u.Of(r.FoamG, "g") + " of carbon dioxide foams off"
	}
	return text
}
