package safety

import (
	"math"
	"slices"

	"hepar/recipe"
	"hepar/recipe/fault"
)

// Assess reviews a recipe and as much of a batch as is known: emergency lines, points,
// what to confirm, what to read, and estimates of the air. Amounts must be finite and not
// negative, in the units of their types and names, the pH up to 14, the bath from 0 to
// 100 C, the room one that can be, words among [Withs], [Shares] and [Captures]; nil
// recipe or anything else is an error of kind [fault.Usage]. A review that forbids the
// work is no error: see [Review.Stops] and [Refused].
func Assess(s Subject) (Review, error) {
	if s.Recipe == nil {
		return Review{}, fault.Usagef("no recipe to review").Try("name a recipe or a saved batch")
	}
	if err := s.check(); err != nil {
		return Review{}, err
	}
	legs := s.legs()
	w := work{Subject: s, vessels: all(legs)}
	w.agents = everything(w.vessels)
	var err error
	if w.air, err = w.breathe(); err != nil {
		return Review{}, err
	}
	var l list
	l.points = sequence(legs, s.Alloy)
	for _, part := range []func(*list){w.shared, w.acidity, w.guarded, w.pieces} {
		part(&l)
	}
	r := Review{
		Emergency: w.emergency(), Points: l.ranked(), Read: w.read(), Substances: w.substances(), Note: w.air.trust(),
		Gas: w.air.estimates, GramsToLimit: w.air.grams, Airflow: w.air.flows, Limits: w.listed(w.air.estimates), Inputs: w.air.inputs,
	}
	r.Confirm = w.confirm(r.Points)
	if len(r.Airflow) > 0 {
		r.AirflowM3H = &r.Airflow[0].M3H
	}
	return r, nil
}

// legs gives the recipe with its helpers, in order. What only the batch holds goes into
// the recipe's own bath.
func (s Subject) legs() []leg {
	own := line(s.Recipe, slices.Concat(s.Reagents, s.Plan)...)
	for i := range own {
		own[i].main = true
	}
	legs := append(join(s.Before), leg{s.Recipe, own})
	return placed(append(legs, join(s.After)...))
}

// work is a subject with what follows from it.
type work struct {
	Subject
	vessels []vessel
	agents  []agent
	air     air
}

// any tells whether any substance in the work is as asked.
func (w work) any(as func(agent) bool) bool { return slices.ContainsFunc(w.agents, as) }

// those gives the substances that are as asked.
func (w work) those(as func(agent) bool) []agent {
	var list []agent
	for _, a := range w.agents {
		if as(a) {
			list = append(list, a)
		}
	}
	return list
}

// sulfidic tells whether sulfide is in the work: as a substance, or carried into the
// bath that stops a finish.
func (w work) sulfidic() bool {
	return w.any(agent.sulfide) || w.Recipe.Kind == recipe.Stop
}

// bathAgents gives the substances of the bath.
func (w work) bathAgents() []agent {
	for _, v := range w.vessels {
		if v.bath && v.main {
			return v.agents
		}
	}
	return nil
}

func (s Subject) check() error {
	for _, x := range []struct {
		value, most float64
		what, cure  string
	}{
		{float64(s.MetalArea), math.MaxFloat64, "the metal area is not an amount: %v cm2", "give the area of the whole batch, or leave it out"},
		{float64(s.Bath), math.MaxFloat64, "the bath is not an amount: %v L", "give the volume of the bath, or leave it out"},
		{s.PH, 14, "there is no pH of %v", "give the pH of the bath at working temperature, above 0 and up to 14, or leave it out"},
		{float64(s.BathC), 100, "a bath of %v C", "give the temperature of the bath from 0 to 100 C, or leave it out"},
		{s.SurfaceCM2, 1e6, "a bath with a surface of %v cm2", "give the surface open to the air, or leave it out"},
		{s.DragOutMLM2, 1e4, "%v mL/m2 clinging to the pieces", "give 10 to 1000 mL/m2, or leave it out"},
		{s.MeterPPM, 1000, "a gas meter does not give alarm at %v ppm", "give what it is set to, such as 5"},
	} {
		if !(x.value >= 0 && x.value <= x.most) {
			return fault.Usagef(x.what, x.value).Try("%s", x.cure)
		}
	}
	if err := s.Room.Check(); err != nil {
		return err
	}
	if err := checkWith(s.With); err != nil {
		return err
	}
	if err := checkWords(s.Shared, Shares(), "word for what is shared"); err != nil {
		return err
	}
	if err := checkWords([]string{s.Capture}, Captures(), "word for how gas is caught"); err != nil {
		return err
	}
	if s.Capture == "outdoors" && s.Room.VolumeM3 > 0 && !s.Room.Outdoors {
		return fault.Usagef("capture outdoors, and a room of %v m3", s.Room.VolumeM3).Try("say --room outdoors, or which capture there is in the room: hood or slot")
	}
	for _, a := range slices.Concat(s.Reagents, s.Plan) {
		if !(a.Shown >= 0 && a.Shown <= math.MaxFloat64) {
			return fault.Usagef("%v %s of %s is no amount", a.Shown, a.Unit(), plain(a.Substance.ID)).Try("give what goes into the bath, or leave it out")
		}
	}
	return nil
}
