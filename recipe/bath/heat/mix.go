package heat

import (
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// AfterLoad returns the temperature of a bath of a given heat capacity, in J/K,
// once metal of another temperature has come to it. The specific heat is in
// J/(g K). Errors are those of [reagent.Mix].
func AfterLoad(bath measure.Celsius, capacityJPerK float64, metal measure.Grams, specificHeat float64, metalAt measure.Celsius) (measure.Celsius, error) {
	if metal == 0 {
		return bath, nil
	}
	return reagent.Mix(
		reagent.Part{MassG: measure.Grams(capacityJPerK), SpecificHeat: 1, Temperature: bath},
		reagent.Part{MassG: metal, SpecificHeat: specificHeat, Temperature: metalAt})
}

// TopUp returns the temperature of a bath of a given heat capacity, in J/K, after
// water has been poured in, and its new heat capacity. The volume is as measured
// at the temperature of the water. Errors are those of [reagent.Mix].
func TopUp(bath measure.Celsius, capacityJPerK float64, water measure.Liters, waterAt measure.Celsius) (measure.Celsius, float64, error) {
	if water == 0 {
		return bath, capacityJPerK, nil
	}
	grams := measure.Grams(float64(water) * 1000 * float64(reagent.WaterDensity(waterAt)))
	c := reagent.WaterSpecificHeat(waterAt)
	t, err := reagent.Mix(
		reagent.Part{MassG: measure.Grams(capacityJPerK), SpecificHeat: 1, Temperature: bath},
		reagent.Part{MassG: grams, SpecificHeat: c, Temperature: waterAt})
	if err != nil {
		return 0, 0, err
	}
	return t, capacityJPerK + float64(grams)*c, nil
}
