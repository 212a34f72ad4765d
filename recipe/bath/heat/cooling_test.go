package heat

import (
	"fmt"
	"math"
	"testing"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

// mug is a mug of 250 mL, filled to 80 %. The measurements do not give its size, its
// mass or the room: 75 mm wide inside, 300 g of ceramic or 250 g of iron, pre-heated,
// and a room of 22 C at 50 % are assumed.
func mug(also reagent.Part) (tub Tub, capacity float64, room Air) {
	const diameter, ml = 7.5, 200.0 // cm
	floor := math.Pi / 4 * diameter * diameter
	tub = Tub{SurfaceCM2: floor, WallCM2: floor + math.Pi*diameter*ml/floor}
	return tub, Capacity(ml/1000, 80) + float64(also.MassG)*also.SpecificHeat, Air{Ambient: 22, HumidityPercent: 50}
}

// TestOpenMugsCoolAsMeasured: none of the constants comes from these measurements.
func TestOpenMugsCoolAsMeasured(t *testing.T) {
	const logged = "public log of pre-heated 250 mL mugs, 80 % full"
	for _, c := range []struct {
		what, source string
		at           measure.Celsius
		also         reagent.Part
		want         float64 // C/min
	}{
		{"iron mug", logged, 84, reagent.Part{MassG: 250, SpecificHeat: 0.449}, 2.40},
		{"ceramic mug", logged, 81, reagent.Part{MassG: 300, SpecificHeat: 0.84}, 2.15},
		{"coffee in a mug", "published data sets, 1.9 to 2.1 C/min, secondary", 80, reagent.Part{MassG: 300, SpecificHeat: 0.84}, 2.0},
	} {
		tub, capacity, room := mug(c.also)
		got := Losses(c.at, tub, room).TotalW / capacity * 60
		outside.Check(t, fmt.Sprintf("%s cools at %g C, C/min", c.what, float64(c.at)), c.source, c.want, got, 0.25*c.want)
	}
}

// TestLidKeepsAsMuchAsACover: LidLeak was chosen so that the mug keeps what a mug
// under a foam cover kept, 0.62 of its open loss (measured, secondary source).
func TestLidKeepsAsMuchAsACover(t *testing.T) {
	tub, _, room := mug(reagent.Part{MassG: 300, SpecificHeat: 0.84})
	open := Losses(80, tub, room).TotalW
	tub.Lid = true
	outside.Same(t, "loss of a covered mug at 80 C over the open loss", "measured mug under a foam cover, secondary", 0.62, Losses(80, tub, room).TotalW/open, 0.05)
}

// TestMovingAirTakesMoreSteam: the published form for pools is 0.089 + 0.0782 v; the
// constant was taken from it.
func TestMovingAirTakesMoreSteam(t *testing.T) {
	still := Losses(75, benchTub, benchAir)
	for _, c := range []struct{ speed, percent float64 }{{0.3, 26}, {0.5, 44}} {
		air := benchAir
		air.SpeedMS = c.speed
		got := Losses(75, benchTub, air)
		outside.Same(t, fmt.Sprintf("evaporation added by air of %g m/s, %%", c.speed), "published form for pools, 0.089 + 0.0782 v", c.percent, (got.EvaporationW/still.EvaporationW-1)*100, 1)
		if got.RadiationW != still.RadiationW || got.WallW != still.WallW {
			t.Errorf("air of %g m/s changes more than the evaporation: %+v, still %+v", c.speed, got, still)
		}
	}
}

// TestHowFarCorrelationsDiffer prints how far the evaporation is from the open-tank
// table, which set the constant, and from the plain form for still pools. Between 43
// and 88 C both stay within the quarter that package heat states.
func TestHowFarCorrelationsDiffer(t *testing.T) {
	table, _ := rows(t, "open_tank_heat_loss.csv")
	for _, row := range table {
		f := row["water_F"]
		if f < 110 || f > 190 {
			continue
		}
		at := fahrenheit(f)
		got := Losses(at, Tub{SurfaceCM2: 1e4}, tableAir).EvaporationW
		bath, _ := reagent.WaterVapourPressure(at)
		room, _ := reagent.WaterVapourPressure(tableAir.Ambient)
		kPa := bath - 0.5*room
		fromTable, fromPool := got/(row["evap_Btu_ft2h"]*btu)-1, got/(89*kPa)-1
		t.Logf("evaporation at %.0f C: %+.0f %% of the open-tank table, %+.0f %% of the form for still pools", float64(at), fromTable*100, fromPool*100)
		if bound := 0.25; math.Abs(fromTable) > bound || math.Abs(fromPool) > bound {
			t.Errorf("at %.1f C the evaporation is %+.2f of the table and %+.2f of the form for pools, more than the quarter that is stated", float64(at), fromTable, fromPool)
		}
	}
}
