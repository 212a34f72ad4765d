package gas

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

// rows reads a table of figures beside this test.
func rows(t *testing.T, name string) [][]float64 {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil || len(all) < 5 {
		t.Fatal(len(all), err)
	}
	var list [][]float64
	for _, line := range all[1:] {
		row := make([]float64, len(line))
		for i, cell := range line {
			if row[i], err = strconv.ParseFloat(cell, 64); err != nil {
				t.Fatal(err)
			}
		}
		list = append(list, row)
	}
	return list
}

func TestAcidConstant(t *testing.T) {
	const millero = "Millero 1988, pK1 = -98.080 + 5765.4/T + 15.0455 ln T"
	for _, c := range []struct{ celsius, want float64 }{{5, 7.326}, {10, 7.228}, {20, 7.056}, {25, 6.980}, {40, 6.793}, {50, 6.696}, {60, 6.619}} {
		outside.Check(t, "pK1 of hydrogen sulfide at "+measure.Plain(c.celsius)+" C", millero, c.want, PK1(measure.Celsius(c.celsius)), 0.0006)
	}
	const farm = "aquaculture text, percent hydrogen sulfide with pK1 7.01"
	outside.Check(t, "percent as hydrogen sulfide at pH 6, pK1 7.01", farm, 91.1, 100*share(6, 7.01), 0.05)
	outside.Check(t, "percent as hydrogen sulfide at pH 7, pK1 7.01", farm, 50.6, 100*share(7, 7.01), 0.05)
	for _, row := range rows(t, "h2s_fraction.csv") {
		got := Fraction(row[1], measure.Celsius(row[0]))
		outside.Check(t, "fraction as hydrogen sulfide at "+measure.Plain(row[0])+" C and pH "+measure.Plain(row[1]),
			millero+", computed with another program", row[3], got, row[3]*1e-5)
	}
}

func TestSolubility(t *testing.T) {
	const sander = "Sander 2023, Henry's law constants version 5: 1.0e-3 mol/(m3 Pa), 2100 K"
	outside.Check(t, "hydrogen sulfide in water at 25 C and one atmosphere, mol/L", sander+"; OpenStax Chemistry 2e, 14.5: 0.1 M", 0.101, Henry(25)*standardPressure/1000, 0.0005)
	for _, row := range rows(t, "h2s_henry.csv") {
		c := measure.Celsius(row[0])
		what := " of hydrogen sulfide at " + measure.Plain(row[0]) + " C"
		outside.Check(t, "Henry solubility"+what, sander+", computed with another program", row[1], Henry(c), row[1]*1e-4)
		outside.Check(t, "water over air"+what, sander+", computed with another program", row[2], 1/airWater(Henry(c), c), row[2]*1e-4)
	}
}

// TestWeakAcid finds the pH at which 0.1 M hydrogen sulfide balances its own charge, by
// halving, with the fraction and the constant that the book uses.
func TestWeakAcid(t *testing.T) {
	pK := -math.Log10(8.9e-8)
	low, high := 0.0, 7.0
	for range 60 {
		pH := (low + high) / 2
		if math.Pow(10, -pH) > 0.1*(1-share(pH, pK)) {
			low = pH
		} else {
			high = pH
		}
	}
	outside.Check(t, "hydrogen ions in 0.1 M hydrogen sulfide, mol/L", "OpenStax Chemistry 2e, 14.5, check your learning, Ka1 8.9e-8: 9.4e-5 M", 9.4e-5, math.Pow(10, -low), 0.05e-5)
}

func TestUnits(t *testing.T) {
	const z1 = "footnote to 29 CFR 1910.1000 Table Z-1: MW/24.45 at 25 C"
	outside.Check(t, "1 ppm of hydrogen sulfide at 25 C, mg/m3", z1, 1.394, MgPerM3(1, H2SMass), 0.0006)
	outside.Check(t, "molar volume of air at 25 C, L", "ideal gas, CODATA 2018", gasConstant*298.15/standardPressure*1000, LitersPerMol25C, 0.02)
	for _, c := range []struct {
		gas, formula string
		mass         float64
	}{{HydrogenSulfide, "H2S", H2SMass}, {Ammonia, "NH3", NH3Mass}, {NitrogenDioxide, "NO2", NO2Mass}, {Chlorine, "Cl2", Cl2Mass}, {SulfurDioxide, "SO2", SO2Mass}, {Chloramine, "NH2Cl", ChloramineMass}} {
		outside.Check(t, "molar mass of "+c.gas, "IUPAC 2021 atomic weights", reagent.MolarMass(c.formula), c.mass, 0.0015)
	}
}

func TestWorstCase(t *testing.T) {
	const named = "40 CFR 265 Appendix V, pair 5-A/5-B, names the meeting; yield 34.08/174.4 from atomic weights, m/V, computed"
	freed := measure.Grams(10 * 0.195)
	outside.Check(t, "10 g of K2S3 fully acidified in 30 m3, ppm", named, 47, Mixed(freed, H2SMass, 30), 0.5)
	outside.Check(t, "the same in the nearest cubic metre, ppm", named, 1400, Mixed(freed, H2SMass, NearM3), 10)
	for _, c := range []struct{ ppm, grams float64 }{{1, 0.21}, {10, 2.1}, {100, 21}} {
		for _, g := range ToLimit("K2S3", 0.195, Room{VolumeM3: 30}, Limits(HydrogenSulfide)) {
			if g.PPM == c.ppm {
				outside.Check(t, "grams of K2S3 that bring 30 m3 to "+measure.Plain(c.ppm)+" ppm, "+g.Limit, named, c.grams, g.Grams, c.grams*0.025)
			}
		}
	}
	bath := Bath{FreeG: 10, Volume: 2, Temperature: 60, PH: 10.5}
	drop := bath.Acid("x", "x", PickleMolPerML, Room{VolumeM3: 30}, 0)
	outside.Check(t, "hydrogen sulfide from 1 mL of 100 g/L bisulfate, mg", "NaHSO4 120.05 g/mol, one mol of gas for each, computed", 28, drop.FreedG*1000, 0.5)
	outside.Check(t, "the same in 30 m3, ppm", "computed, m/V", 0.68, *drop.RoomPPM, 0.01)
	outside.Check(t, "the same in the nearest cubic metre, ppm", "computed, m/V", 20, *drop.NearPPM, 0.5)
	outside.Check(t, "1 g of copper in concentrated nitric acid in 30 m3, ppm of nitrogen dioxide", "Cu + 4 HNO3 -> 2 NO2, computed: 48 mg/m3", 26,
		*Loss(NitrogenDioxide, "x", "x", measure.Grams(2*NO2Mass/63.546), NO2Mass, Room{VolumeM3: 30}, 0).RoomPPM, 0.5)
	outside.Check(t, "acid in a spoon of vinegar, mmol", "15 mL of 5 % acetic acid, 60.05 g/mol, computed", 12.5, VinegarSpoonMol*1000, 0.1)
	outside.Check(t, "1 L of 5 g/L liver of sulfur (12.8 % sulfide sulfur) fully acidified in 30 m3, ppm", "sulfurated potash, compendial minimum 12.8 %; 20 mmol, computed", 16,
		Mixed(5*0.128/32.06*H2SMass, H2SMass, 30), 0.5)
}

func TestPurgeAndDilution(t *testing.T) {
	const purge = "room purge equation, t = (V/Q) ln(C0/C1), University of Toledo ventilation notes; example computed"
	outside.Check(t, "47 ppm to 1 ppm at 6 air changes an hour, mixed at once, minutes", purge, 38, ClearMinutes(47, 1, 6, 1), 0.6)
	outside.Check(t, "the same with a mixing factor of 3, minutes", purge, 115, ClearMinutes(47, 1, 6, 3), 0.6)
	outside.Check(t, "hours for a fifty-fold fall at 1 air change an hour", purge+" (about 4 over the air changes)", 4, ClearMinutes(50, 1, 1, 1)/60, 0.1)
	const dilute = "dilution ventilation, Q = K G/C, University of Toledo ventilation notes; example computed"
	oneppm := MgPerM3(1, H2SMass)
	outside.Check(t, "air for 0.287 mg/s at 1 ppm, mixed at once, m3/s", dilute, 0.206, Airflow(0.287, oneppm, 1)/3600, 0.001)
	outside.Check(t, "the same with a mixing factor of 3, m3/s", dilute, 0.62, Airflow(0.287, oneppm, MixingFactor)/3600, 0.005)
	outside.Check(t, "the same, m3/h", dilute, 2220, Airflow(0.287, oneppm, MixingFactor), 20)
}

// K2S3 at 5 g/L: 34.076/174.3746 g of gas for each g.
func k2s3(pH float64, t measure.Celsius) Bath {
	return Bath{FreeG: 5 * 34.076 / 174.3746, Volume: 1, Temperature: t, PH: pH, Surface: 1000}.Filled()
}

func TestHeadspaceTable(t *testing.T) {
	const k2s3Source = "Millero 1988 and Sander 2023, 5 g/L of K2S3 at 60 C, computed"
	for _, c := range []struct{ pH, ppm float64 }{{11, 25}, {10.5, 78}, {10, 250}, {9, 2500}} {
		outside.Check(t, "air under a lid at pH "+measure.Plain(c.pH)+", ppm", k2s3Source, c.ppm, k2s3(c.pH, 60).OverPPM(c.pH), c.ppm*0.06)
	}
	const potash = "Millero 1988 and Sander 2023, 5 g/L of sulfurated potash with 12.8 % sulfide sulfur, computed"
	for _, c := range []struct{ celsius, pH, ppm float64 }{{25, 12, 1.9}, {25, 11, 19}, {25, 10, 188}, {25, 9, 1870}, {50, 11, 17}} {
		outside.Check(t, "still air over the bath at "+measure.Plain(c.celsius)+" C and pH "+measure.Plain(c.pH)+", ppm", potash, c.ppm,
			over(5*0.128/32.06*Fraction(c.pH, measure.Celsius(c.celsius)), measure.Celsius(c.celsius)), c.ppm*0.03)
	}
}

func TestEmissionTable(t *testing.T) {
	const source = "two-film flux with kL 1e-5 m/s, 5 g/L of K2S3 at 60 C, 0.1 m2, 30 m3, 1 air change, mixed at once; computed"
	for _, c := range []struct{ pH, mg, ppm float64 }{{10.5, 0.00013, 0.011}, {10, 0.0004, 0.035}, {9, 0.004, 0.35}, {8, 0.039, 3.4}, {7, 0.287, 25}} {
		g := k2s3(c.pH, 60).source(c.pH)
		outside.Check(t, "gas off the bath at pH "+measure.Plain(c.pH)+", mg/s", source, c.mg, g, c.mg*0.04)
		outside.Check(t, "air that keeps the room at "+measure.Plain(c.ppm)+" ppm, m3/h", source, 30, Airflow(g, MgPerM3(c.ppm, H2SMass), 1), 30*0.05)
	}
}

// The incompatible pair by its name in the United States rules.
func TestNamedPair(t *testing.T) {
	all := reagent.Meetings([]reagent.Group{reagent.Sulfide}, []reagent.Group{reagent.Acid})
	if len(all) == 0 || !strings.Contains(all[0].Source, "5-A") || !strings.Contains(all[0].Source, "5-B") {
		t.Fatalf("%+v", all)
	}
	outside.Text(t, "gas of sulfide solutions with acids", "40 CFR 265 Appendix V, groups 5-A and 5-B: toxic gas, hydrogen sulfide", HydrogenSulfide, all[0].Gas)
}

// The pressure of ammonia over its solutions, against a table of a handbook. Dilute
// solutions follow Henry's law; over strong ones it holds up to twice as much.
func TestAmmoniaPressure(t *testing.T) {
	const handbook = "Perry's Chemical Engineers' Handbook, partial pressure of ammonia over its solutions, from memory"
	for _, c := range []struct{ percent, density, celsius, kPa, within float64 }{{5, 0.98, 20, 4.2, 1.3}, {10, 0.958, 20, 9.3, 2.5}, {5, 0.97, 40, 10.2, 3}} {
		mol := c.percent / 100 * c.density * 1e6 / NH3Mass // mol/m3
		outside.Check(t, "ammonia over "+measure.Plain(c.percent)+" % at "+measure.Plain(c.celsius)+" C, kPa", handbook, c.kPa, mol/HenryAmmonia(measure.Celsius(c.celsius))/1000, c.within)
	}
}

// The alarm of a meter stands at what NIOSH recommends.
func TestAlarms(t *testing.T) {
	for name, want := range map[string]float64{HydrogenSulfide: 10, Ammonia: 35, NitrogenDioxide: 1, Chlorine: 0.5, SulfurDioxide: 5} {
		got, ok := Alarm(name)
		if !ok {
			t.Errorf("no alarm for %s", name)
		}
		outside.Check(t, "ceiling or 15 min limit of "+name+", ppm", "NIOSH pocket guide, recommended exposure limits", want, got.Value, 0)
	}
}
