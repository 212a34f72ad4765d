package heat

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
)

// btu is 1 Btu/(ft2 h) in W/m2, from 1 Btu(IT) = 1055.05585262 J and 1 ft =
// 0.3048 m, both exact.
const btu = 1055.05585262 / 3600 / (0.3048 * 0.3048)

const openTank = "open-tank heat loss table, still air at 60 F"

// tableAir is the air of the table; it does not give the humidity, 50 % is assumed.
var tableAir = Air{Ambient: (60.0 - 32) / 1.8, HumidityPercent: 50}

func fahrenheit(f float64) measure.Celsius { return measure.Celsius((f - 32) / 1.8) }

// rows returns the figures of a table by their column, and its lines as they stand.
func rows(t *testing.T, name string) (figures []map[string]float64, words [][]string) {
	t.Helper()
	file, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range lines[1:] {
		row := map[string]float64{}
		for i, name := range lines[0] {
			if x, err := strconv.ParseFloat(line[i], 64); err == nil {
				row[name] = x
			}
		}
		figures = append(figures, row)
	}
	if len(figures) == 0 {
		t.Fatal("no rows")
	}
	return figures, lines[1:]
}

// The constants of this package were fitted to this table, so it is no outside check:
// it holds how far they are from it.
func TestOpenTankTable(t *testing.T) {
	table, _ := rows(t, "open_tank_heat_loss.csv")
	for _, row := range table {
		f := row["water_F"]
		got := Losses(fahrenheit(f), Tub{SurfaceCM2: 1e4, WallCM2: 1e4}, tableAir)
		at := strconv.Itoa(int(f)) + " F"
		if f >= 120 { // 49 C; below, losses are small and the form runs high: see below
			outside.Same(t, "evaporation at "+at+", Btu/(ft2 h)", openTank, row["evap_Btu_ft2h"], got.EvaporationW/btu, 0.05*row["evap_Btu_ft2h"])
		}
		if f <= 190 {
			outside.Same(t, "radiation and convection at "+at+", Btu/(ft2 h)", openTank, row["radiation_Btu_ft2h"], (got.RadiationW+got.ConvectionW)/btu, 0.12*row["radiation_Btu_ft2h"])
		}
		outside.Same(t, "bare wall at "+at+", Btu/(ft2 h)", openTank, row["bare_wall_Btu_ft2h"], got.WallW/btu, 0.25*row["bare_wall_Btu_ft2h"])
	}
}

// Near the temperature of the room the form gives too much, which errs on the
// side of warning of a cooling bath. The bound keeps that statement true.
func TestEvaporationRunsHighWhenCool(t *testing.T) {
	table, _ := rows(t, "open_tank_heat_loss.csv")
	for _, row := range table {
		if f := row["water_F"]; f < 120 {
			got := Losses(fahrenheit(f), Tub{SurfaceCM2: 1e4}, tableAir).EvaporationW / btu
			if ratio := got / row["evap_Btu_ft2h"]; ratio < 1 || ratio > 1.75 {
				t.Errorf("%g F: %g of the table", f, ratio)
			}
		}
	}
}

func TestOpenTankWorkedExample(t *testing.T) {
	tub := Tub{SurfaceCM2: 10 * 929.0304, WallCM2: 50 * 929.0304} // 10 and 50 ft2
	got := Losses(fahrenheit(150), tub, tableAir).TotalW * 3600 / 1055.05585262
	outside.Same(t, "tank at 150 F, 10 ft2 open and 50 ft2 bare wall, Btu/h", openTank+", worked example", 19400, got, 0.03*19400)
}

// benchTub is 200 x 140 mm, 1.33 L deep 48 mm, so that
// the wetted walls and the floor are 280 + 68 x 4.8 cm2.
var (
	benchTub = Tub{SurfaceCM2: 280, WallCM2: 280 + 68*4.76}
	benchAir = Air{Ambient: 20, HumidityPercent: 50}
)

func TestLitreAndAThird(t *testing.T) {
	capacity := Capacity(1.333, 75)
	// By hand: 0.107 x 37.4 kPa x 0.028 m2 = 112 W, 0.95 sigma (348^4 - 293^4) x
	// 0.028 = 11 W, 4.7 x 55 x 0.028 = 7 W, 11 x 55 x 0.060 = 36 W.
	if got := Losses(75, benchTub, benchAir).TotalW; got < 164 || got > 169 {
		t.Errorf("loses %g W, want about 166", got)
	}
	rate := Losses(75, benchTub, benchAir).TotalW / capacity * 60
	if rate < 1.7 || rate > 2 {
		t.Errorf("cools %g C a minute, want nearly 2", rate)
	}
	lid := benchTub
	lid.Lid = true
	if open, shut := Losses(75, benchTub, benchAir).TotalW, Losses(75, lid, benchAir).TotalW; shut > 0.6*open || shut < 0.4*open {
		t.Errorf("a lid leaves %g of %g W", shut, open)
	}
}

func TestLossParts(t *testing.T) {
	got := Losses(75, benchTub, benchAir)
	parts := got.EvaporationW + got.RadiationW + got.ConvectionW + got.WallW
	if d := got.TotalW - parts; d > 1e-9 || d < -1e-9 {
		t.Errorf("total %g, parts %g", got.TotalW, parts)
	}
	damp := Air{Ambient: 30, HumidityPercent: 100}
	if cold := Losses(10, benchTub, damp); cold.EvaporationW != 0 || cold.TotalW >= 0 {
		t.Errorf("a bath colder than the dew point: %+v", cold)
	}
	lid := Losses(75, Tub{SurfaceCM2: 280, Lid: true}, benchAir)
	open := Losses(75, Tub{SurfaceCM2: 280}, benchAir)
	if math.Abs(lid.EvaporationW-LidLeak*open.EvaporationW) > 1e-9 || lid.RadiationW != 0 || lid.ConvectionW != 0 || lid.WallW != WallW*0.028*55 {
		t.Errorf("under a lid: %+v", lid)
	}
	draught := benchAir
	draught.SpeedMS = 0.5
	if got := Losses(75, Tub{SurfaceCM2: 280, Lid: true}, draught); got != lid {
		t.Errorf("air moves under the lid: %+v, still %+v", got, lid)
	}
}

func TestLatentHeat(t *testing.T) {
	outside.Same(t, "heat of vaporisation of water at 25 C, kJ/mol", "OpenStax Chemistry 2e, 10.3, from memory", 44.01, LatentHeat(25)*waterMolar/1000, 0.005)
	outside.Same(t, "heat of vaporisation of water at 100 C, kJ/mol", "OpenStax Chemistry 2e, 10.3, from memory", 40.67, LatentHeat(100)*waterMolar/1000, 0.005)
}

func TestChecks(t *testing.T) {
	for _, a := range []Air{{20, 100.1, 0}, {20, -1, 0}, {51, 50, 0}, {-21, 50, 0}, {20, 50, 5.1}, {20, 50, -1}} {
		if a.Check() == nil {
			t.Errorf("%+v passes", a)
		}
	}
	if err := benchAir.Check(); err != nil {
		t.Error(err)
	}
}
