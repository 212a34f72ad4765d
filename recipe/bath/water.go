package bath

import (
	"fmt"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// Constants of the vessel in the heat balance of mixing.
const (
	// GlassHeat is the specific heat of glass in J/(g K) (OpenStax University
	// Physics vol. 2, table of specific heats).
	GlassHeat = 0.84
	// WallMM is the thickness of a vessel wall in mm. Assumed.
	WallMM = 3
	// WallGramsPerCM2 is the mass of a vessel wall per area, in g/cm2: [WallMM] of
	// glass at 2.5 g/cm3. Assumed.
	WallGramsPerCM2 = 0.75
)

// water finds the hot and the cold water for the temperature of the recipe, with
// the vessel and the first load of metal at room temperature included.
func (o *Order) water(s *Sheet) error {
	grams := s.Bath.VolumeL * 1000 // at 1 kg/L; the density of hot water makes 3 % at most
	for _, line := range s.Bath.Reagents {
		if line.Milliliters != nil {
			grams -= *line.Milliliters
		}
	}
	grams = max(grams, 0)
	wanted, shop := o.Recipe.Bath.Water.At, o.Shop
	if shop.ColdWater >= shop.HotWater || shop.ColdWater < 0 || shop.HotWater > 100 {
		return fault.Usagef("hot water of %s and cold water of %s do not go together", measure.Metric.Temperature(shop.HotWater), measure.Metric.Temperature(shop.ColdWater)).
			At("--hot").Try("give a hot and a cold temperature between 0 and 100 C, the hot one higher")
	}
	if shop.Ambient < -20 || shop.Ambient > 50 {
		return fault.Usagef("a room of %s", measure.Metric.Temperature(shop.Ambient)).At("--ambient").Try("give a temperature between -20 and 50 C")
	}
	others := o.cold(s)
	hotG, coldG, short := hotCold(measure.Grams(grams), wanted, shop, others)
	s.Bath.Water = Water{HotL: float64(hotG) / 1000, HotC: float64(shop.HotWater), ColdL: float64(coldG) / 1000, ColdC: float64(shop.ColdWater)}
	taken := 0.0
	for _, p := range others {
		taken += float64(p.MassG) * p.SpecificHeat * float64(wanted-p.Temperature) / 1000
	}
	s.work("hot water", "(heat for the cold water + heat for vessel and first load) / heat supplied by hot water",
		fmt.Sprintf("%s kg of water, cold %s C, hot %s C, wanted %s C; %s kJ into vessel and metal", num(grams/1000), num(shop.ColdWater), num(shop.HotWater), num(wanted), num(taken)),
		num(hotG/1000)+" L hot and "+num(coldG/1000)+" L cold", "energy balance; specific heat of water: IAPWS SR6-08")
	switch {
	case short > 0.05:
		s.warn("heat", "Water at ", shop.HotWater, " is not hot enough: the mixed bath is ", measure.Degrees(short), " below the ", wanted,
			" wanted. Warm the plain water on a plate before the reagent goes in; never boil a sulfide bath.")
	case short < -0.05:
		s.warn("cool", "The coldest water at hand leaves the bath ", measure.Degrees(-short), " above the ", wanted, " wanted: let it stand, or put the vessel in cold water.")
	}
	return nil
}

// cold is what takes warmth from the water: the vessel and the first load.
func (o *Order) cold(s *Sheet) []reagent.Part {
	var others []reagent.Part
	if v := o.Vessel; v != nil {
		others = append(others, reagent.Part{MassG: measure.Grams(v.WallCM2() * WallGramsPerCM2), SpecificHeat: GlassHeat, Temperature: o.Shop.Ambient})
		s.assume("vessel wall, glass", WallMM, "mm", "assumed, for the warmth it takes")
	}
	if len(s.Loads) > 0 {
		unknown := false
		lots := o.lots()
		for _, part := range s.Loads[0].ByLot {
			lot := lots[part.Lot]
			if unknown = unknown || lot.MassG == 0; lot.MassG > 0 {
				others = append(others, reagent.Part{MassG: measure.Grams(part.Pieces) * lot.MassG,
					SpecificHeat: lot.SpecificHeat, Temperature: o.Shop.Ambient})
			}
		}
		if unknown {
			s.warn("mass-unknown", "The mass of a piece is not known, so the heat absorbed by the metal is left out.")
		}
	}
	return others
}

// hotCold is [reagent.HotCold], and where no share of the two reaches the wanted
// temperature all of the nearer one, with the degrees by which the mixture then
// stays below (above zero) or above (below zero) it.
func hotCold(total measure.Grams, wanted measure.Celsius, shop Shop, others []reagent.Part) (hot, cold measure.Grams, short measure.Celsius) {
	if total <= 0 {
		return 0, 0, 0
	}
	hot, cold, err := reagent.HotCold(total, shop.HotWater, shop.ColdWater, wanted, others...)
	if err == nil {
		return hot, cold, 0
	}
	all := func(t measure.Celsius) measure.Celsius {
		water := reagent.Part{MassG: total, SpecificHeat: reagent.WaterSpecificHeat(t), Temperature: t}
		mixed, err := reagent.Mix(append([]reagent.Part{water}, others...)...)
		if err != nil {
			return t
		}
		return mixed
	}
	if hottest := all(shop.HotWater); hottest < wanted {
		return total, 0, wanted - hottest
	}
	return 0, total, wanted - all(shop.ColdWater)
}
