package bath

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath/plan"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// Constants of what is mixed, in the heat balance.
const (
	// SolidML is the room that a gram of a dissolved salt takes, in mL: 0.3 to 0.5 for
	// most. Assumed.
	SolidML = 0.4
	// SolidHeat is the specific heat of a salt in J/(g K): 0.8 to 1.5. Assumed.
	SolidHeat = 1.2
	// LiquidHeat is that of a reagent poured in, an aqueous solution, in J/(g K). Assumed.
	LiquidHeat = 4.0
)

// besideWater is what shares the temperature of the bath besides its water, the vessel
// and every reagent, at the temperature of the room; and the room that the reagents take.
func (o *Order) besideWater(s *Sheet) (parts []reagent.Part, room measure.Liters) {
	if v := o.Vessel; v.Height > 0 {
		parts = append(parts, reagent.Part{MassG: measure.Grams(v.WallCM2() * v.Wall().GramsPerCM2()), SpecificHeat: v.Wall().Heat, Temperature: o.Shop.Ambient})
	}
	for _, line := range s.Bath.Reagents {
		a := line.Amount()
		volume, poured := a.Volume()
		mass, ok := a.Mass()
		if !poured {
			volume = measure.Liters(mass * SolidML / 1000)
		} else if !ok {
			mass = measure.Grams(volume.Milliliters()) // of unknown density: as water
		}
		c := SolidHeat
		if a.Shelf.Liquid {
			c = LiquidHeat
		}
		if room += volume; mass > 0 {
			parts = append(parts, reagent.Part{MassG: mass, SpecificHeat: c, Temperature: o.Shop.Ambient})
		}
	}
	return parts, room
}

// hottest is the hottest that the bath can be mixed with the water at hand. A bath that
// is mixed cold is warmed afterwards: it can be as hot as the recipe allows.
func (o *Order) hottest(s *Sheet) measure.Celsius {
	if o.mixedAt() != nil {
		return max(o.Recipe.Bath.Water.To, o.Recipe.Bath.Water.At)
	}
	others, room := o.besideWater(s)
	grams := measure.Grams(max(0, s.Bath.VolumeL-float64(room)) * 1000)
	return reagent.Mix(append(others, reagent.Water(grams, o.Shop.HotWater))...)
}

// water finds the hot and the cold water that bring the bath to its start, with the
// vessel and every reagent at the temperature of the room.
func (o *Order) water(s *Sheet) error {
	shop := o.Shop
	if shop.ColdWater >= shop.HotWater || shop.ColdWater < 0 || shop.HotWater > 100 {
		return fault.Usagef("hot water of %s and cold water of %s do not go together", measure.Metric.Temperature(shop.HotWater), measure.Metric.Temperature(shop.ColdWater)).
			At("--hot").Try("give a hot and a cold temperature between 0 and 100 C, the hot one higher")
	}
	wanted := s.Start()
	others, room := o.besideWater(s)
	liters := max(0, s.Bath.VolumeL-float64(room))
	kg := func(l float64, at measure.Celsius) float64 { return l * float64(reagent.WaterDensity(at)) }
	grams := measure.Grams(kg(liters, wanted) * 1000)
	wall := o.Vessel.Wall()
	w := Water{HotC: float64(shop.HotWater), ColdC: float64(shop.ColdWater)}
	cold := wanted <= shop.Ambient+plan.ColdOver
	mixedAt := o.mixedAt()
	short := measure.Celsius(0)
	if mixedAt != nil {
		w.ColdL, w.ColdC = float64(grams)/1000/kg(1, *mixedAt), float64(*mixedAt) // warmed, it fills the bath
	} else if cold {
		w.ColdL, w.Stand = liters, wanted > shop.ColdWater+2
	} else if grams > 0 {
		hotG, coldG, ok := reagent.HotCold(grams, shop.HotWater, shop.ColdWater, wanted, others...)
		if !ok { // all of the nearer one, and the mixture stays below (above zero) or above it
			short = wanted - reagent.Mix(append([]reagent.Part{reagent.Water(hotG, shop.HotWater), reagent.Water(coldG, shop.ColdWater)}, others...)...)
		}
		w.HotL, w.ColdL = float64(hotG)/1000/kg(1, shop.HotWater), float64(coldG)/1000/kg(1, shop.ColdWater)
	}
	s.Bath.Water = w
	if o.Vessel.Height > 0 {
		s.Assume("vessel wall, "+cmp.Or(o.Vessel.Material, "taken as glass"), wall.MM, "mm", "assumed, for the heat it absorbs; common practice, no source")
	}
	if mixedAt != nil {
		if wanted > *mixedAt+plan.ColdOver {
			lack := "No heater is given"
			if o.Heat.Kind == plan.Kettle {
				lack = "A kettle cannot warm a bath that is mixed"
			}
			how := measure.Say(", slowly, on a plate or in a water bath, under the hood. ", lack, ": name a heater with --heat, such as plate:500W.")
			if s.Run != nil && s.Run.WarmMin > 0 {
				how = measure.Say(", slowly, under the hood: about ", measure.Seconds(math.Ceil(s.Run.WarmMin)*60), " with the heat given.")
			}
			s.Warn("warm-after", "The recipe mixes this bath with water at ", *mixedAt, ": warm it to ", wanted, " afterwards", how)
		}
		return nil
	}
	taken := 0.0
	for _, p := range others {
		taken += float64(p.MassG) * p.SpecificHeat * float64(wanted-p.Temperature) / 1000
	}
	s.Step("hot water", "(heat for the cold water + heat for vessel and reagents) / heat given by hot water",
		fmt.Sprintf("%s kg of water, cold %s C, hot %s C, wanted %s C; %s kJ into vessel and reagents", num(grams/1000), num(shop.ColdWater), num(shop.HotWater), num(wanted), num(taken)),
		num(w.HotL)+" L hot and "+num(w.ColdL)+" L cold", fmt.Sprintf("energy balance; specific heat of water: IAPWS SR6-08; assumed: vessel %g g/cm2 of %g J/(g K), solids %g J/(g K) and %g mL/g, reagents poured in %g J/(g K)", wall.GramsPerCM2(), wall.Heat, SolidHeat, SolidML, LiquidHeat))
	switch {
	case short > 0.05:
		s.Bath.Water.Warm = true
		s.Warn("heat", "Water at ", shop.HotWater, " is not hot enough: mixed, the bath is ", measure.Degrees(short), " below the ", wanted,
			" wanted. Warm the plain water on a plate before the reagent goes in.", o.neverBoil())
	case short < -0.05:
		s.Warn("cool", "The coldest water at hand leaves the bath ", measure.Degrees(-short), " above the ", wanted, " wanted: let it stand, or put the vessel in cold water.")
	}
	if o.Vessel.Height > 0 && w.HotL > 0 && shop.HotWater > 70 && wall.Hot[0] != "" {
		s.Warn(wall.Hot[0], wall.Hot[1], shop.HotWater, wall.Hot[2])
	}
	return nil
}

// neverBoil is the caution of a bath that holds sulfide.
func (o *Order) neverBoil() string {
	if o.holding(reagent.Sulfide) == "" {
		return ""
	}
	return " Never boil a sulfide bath."
}

// holding names the first reagent of the bath that is in one of the groups.
func (o *Order) holding(groups ...reagent.Group) string {
	for _, r := range o.reagents {
		if slices.ContainsFunc(groups, r.Substance.In) {
			return r.Substance.Name
		}
	}
	return ""
}

// mixedAt is the temperature of the water with which the recipe mixes the bath, nil where
// it gives none and the bath decides.
func (o *Order) mixedAt() (at *measure.Celsius) {
	for _, m := range o.Recipe.Bath.Mixing() {
		if m.Add == recipe.AddWater && !m.HasWater {
			return nil
		} else if m.Add == recipe.AddWater {
			at = &m.Water
		}
	}
	return at
}

// PourLine is one thing that goes into the vessel, in its order.
type PourLine struct {
	Add    string   `json:"add"` // "water" or the id of a substance
	Liters float64  `json:"liters,omitempty"`
	C      *float64 `json:"temperature_c,omitempty"` // of water
	Grams  float64  `json:"grams,omitempty"`
	ML     float64  `json:"milliliters,omitempty"`
	How    string   `json:"how,omitempty"`
	measure.Note
}

func (o *Order) pour(s *Sheet) {
	w := s.Bath.Water
	add := func(p PourLine, what measure.Note, how ...string) {
		p.Note, p.How = what, strings.Join(slices.DeleteFunc(how, func(part string) bool { return part == "" }), "; ")
		if p.How != "" {
			p.Note = measure.Say(what, ": ", p.How)
		}
		s.Bath.Pour = append(s.Bath.Pour, p)
	}
	water := func(liters, c float64, how ...string) {
		if liters = reagent.ToStep(liters*1000, o.Shop.CylinderML) / 1000; liters > 0 {
			add(PourLine{Add: "water", Liters: liters, C: &c}, measure.Say(measure.Liters(liters), " of water at ", measure.Celsius(c)), how...)
		}
	}
	for _, m := range o.Recipe.Bath.Mixing() {
		switch {
		case m.Add != recipe.AddWater:
			i := slices.IndexFunc(s.Bath.Reagents, func(line ReagentLine) bool { return line.Substance == m.Add })
			line := s.Bath.Reagents[i]
			name := line.Name
			if line.Form != "" && line.Form != "default" {
				name += ", " + line.Form
			}
			if line.PurityPercent > 0 {
				name += fmt.Sprintf(" of %s %%", measure.Plain(line.PurityPercent))
			}
			a := line.Amount()
			note := o.Recipe.Bath.Reagents[i].Note
			if note == o.reagents[i].Recipe.Good { // the form says it
				note = ""
			} else if note != "" && line.Form != line.RecipeForm {
				note = "the recipe says of another form: " + note
			}
			p := PourLine{Add: m.Add}
			if a = a.Of(a.Shown * m.Part); a.Poured() {
				p.ML = a.Shown
			} else {
				p.Grams = a.Shown
			}
			add(p, measure.Say(a.Figure(), " of ", name), m.How, a.Shelf.Good, note)
		case m.HasWater:
			water((w.HotL+w.ColdL)*m.Part, float64(m.Water), m.How)
		default: // the bath decides: cold before hot
			stand, warm := "", ""
			if w.Stand {
				stand = "let it come to the temperature of the bath"
			}
			if w.Warm {
				warm = "then warm the water on a plate to the temperature of the bath"
			}
			water(w.ColdL*m.Part, w.ColdC, m.How, stand)
			water(w.HotL*m.Part, w.HotC, m.How, "slowly", warm)
		}
	}
}
