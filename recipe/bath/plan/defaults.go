package plan

import (
	"math"

	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/kinetics"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/measure"
)

// filled is a run with every default filled in, and what follows from it once.
type filled struct {
	Run
	lowC, highC measure.Celsius // the bath may be
	lowStrength float64
	open, shut  heat.Tub // while hands are in it; between loads
	law         kinetics.Law
	capacity    float64 // J/K
	perLiter    float64 // heat capacity of a litre of bath, J/K
	sulfur      measure.Grams
	fixed       float64 // s, at the planned start
	plan        *Plan
}

func (s *filled) assume(name string, value float64, unit, source string) {
	s.plan.Assumptions = append(s.plan.Assumptions, Assumption{name, value, unit, source})
}

// warn adds a warning, its parts as [measure.Say] takes them.
func (s *filled) warn(code string, parts ...any) {
	s.plan.Warnings = append(s.plan.Warnings, Warning{code, measure.Say(parts...)})
}

const guess = "assumed, common practice, no published source"

// take fills in a default where nothing was given, and says so.
func take[T ~float64](s *filled, to *T, fallback T, name, unit, source string) {
	if *to == 0 {
		*to = fallback
		s.assume(name, float64(fallback), unit, source)
	}
}

func fill(r Run, p *Plan) *filled {
	s := &filled{Run: r, plan: p}
	s.Group = max(s.Group, 1)
	take(s, &s.MaxLoad, DefaultMaxLoad, "bath load", "dm2/L", guess)
	take(s, &s.Drain, rinse.Poor, "drag-out", "mL/m2", rinse.Source)
	s.fillHands()
	s.fillBath()
	s.fillVessel()
	take(s, &s.Between, DefaultBetween, "time between loads", "s", guess)
	s.open, s.shut = s.Tub, s.Tub
	s.open.Lid, s.shut.Lid = false, s.Lid
	s.capacity = heat.Capacity(s.Volume, s.Start) + s.VesselHeatJPerK
	s.perLiter = heat.Capacity(1, s.Start)
	s.law = s.Rate.From(s.Dip.At, s.Water.At)
	s.fixed = float64(s.law.Time(s.Start, s.StartStrength))
	return s
}

func (s *filled) fillHands() {
	if s.Basket || s.RackPieces > 0 {
		return
	}
	d := DefaultHands()
	take(s, &s.Hands.InS, d.InS, "placing one piece", "s", guess)
	take(s, &s.Hands.OutS, d.OutS, "taking one piece", "s", guess)
	take(s, &s.Hands.Tolerance, d.Tolerance, "tolerance of the dip time within a load", "part", guess)
	take(s, &s.Hands.Uneven, d.Uneven, "unevenness of the hands", "part", guess)
}

// fillBath fills in what the recipe leaves open: the limits of temperature and
// strength, how the bath ages, the film.
func (s *filled) fillBath() {
	s.lowC, s.highC = s.Water.From, min(s.Water.To, 100)
	if s.Start == 0 {
		s.Start = s.Water.At
	}
	if s.Water.From == s.Water.At {
		s.lowC = max(0, s.Water.At-DefaultFallC)
		s.assume("lower limit of the temperature", float64(s.lowC), "C", "assumed; the recipe has no lower limit")
	}
	if s.Water.To == s.Water.At {
		s.highC = min(100, s.Water.At+DefaultFallC)
	}
	if s.StartStrength == 0 {
		s.StartStrength = 1
	}
	s.lowStrength = DefaultStrengthLeft
	limiting := s.limiting()
	if from, at := limiting.Concentration.From.PerL, limiting.Concentration.At.PerL; from > 0 && from < at {
		s.lowStrength = from / at
	} else {
		s.assume("least strength", DefaultStrengthLeft, "of the fresh bath", "assumed; the recipe has no lower limit")
	}
	if s.Rate == (kinetics.Rate{}) {
		s.Rate = kinetics.Assumed()
	}
	if s.Rate.Source == kinetics.Assumed().Source {
		s.assume("activation energy", s.Rate.EaKJ, "kJ/mol", s.Rate.Source)
		s.assume("order in the strength", s.Rate.Order, "", s.Rate.Source)
	}
	if s.sulfur = limiting.For(limiting.Concentration.At, s.Volume).SulfideSulfur(); s.sulfur > 0 {
		take(s, &s.Life, DefaultLife, "half-life of the bath", "s", "assumed; the recipe has none")
		take(s, &s.FilmNM, kinetics.BlackFilmNM, "film thickness", "nm", "assumed; no published figure")
		if s.Film == (kinetics.Sulfide{}) {
			s.Film = kinetics.SilverFilm
		}
	} else if s.Life == 0 {
		s.warn("life-unknown", "The recipe has no half-life, and none is known for a bath without sulfide: the plan leaves ageing out. Judge the bath by a test piece.")
	}
	take(s, &s.ChangeMinutes, DefaultChangeMin, "mixing a fresh bath", "min", guess)
	if !s.Held {
		take(s, &s.ReheatMinutes, DefaultReheatMin, "reheating on a plate", "min", guess)
	}
	if at := limiting.Concentration.At; s.Rinse.Tubs > 0 && at.PerL > 0 {
		take(s, &s.Rinse.LimitPerL, at.PerL*DefaultRinseShare, "limit behind the last rinse", at.Unit(), guess+": a hundredth of the bath")
	}
}

// depthShare is the depth of a bath of which nothing but the volume is known, as a
// part of its width: assumed, a tub twice as wide as it is deep.
const depthShare = 0.5

// fillVessel finds the surfaces that lose heat.
func (s *filled) fillVessel() {
	if s.Tub.SurfaceCM2 > 0 {
		return
	}
	floor := s.Vessel.floorCM2()
	around := s.Vessel.aroundCM()
	if floor == 0 {
		side := math.Cbrt(float64(s.Volume) * 1000 / depthShare) // cm
		floor, around = side*side, 4*side
		s.assume("surface of the bath", floor, "cm2", "assumed: a square tub twice as wide as the bath is deep; give the vessel")
	}
	depth := float64(s.Volume) * 1000 / floor
	s.Tub = heat.Tub{SurfaceCM2: min(floor, 1e6), WallCM2: min(floor+around*depth, 1e6)}
}

func (v Vessel) floorCM2() float64 {
	if v.DiameterMM > 0 {
		return math.Pi / 4 * float64(v.DiameterMM*v.DiameterMM) / 100
	}
	return float64(v.LengthMM*v.WidthMM) / 100
}

func (v Vessel) aroundCM() float64 {
	if v.DiameterMM > 0 {
		return math.Pi * float64(v.DiameterMM) / 10
	}
	return 2 * float64(v.LengthMM+v.WidthMM) / 10
}

// metal is the temperature of the pieces as they go in.
func (s *filled) metal() measure.Celsius {
	if s.Metal != 0 {
		return s.Metal
	}
	return s.Air.Ambient
}
