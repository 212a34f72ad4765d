package bath

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath/yield"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// spares finds the spares that a yield asks for.
func (o *Order) spares() error {
	if o.Yield == 0 {
		return nil
	}
	o.Confidence = cmp.Or(o.Confidence, yield.Usual)
	o.Kinds = slices.Clone(o.Kinds)
	for i := range o.Kinds {
		k := &o.Kinds[i]
		start, err := yield.Start(k.Pieces, o.Yield, o.Confidence)
		if err != nil {
			return err
		}
		if k.Spares > 0 {
			return fault.Usagef("--yield works out the spares, and %s given", measure.Counted(k.Spares, "spare is", "spares are")).At("--yield").
				Try("leave out one of the two, --yield or the spares")
		}
		k.Spares = (start+o.Group-1)/o.Group*o.Group - k.Pieces
		o.advice = append(o.advice, fmt.Sprintf("start %d to have %d good", start, k.Pieces))
	}
	return nil
}

func (o *Order) work(s *Sheet) {
	if len(o.advice) > 0 {
		s.StartAdvice = fmt.Sprintf("%s, with %s %% confidence at a yield of %s %%", strings.Join(o.advice, ", "), num(o.Confidence*100), num(o.Yield*100))
		s.Step("pieces to start", "smallest n with P(at least N good of n) >= confidence, binomial",
			fmt.Sprintf("N %d, yield %s, confidence %s", o.Kinds[0].Pieces, num(o.Yield), num(o.Confidence)), s.StartAdvice, "binomial distribution; yield: as given")
	}
	if o.Yield > 0 && o.Yield < 0.5 {
		s.Warn("yield", "At a yield of "+num(o.Yield*100)+" % more pieces are spoiled than come out good: ", s.Spares, " spares for ", s.Pieces,
			" pieces. Find the cause on a few pieces first; if the figure is wrong, correct --yield.")
	}
	has := func(do string) bool {
		return slices.ContainsFunc(o.Recipe.Steps, func(step recipe.Step) bool { return step.Do == do })
	}
	job := yield.Job{Started: o.Count(), Good: s.Pieces, Relief: has("relieve"), Seal: has("seal"), ByMachine: o.ByMachine,
		LabourPerHour: o.Shop.LabourPerHour, AreaDM: s.MetalAreaDM}
	for _, a := range s.AllAmounts() {
		if a.Unit() == "g" {
			job.Reagents += a.Shown / 1000 * o.Shop.PricePerKG[a.Substance.ID]
		}
	}
	if s.Run != nil {
		job.Bath, job.WarmUp = s.Run.Totals.Minutes, s.Run.WarmMin
	} else if c := s.Coats; c != nil {
		job.Coats = c.Number
	}
	if o.Yield > 0 {
		job.Rework = float64(o.Count()) * (1 - o.Yield)
	}
	bill := yield.Total(job, o.Shop.Minutes)
	s.Work = &bill
}
