package bath

import (
	"fmt"

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
	if !Immersed(o.Recipe) {
		volume = 0
	}
	acid, acidPerLiter := "", 0.0 // the acid last met, and its strength on the metal
	if o.Recipe.Kind == recipe.Pickle {
		if err := o.spentPickle(s); err != nil {
			return err
		}
	}
	for i, step := range o.Recipe.Steps {
		r := Rinse{Step: i + 1, Do: step.Do, Baths: max(step.Baths, 1), Running: step.Running, VolumeL: volume, Note: step.Note}
		switch step.Do {
		case "dip":
			if o.Recipe.Kind == recipe.Pickle {
				first := o.Recipe.Bath.Reagents[0]
				acid, acidPerLiter = first.Substance, first.Concentration.At
			}
			continue
		case "rinse":
			o.flows(s, &r)
			acidPerLiter *= diluted(o.carried(s), volume, r.Baths, step.Running)
		case "pickle":
			grams := step.Concentration.At * volume
			r.Substance = step.With
			acid, acidPerLiter = step.With, step.Concentration.At
			if grams > 0 && step.Unit == "g/L" {
				grams = toStep(grams, float64(o.Shop.ReadabilityG))
				r.Grams = &grams
			}
		case "neutralise":
			r.Substance = step.With
			if grams := step.Concentration.At * volume; grams > 0 && step.Unit == "g/L" {
				grams = toStep(grams, float64(o.Shop.ReadabilityG))
				r.Grams = &grams
			}
			if acid != "" && acidPerLiter > 0 {
				least, err := o.carriedAcid(s, acid, acidPerLiter, step.With)
				if err != nil {
					return err
				}
				r.LeastGrams = least
			}
			acid, acidPerLiter = "", 0
		default:
			continue
		}
		s.Rinses = append(s.Rinses, r)
	}
	return nil
}

// carried is the liquid that clings to all pieces of the batch, in L.
func (o *Order) carried(s *Sheet) float64 { return float64(drag.Carried(s.MetalAreaDM, o.drain())) }

// drain is how the pieces drain; poorly where nobody says, so that the
// neutraliser is not too little.
func (o *Order) drain() measure.MillilitersPerSquareM {
	if o.Shop.Drain > 0 {
		return o.Shop.Drain
	}
	return drag.Poor
}

// RinseShare is what may cling behind a rinse, as a part of the bath: a hundredth.
// Assumed, common practice, no published source.
const RinseShare = plan.DefaultRinseShare

// flows finds what running water would do in the place of the tubs of a rinse.
func (o *Order) flows(s *Sheet, r *Rinse) {
	if s.Run == nil || s.Run.Totals.Minutes <= 0 {
		return
	}
	perMinute := measure.Liters(o.carried(s) / s.Run.Totals.Minutes)
	one, err := drag.Running(1, RinseShare, perMinute)
	if err != nil {
		return
	}
	r.RunningLMin, r.CounterTubs = one, max(r.Baths, 2)
	if r.CounterLMin, err = drag.Against(1, RinseShare, perMinute, r.CounterTubs); err != nil {
		r.CounterLMin, r.CounterTubs = 0, 0
	}
	s.work(fmt.Sprintf("running rinse in place of step %d", r.Step), "Q = D (C0/C - 1); against the work C/C0 = (q - 1)/(q^(n+1) - 1), q = Q/D",
		fmt.Sprintf("D %s L/min dragged out, C0/C %s, n %d", num(perMinute), num(1/RinseShare), r.CounterTubs),
		num(r.RunningLMin)+" L/min in one tub, "+num(r.CounterLMin)+" L/min through all", "ideal mixing; drag-out: as assumed or from the shop file")
}

// diluted is the share of what clings to the metal that is left after rinses of
// the given volume, all pieces of the batch having gone through. A running rinse
// is reckoned as one that stays clean, to a hundredth.
func diluted(carriedL, volumeL float64, baths int, running bool) float64 {
	if running {
		return 0.01
	}
	row, err := drag.NewRow(measure.Liters(volumeL), baths)
	if err != nil {
		return 1
	}
	return float64(row.Dip(1, measure.Liters(carriedL)))
}

// carriedAcid is the least neutraliser for the acid that clings to the batch.
func (o *Order) carriedAcid(s *Sheet, acidID string, perLiter float64, with string) (*float64, error) {
	acid, base, ok := pair(acidID, with)
	if !ok {
		return nil, nil
	}
	carried := drag.AcidCarried(s.MetalAreaDM, o.drain(), measure.GramsPerLiter(perLiter))
	grams, _, err := neutralise(acid, "", carried, base)
	if err != nil {
		return nil, nil // not an acid with known equivalents: no figure rather than a guess
	}
	least := float64(grams)
	if least < LeastShownG {
		return nil, nil
	}
	s.work("neutraliser for the acid carried over", "area x drag-out x acid left x equivalents",
		fmt.Sprintf("%s dm2 x %s mL/m2 x %s g/L of %s", num(s.MetalAreaDM), num(o.drain()), num(perLiter), acid.Name),
		num(least)+" g of "+base.Name+" at the least", "stoichiometry from the molar masses; drag-out from memory")
	return &least, nil
}

// spentPickle says what would bring a spent pickle to neutral.
func (o *Order) spentPickle(s *Sheet) error {
	first := s.Bath.Reagents[0]
	if first.Grams == nil {
		return nil
	}
	acid, base, ok := pair(first.Substance, "sodium-bicarbonate")
	if !ok {
		return nil
	}
	grams, co2, err := neutralise(acid, first.Form, measure.Grams(*first.Grams), base)
	if err != nil {
		return nil
	}
	least, with := float64(grams), toStep(float64(grams)*NeutraliserExcess, float64(o.Shop.ReadabilityG))
	s.Rinses = append(s.Rinses, Rinse{Do: "spent bath", Baths: 1, VolumeL: s.Bath.VolumeL, Substance: base.ID, Grams: &with, LeastGrams: &least,
		FoamG: float64(co2), Note: "for the acid of a fresh bath, with a quarter more than the least; add little by little in a vessel twice as large. Only where your local authority lets you treat it; pickle that has met copper is collected."})
	s.work("soda for the spent pickle", "acid x equivalents, and a quarter more",
		fmt.Sprintf("%s g of %s", num(*first.Grams), acid.Name), num(least)+" g at the least, "+num(with)+" g with the excess", "stoichiometry from the molar masses; excess 10 to 25 %: common practice, no source")
	return nil
}

func pair(acid, base string) (a, b reagent.Substance, ok bool) {
	a, errA := reagent.Find(acid)
	b, errB := reagent.Find(base)
	return a, b, errA == nil && errB == nil
}

// neutralise is [reagent.NeutralizerGrams] with the forms by name, the base in
// its default form.
func neutralise(acid reagent.Substance, form string, mass measure.Grams, base reagent.Substance) (grams, co2 measure.Grams, err error) {
	acidForm, err := acid.Form(form)
	if err != nil {
		return 0, 0, err
	}
	baseForm, err := base.Form("")
	if err != nil {
		return 0, 0, err
	}
	return reagent.NeutralizerGrams(acid, acidForm, mass, base, baseForm)
}
