package bath

import (
	"fmt"
	"math"

	"hepar/recipe"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/plan"
	drag "hepar/recipe/bath/rinse"
	"hepar/recipe/bath/yield"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// Measured is a dip time that came out right at this bench.
type Measured struct {
	Time     measure.Seconds `json:"time_s"`
	At       measure.Celsius `json:"temperature_c"`
	Strength float64         `json:"strength"` // against the recipe's; 1 if it is not known
	Source   string          `json:"source"`   // "12 March, batch 2026-031"
	Readings int             `json:"readings"` // how many it rests on
}

// MeasuredDoubt is the factor between which the right time lies once it was measured
// here: a wetter day, another eye. Assumed.
const MeasuredDoubt = 1.25

func (o *Order) loads(s *Sheet) error {
	s.Bath.Reagents = mapped(o.reagents, func(r shelved) ReagentLine { return o.weighed(s, r) })
	if o.Recipe.Kind.Coated() {
		return nil
	}
	run := o.run(s)
	p, err := plan.Make(run)
	if err != nil {
		return err
	}
	s.Loads, s.Match = p.Loads, &p.Match
	for _, e := range p.Events {
		s.Events = append(s.Events, o.eventLine(s, e))
	}
	s.Run = &RunLine{Course: p.Course, AmbientC: float64(o.Shop.Ambient), Better: plan.Compare(run, p), Moves: plan.Sensitive(run, p, 3)}
	s.Run.HeatW = run.Heat.Watts
	if p.StartC >= 95 {
		s.Warn("near-boiling", "At ", s.Start(), " the bath nearly boils: it steams off fast and carries gas with it.", o.neverBoil())
	}
	if s.Match.Verdict == plan.NotKnown && p.EndC < s.Bath.FromC-0.5 {
		s.Warn("colder-than-known", "The bath falls to ", measure.Celsius(math.Round(p.EndC)), ", and the dip time is not known below ", measure.Celsius(s.Bath.FromC), ": heat it, or try one piece before the last loads.")
	}
	if run.Law.Known() {
		if s.Run.Law, s.Run.Measured = &run.Law, o.Measured; o.Measured != nil {
			s.Run.BookS = float64(o.Recipe.Dip.Time.At)
		}
	}
	s.Warnings, s.Assumptions = append(s.Warnings, p.Warnings...), append(s.Assumptions, p.Assumptions...)
	s.Working = append(s.Working, p.Working...)
	if o.Explain > len(p.Loads) {
		return fault.Usagef("there is no load %d: the plan has %d", o.Explain, len(p.Loads)).At("--explain").Try("give a load from 1 to %d", len(p.Loads))
	}
	return nil
}

func (o *Order) run(s *Sheet) plan.Run {
	r, shop := o.Recipe, o.Shop
	first := o.reagents[0]
	run := plan.Run{
		Asked: o.Asked, MaxLoad: r.Bath.MaxLoad, Pace: shop.Pace, Water: r.Bath.Water, WorksDownTo: r.Bath.WorksDownTo, Weakest: r.Bath.Weakest,
		Drain: shop.Drain, Air: shop.Air, MixedAt: o.mixedAt(),
	}
	run.Volume, run.Heat.Water = measure.Liters(s.Bath.VolumeL), shop.HotWater
	o.beside(&run)
	if o.Rack > 0 {
		run.Transfer = plan.OnRacks
	}
	if r.Dip != nil {
		run.Dip, run.Window = r.Dip.Time, r.Dip.Window
	}
	if shop.Known["match.limit"] {
		run.Window = recipe.Window{Short: shop.MatchPercent / 100, Long: shop.MatchPercent / 100}
	}
	others, room := o.besideWater(s)
	for _, part := range others {
		run.Bulk += float64(part.MassG) * part.SpecificHeat
	}
	run.Room = room
	run.Bulk -= float64(run.Room) * 4180 // J/K of the water that is not there
	run.Most = min(max(r.Bath.Water.To, r.Bath.Water.At), o.hottest(s))
	run.Strength = s.Bath.Reagents[0].Makes().At.PerL / first.Concentration.At.PerL
	run.Strongest = first.Concentration.To.PerL / first.Concentration.At.PerL
	if helper := r.Kind == recipe.Pickle || r.Kind == recipe.Stop; !helper && first.Substance.In(reagent.Sulfide) && r.Dip != nil {
		o.sulfide(s, &run)
	}
	return run
}

// sulfide gives the run the law of a sulfide bath. Other baths have none.
func (o *Order) sulfide(s *Sheet, run *plan.Run) {
	v, dip := run.Volume, o.Recipe.Dip.Time
	prior := kinetics.Silver
	if o.Kinds[0].Piece.Alloy.Family != "silver" {
		prior = kinetics.Copper
	}
	run.Fade = kinetics.LiverFade
	full := o.reagents[0].For(o.reagents[0].Concentration.At, v)
	if at := o.reagents[0].Concentration.At; !at.ByVolume {
		run.Reagent = at.PerL * float64(v) // the reagent itself: what dilutes it on the shelf loses nothing
	} else if mass, ok := full.Mass(); ok {
		run.Reagent = float64(mass)
	}
	run.Sulfur = float64(full.SulfideSulfur()) / float64(v)
	const h = plan.Handling // the recipe's time is that in the bath
	run.Law = kinetics.Law{T0: dip.At + h, At: o.Recipe.Bath.Water.At, Strength: 1, Prior: prior,
		Low: min(float64((dip.From+h)/(dip.At+h)), 1/prior.Makers), High: max(float64((dip.To+h)/(dip.At+h)), prior.Makers)}
	if m := o.Measured; m != nil {
		run.Law.T0, run.Law.At, run.Law.Strength = m.Time+plan.Handling, m.At, m.Strength
		run.Law.Low, run.Law.High = 1/MeasuredDoubt, MeasuredDoubt
	}
	s.Assume("doubt in the dip time, a factor", prior.Makers, "", "assumed: times of different makers; it and the next two give the dip-time range")
	s.Assume("activation energy", prior.EaKJ, "kJ/mol", prior.Source)
	s.Assume("order in the strength", prior.Order, "", prior.Source)
	s.Assume("lifting, draining and moving to the rinse", plan.Handling, "s", "assumed: common practice, no source")
	s.Assume("strength lost to air", kinetics.LiverFade, "g/(m2 h)", "assumed: computed from constants from memory, good to a factor of 2.5; two to three times that while dipping")
	s.Assume("film of a full black", prior.Film.NM, "nm", "assumed: no published thickness")
}

// beside finds what stands beside the dip: the pieces go in as warm as the rinse before, if
// the recipe gives it a temperature, else as the room; behind it there may be a row of tubs.
func (o *Order) beside(run *plan.Run) {
	run.MetalIn = o.Shop.Ambient
	for i, step := range o.Recipe.Steps {
		switch {
		case step.Do == "dip":
			if next := o.Recipe.Steps[i+1:]; len(next) > 0 && next[0].Do == "rinse" && !next[0].Running {
				run.Rinse = drag.Row{Tubs: max(next[0].Baths, 1), Volume: run.Volume}
			}
			return
		case step.Do != "rinse" && step.Do != "neutralise":
		case step.HasWater:
			run.MetalIn = step.Water.At
		default:
			run.MetalIn = o.Shop.Ambient
		}
	}
}

// EventLine is an event of the plan with what is then weighed, and the sentence that says it.
type EventLine struct {
	plan.Event
	Doses []Dose `json:"doses,omitempty"`
	measure.Note
}

// Dose is what balance or cylinder shows of one reagent, of the form on the shelf.
type Dose struct {
	Substance string  `json:"substance"`
	Name      string  `json:"name"`
	Form      string  `json:"form"`
	Amount    float64 `json:"amount"`
	Unit      string  `json:"unit"` // "g" or "mL"
}

func dose(a reagent.Amount) Dose {
	return Dose{Substance: a.Substance.ID, Name: a.Substance.Name, Form: a.Shelf.Name, Amount: a.Shown, Unit: a.Unit()}
}

// eventLine weighs what an event adds; to strengthen, of the limiting reagent alone.
func (o *Order) eventLine(s *Sheet, e plan.Event) EventLine {
	line := EventLine{Event: e}
	var doses []any
	for i, full := range s.Amounts() {
		if e.Share == 0 || e.Do == plan.Strengthen && i > 0 {
			break
		}
		shown := reagent.ToStep(full.Shown*e.Share, o.reagents[i].Step)
		if e.Share == 1 || shown <= 0 {
			shown = full.Shown * e.Share
		}
		full = full.Of(shown)
		if i > 0 {
			doses = append(doses, ", ")
		}
		line.Doses, doses = append(line.Doses, dose(full)), append(doses, full.Figure(), " of ", full.Substance.Name)
	}
	line.Note = e.Note(measure.Say(doses...))
	return line
}

// RunLine is the run as a whole, and what it rests on.
type RunLine struct {
	plan.Course
	Better   *plan.Better  `json:"better,omitempty"`
	Moves    []plan.Move   `json:"moves,omitempty"` // the assumptions that move this plan most
	Measured *Measured     `json:"measured_here,omitempty"`
	BookS    float64       `json:"book_s,omitempty"` // the recipe's time, where Measured took its place
	AmbientC float64       `json:"ambient_c"`
	Law      *kinetics.Law `json:"dip_time_law,omitempty"` // film time: it counts on from out to the rinse
}

// BathLife is how long a bath of the plan is used at the most, from mixing on, up to the next
// quarter of an hour; 0 where there is no run. A bath is mixed fresh for each order.
func (s *Sheet) BathLife() measure.Seconds {
	if s.Run == nil || s.Run.Law == nil { // what a pickle or a stop holds up to, no clock tells
		return 0
	}
	minutes, mixed := 0.0, 0.0
	for _, e := range s.Events {
		if e.Do == plan.FreshBath {
			minutes, mixed = max(minutes, e.AtMin-mixed), e.AtMin
		}
	}
	minutes = max(minutes, s.Run.Totals.Minutes-mixed)
	return measure.Seconds(math.Ceil((minutes+yield.Default[yield.Setup])/15) * 15 * 60)
}

// Sentence says in one sentence how well the run matches and what it takes.
func (s *Sheet) Sentence() measure.Note {
	m, r := s.Match, s.Run
	if m == nil || r == nil {
		return measure.Note{}
	}
	time := measure.Round(r.Totals.Minutes*60, 0) + " s"
	if r.Totals.Minutes >= 1 {
		time = yield.Figure(r.Totals.Minutes) + " min"
	}
	takes := fmt.Sprintf("%s, %s, %s at the bath", plural(r.Totals.Baths, "bath"), plural(r.Totals.Loads, "load"), time)
	switch {
	case s.Pieces+s.Spares == 1:
		return measure.Say(takes, ".")
	case m.Verdict == plan.NotKnown:
		at := measure.Say("at ", measure.Celsius(s.Bath.FromC))
		if s.Bath.FromC < s.Bath.ToC {
			at = measure.Say("from ", measure.Celsius(s.Bath.FromC), " to ", measure.Celsius(s.Bath.ToC))
		}
		return measure.Say("The recipe's dip time holds ", at, "; it is not known for a colder or a hotter bath. ", takes, ".")
	default:
		below := measure.Say(".")
		if low := measure.Celsius(s.Bath.FromC); measure.Celsius(r.LowestC) < low-0.5 {
			below = measure.Say(". Below ", low, " the dip times are calculated, not the recipe's.")
		}
		return measure.Say("The pieces ", string(m.Verdict), ": their colour layer is from ", thicker(m.LeastPercent), " to ", thicker(m.MostPercent), " than wanted; the colour tolerance is from ", thicker(m.ShortPercent), " to ", thicker(m.LongPercent), ". ", takes, below)
	}
}

func thicker(percent float64) string {
	if percent < 0 {
		return measure.Round(-percent, 0) + " % thinner"
	}
	return measure.Round(percent, 0) + " % thicker"
}

func plural(n int, what string) string { return measure.Counted(n, what, what+"s") }
