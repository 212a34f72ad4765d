package safety

import (
	"encoding/json"
	"math"
	"slices"
	"testing"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/metal"
	"hepar/recipe/outside"
	"hepar/recipe/safety/gas"
)

// The worked figures of a bath of pure K2S3, 10 g, in a room of 30 m3.
func TestWorkedRoom(t *testing.T) {
	r := bathOf("liver-of-sulfur:lump", "dip", "rinse 2")
	review := assess(t, Subject{Recipe: r, Bath: 2, Reagents: weighed("liver-of-sulfur", 10), Room: gas.Room{VolumeM3: 30, AirChangesPerHour: 6}, Answers: Answers{PH: 10.5}, BathC: 60, SurfaceCM2: 1000})
	const source = "yield of K2S3 from atomic weights 0.195 g/g, of the compendial product (12.8 % sulfide sulfur) 0.136; m/V; computed"
	all := estimated(t, review, "acid-all")
	outside.Check(t, "10 g of liver of sulfur fully acidified, at most, g of hydrogen sulfide", source, 1.95, all.FreedG, 0.01)
	outside.Check(t, "the same as expected, g", source, 1.36, estimated(t, review, "acid-expected").FreedG, 0.005)
	outside.Check(t, "the same in 30 m3, ppm", source, 47, *all.RoomPPM, 0.5)
	outside.Check(t, "the same in the nearest cubic metre, ppm", source, 1400, *all.NearPPM, 10)
	outside.Check(t, "minutes to clear to 1 ppm at 6 air changes, mixing factor 3", "room purge equation, University of Toledo ventilation notes; computed", 115, all.ClearMin, 1)
	outside.Check(t, "1 mL of 100 g/L bisulfate dragged in, ppm in 30 m3", source, 0.7, *estimated(t, review, "pickle-1-ml").RoomPPM, 0.05)
	outside.Check(t, "the same in the nearest cubic metre, ppm", source, 20, *estimated(t, review, "pickle-1-ml").NearPPM, 0.5)
	for _, g := range review.GramsToLimit {
		if g.Substance != "liver-of-sulfur" {
			t.Errorf("%q is no id", g.Substance)
		}
		if g.Limit == "ACGIH TLV-TWA" {
			outside.Check(t, "grams of liver of sulfur that bring 30 m3 to 1 ppm", source, 0.21, g.Grams, 0.005)
		}
	}
	last := review.Airflow[len(review.Airflow)-1]
	if last.Code != "ph-7" || last.Answer != gas.CaptureOnly {
		t.Errorf("%+v", last)
	}
	if review.AirflowM3H == nil || *review.AirflowM3H != review.Airflow[0].M3H {
		t.Error("no air flow for the bath as planned")
	}
}

// The other gases, from their equations.
func TestOtherGases(t *testing.T) {
	room := gas.Room{VolumeM3: 30, AirChangesPerHour: 1}
	at := func(r *recipe.Recipe) Review { return assess(t, Subject{Recipe: r, Bath: 1, Room: room}) }
	const weights = "IUPAC 2021 atomic weights, computed"
	nitric := at(bathOf("nitric-acid", "dip", "rinse 3"))
	outside.Check(t, "nitrogen dioxide from 1 g of copper in strong nitric acid, g", "Cu + 4 HNO3 -> 2 NO2, "+weights, 1.45, estimated(t, nitric, "nitric-copper-1-g").FreedG, 0.005)
	outside.Check(t, "the same in 30 m3, ppm", "48 mg/m3, computed", 26, *estimated(t, nitric, "nitric-copper-1-g").RoomPPM, 0.5)
	outside.Check(t, "nitrogen dioxide from 1 g of silver, g", "Ag + 2 HNO3 -> NO2, "+weights, 0.43, estimated(t, nitric, "nitric-silver-1-g").FreedG, 0.005)
	outside.Check(t, "nitrogen dioxide from 1 g of cupric nitrate trihydrate on hot metal, g", "Cu(NO3)2 -> CuO + 2 NO2 + O, "+weights, 0.38,
		estimated(t, at(bathOf("copper-nitrate", "dip", "rinse")), "copper-nitrate-hot-1-g").FreedG, 0.005)
	outside.Check(t, "ammonia from 1 g of ammonium chloride with alkali, g", "NH4Cl + OH-, "+weights, 0.32, lookup("ammonium-chloride", "").nitrogenAs(gas.NH3Mass, 0), 0.005)
	outside.Check(t, "sulfur dioxide from 1 g of thiosulfate pentahydrate with acid, g", weights, 0.26, so2PerHypo, 0.005)
	outside.Check(t, "chlorine from 1 g of hypochlorite with acid, g", "NaOCl + 2 HCl -> Cl2, "+weights, 0.95, chlorinePer, 0.005)
	// 5 g/L of 25 % solution by mass: the strongest that the test recipe has.
	outside.Check(t, "ammonia in 1 L with 5 g of 25 % solution, g", weights, 1.25, estimated(t, at(bathOf("ammonia", "dip")), "ammonia-all").FreedG, 0.005)
	bleach := at(bathOf("sodium-hypochlorite, ammonia", "dip"))
	if estimated(t, bleach, "bleach-ammonia").Gas != gas.Chloramine || len(bleach.Stops()) == 0 {
		t.Error("bleach with ammonia")
	}
	for _, e := range at(bathOf("citric-acid", "dip", "rinse 2")).Gas {
		t.Errorf("a citric pickle is estimated to give %+v", e)
	}
}

func TestBadRoomsAndFigures(t *testing.T) {
	r := bathOf("liver-of-sulfur", "dip", "rinse 2")
	nan, inf := math.NaN(), math.Inf(1)
	for name, s := range map[string]Subject{
		"half a cubic metre": {Room: gas.Room{VolumeM3: 0.5}}, "a negative room": {Room: gas.Room{VolumeM3: -3}}, "no number of a room": {Room: gas.Room{VolumeM3: nan}}, "an endless room": {Room: gas.Room{VolumeM3: inf}},
		"air backwards": {Room: gas.Room{AirChangesPerHour: -1}}, "a gale": {Room: gas.Room{AirChangesPerHour: 1e5}},
		"pH 15": {Answers: Answers{PH: 15}}, "pH -1": {Answers: Answers{PH: -1}}, "pH nan": {Answers: Answers{PH: nan}}, "a boiling bath": {BathC: 101}, "ice": {BathC: -5}, "surface nan": {SurfaceCM2: nan}, "surface -1": {SurfaceCM2: -1},
		"drag-out nan": {DragOutMLM2: nan}, "drag-out inf": {DragOutMLM2: inf},
		"a limit without a reason": {Limits: []gas.Limit{{Gas: gas.HydrogenSulfide, List: "x", Value: 1}}}, "a limit for nothing known": {Limits: []gas.Limit{{Gas: "phlogiston", List: "x", Value: 1, Reason: "y"}}},
	} {
		s.Recipe = r
		_, err := Assess(s)
		if fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestOwnLimitIsUsedAndKept(t *testing.T) {
	r := bathOf("liver-of-sulfur", "dip", "rinse 2")
	own := gas.Limit{Gas: gas.HydrogenSulfide, List: "ACGIH TLV-TWA", Value: 5, Reason: "the insurer's list of 2026"}
	review := assess(t, Subject{Recipe: r, Limits: []gas.Limit{own}})
	if !slices.ContainsFunc(review.Limits, func(l gas.Limit) bool { return l.Kind == gas.Own && l.Value == 5 && l.Reason == own.Reason }) {
		t.Error("the limit is not among those listed")
	}
}

// The keys of the JSON are stable.
func TestReviewJSON(t *testing.T) {
	for _, bath := range []string{"liver-of-sulfur", "detergent"} {
		data, err := json.Marshal(assess(t, Subject{Recipe: bathOf(bath, "dip", "rinse 2"), Bath: 1}))
		if err != nil {
			t.Fatal(err)
		}
		var m map[string]any
		if err := json.Unmarshal(data, &m); err != nil {
			t.Fatal(err)
		}
		for _, key := range []string{"emergency", "points", "confirm", "read", "gas", "grams_to_limit", "airflow_m3_h", "airflow", "limits", "inputs", "note"} {
			if _, ok := m[key]; !ok {
				t.Errorf("%s: no key %s", bath, key)
			}
		}
		if bath == "detergent" {
			if m["airflow_m3_h"] != nil || len(m["gas"].([]any)) != 0 {
				t.Error("soap gives gas")
			}
			continue
		}
		e := m["gas"].([]any)[0].(map[string]any)
		for _, key := range []string{"gas", "scenario", "room_ppm", "near_ppm", "headspace_ppm", "factor", "room_ppm_low", "room_ppm_high", "note"} {
			if _, ok := e[key]; !ok {
				t.Errorf("no key %s in an estimate", key)
			}
		}
		g := m["grams_to_limit"].([]any)[0].(map[string]any)
		for _, key := range []string{"substance", "limit", "ppm", "grams"} {
			if _, ok := g[key]; !ok {
				t.Errorf("no key %s in the grams", key)
			}
		}
	}
}

// The helper baths and brushed recipes are reckoned without a batch as well.
func TestEveryBuiltinInARoom(t *testing.T) {
	for _, r := range library(t) {
		for _, a := range r.Alloys[:1] {
			alloy, err := metal.Find(a)
			if err != nil {
				t.Fatal(err)
			}
			review := assess(t, Subject{Recipe: r, Alloy: &alloy, Bath: 1.5, MetalArea: 900, Answers: Answers{PH: 10.8}, Room: gas.Room{VolumeM3: 32, AirChangesPerHour: 4}, Lid: true})
			if got := review.Stops(); len(got) > 0 {
				t.Errorf("%s: %v", r.Slug, got)
			}
		}
	}
}

// All baths of the plan count, with what strengthens them, and the drum they end in.
func TestGasOfThePlan(t *testing.T) {
	one := weighed("liver-of-sulfur", 10)
	plan := slices.Concat(one, weighed("liver-of-sulfur", 10), weighed("liver-of-sulfur", 3))
	r := assess(t, Subject{Recipe: bathOf("liver-of-sulfur:lump", "dip; rinse 2"), Bath: 2, Reagents: one, Plan: plan})
	outside.Check(t, "hydrogen sulfide of 23 g of liver of sulfur in all baths, g", "0.195 g/g from atomic weights, computed", 23*0.195, estimated(t, r, "acid-plan").FreedG, 0.03)
	outside.Check(t, "of the 10 g of one bath, g", "0.195 g/g from atomic weights, computed", 1.95, estimated(t, r, "acid-all").FreedG, 0.01)
}

// Without a measured pH there is a band, as wide as its factor says, at the pH of the
// temperature; outdoors is a room; thiosulfate of a step counts; ammonia has an estimate
// as planned.
func TestBandsRoomsAndOtherBaths(t *testing.T) {
	hot, cold := assess(t, Subject{Recipe: bathOf("liver-of-sulfur", "dip"), BathC: 75}), assess(t, Subject{Recipe: bathOf("liver-of-sulfur", "dip"), BathC: 25})
	planned := estimated(t, hot, "as-planned")
	if planned.RoomPPM != nil || planned.Factor*planned.Factor < 0.95*planned.RoomHighPPM/planned.RoomLowPPM || hot.AirflowM3H != nil {
		t.Errorf("%+v", planned)
	}
	from := func(r Review) float64 {
		i := slices.IndexFunc(r.Inputs, func(in gas.Input) bool { return in.Name == "pH at that temperature, from" })
		return r.Inputs[i].Value
	}
	outside.Check(t, "pH that a bath loses between 25 and 75 C", "ion product of water, 13.99 at 25 C and 12.71 at 75 C: about a unit; from memory", 1, from(cold)-from(hot), 0.3)
	if out := assess(t, Subject{Recipe: bathOf("liver-of-sulfur", "dip"), Room: gas.Room{Outdoors: true}}); estimated(t, out, "as-planned").RoomHighPPM >= estimated(t, cold, "as-planned").RoomHighPPM {
		t.Error("outdoors the air is no thinner")
	}
	if e := estimated(t, assess(t, Subject{Recipe: bathOf("copper-carbonate, ammonia", "dip")}), "ammonia-planned"); e.RoomPPM != nil || e.RoomHighPPM <= 0 || e.Factor < gas.Factor {
		t.Errorf("%+v", e)
	}
	outside.Check(t, "sulfur dioxide from 5 g of thiosulfate pentahydrate with acid, g", "IUPAC 2021 atomic weights, computed", 1.29,
		estimated(t, assess(t, Subject{Recipe: bathOf("sodium-thiosulfate:pentahydrate", "dip")}), "thiosulfate-acid").FreedG, 0.02)
}

// What acid is dragged in: 27 dm2 with 81.5 mL/m2 is 22 mL; at 100 g/L of bisulfate
// 0.833 mmol/mL, one mol of gas for each.
func TestDragIn(t *testing.T) {
	const source = "plating handbook drag-out 2 gal/1000 ft2, from memory; NaHSO4 120.05 g/mol, one mol of gas for each, computed"
	r := bathOf("liver-of-sulfur", "pickle sodium-bisulfate; rinse 2; dip; rinse 2")
	r.Steps[0].Concentration = gramsPerL(100, 100, 100)
	s := Subject{Recipe: r, MetalArea: 2700, DragOutMLM2: 81.5, Bath: 2, Reagents: weighed("liver-of-sulfur", 10)}
	review := assess(t, s)
	outside.Check(t, "27 dm2 of unrinsed pieces from 100 g/L of bisulfate into sulfide, mg of hydrogen sulfide", source, 0.2700*81.5/1000*100/120.054*34.076*1000, estimated(t, review, "drag-in-unrinsed").FreedG*1000, 2)
	// Each of two tubs of 2 L thins 22 mL ninety-two times.
	thin := (2000 + 22.005) / 22.005
	outside.Check(t, "the same after two rinses of 2 L, mg", source+"; two dilutions of 1:92, computed", 624.6/thin/thin, estimated(t, review, "drag-in-rinsed").FreedG*1000, 0.001)
	s.With = []string{"hollow"}
	if slices.ContainsFunc(assess(t, s).Gas, func(e gas.Estimate) bool { return e.Code == "drag-in-rinsed" }) {
		t.Error("a rinse is trusted with hollow pieces")
	}
	s.Reagents = weighed("liver-of-sulfur", 0.1)
	if got := estimated(t, assess(t, s), "drag-in-unrinsed").FreedG; got > 0.1*0.1954*1.01 {
		t.Errorf("%v g from 0.1 g of liver of sulfur", got)
	}
}
