package bath

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

func TestWarnings(t *testing.T) {
	black := master(t, "silver-black")
	known := func(keys ...string) map[string]bool {
		m := map[string]bool{}
		for _, k := range keys {
			m[k] = true
		}
		return m
	}
	of := func(material string) plan.Vessel {
		v := tub()
		v.Material = material
		return v
	}
	tests := []struct {
		name  string
		order Order
		code  string
	}{
		{"loads cut", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 40}}, PerLoad: 20, Vessel: tub()}}, "per-load"},
		{"more asked than fit, and than there are", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 10}}, PerLoad: 500, Vessel: tub()}}, "per-load"},
		{"more than lies in a bath without a vessel", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 200}}, Volume: 5}}, "vessel-unknown"},
		{"boiling water into what may be glass", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 4}}, Vessel: tub()}}, "thick-glass"},
		{"a balance of 1 g", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 4}}, Volume: 0.5}, Shop: Shop{ReadabilityG: 1, Known: known("balance.readability")}}, "balance"},
		{"less than one step of the balance", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 1}}, Volume: 0.1}, Shop: Shop{ReadabilityG: 1, Known: known("balance.readability")}}, "too-fine"},
		{"water not hot enough", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 4}}, Volume: 1}, Shop: Shop{HotWater: 55, Known: known("water.hot")}}, "heat"},
		{"plate in a strong bath", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 4}}, Volume: 1}, Plate: 0.001}, "plate"},
		{"more reagent than vessel", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 40}}, Vessel: tub()}, Have: 50}, "reagent-over"},
		{"not covered", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 4}}, Volume: 0.3, Vessel: tub()}}, "cover"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			test.order.Recipe, test.order.Kinds[0].Piece = black, round(t)
			if s := sheet(t, test.order); !warned(s, test.code) {
				t.Errorf("no warning %s: %v", test.code, s.Warnings)
			}
		})
	}
	if s := sheet(t, Order{Recipe: black, Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 40}}, Vessel: of("borosilicate")}, Shop: Shop{HotWater: 95, ColdWater: 15, Air: heat.Air{Ambient: 20}, ReadabilityG: 0.01, CylinderML: 1,
		Known: known("balance.readability", "balance.cylinder", "water.hot", "water.cold", "room.temperature")}}); len(s.Warnings) != 0 {
		t.Errorf("an ordinary batch is warned about: %v", s.Warnings)
	}
	// The material of the vessel decides what is warned of and what warmth it takes.
	for material, codes := range map[string]string{"": "thick-glass", "glass": "thick-glass", "borosilicate": "", "enamel": "", "glazed": "hot-vessel", "plastic": "hot-vessel", "steel": "bare-metal"} {
		for _, r := range []string{"silver-black", "pickle-citric", "bronze-light-brown"} {
			s := sheet(t, Order{Recipe: master(t, r), Anyway: true, Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 4}}, Vessel: of(material)}})
			for _, code := range []string{"thick-glass", "hot-vessel", "bare-metal"} {
				want := code == codes && (code != "bare-metal" || r != "bronze-light-brown") && (code == "bare-metal" || s.Bath.Water.HotL > 0)
				if warned(s, code) != want {
					t.Errorf("%s in %q: %s %v, want %v", r, material, code, !want, want)
				}
			}
			if i := slices.IndexFunc(s.Assumptions, func(a plan.Assumption) bool {
				return strings.HasPrefix(a.Name, "vessel wall, "+cmp.Or(material, "taken as glass"))
			}); i < 0 || s.Assumptions[i].Value != of(material).Wall().MM {
				t.Errorf("%s in %q: no wall among %v", r, material, s.Assumptions)
			}
		}
	}
	// Even loads of 20 are no loads of 30 cut, and no warning.
	if s := sheet(t, Order{Recipe: black, Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 40}}, PerLoad: 30, Volume: 3}}); warned(s, "per-load") || len(s.Loads) != 2 {
		t.Errorf("%d loads, warnings %v", len(s.Loads), s.Warnings)
	}
	if s := sheet(t, Order{Recipe: master(t, "silver-black-plate"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 6}}, Volume: 1}}); !warned(s, "plate-unknown") {
		t.Error("plate of unknown thickness passes in silence")
	}
	custom := piece(t, "fine-999", "custom", metal.Dimensions{Area: 27})
	// The area bounds a load where no size is known, with a side or without one; a chain folds up.
	for _, c := range []struct {
		size metal.Dimensions
		most int
	}{{metal.Dimensions{Area: 27}, 20}, {metal.Dimensions{Area: 27, Length: 60}, 20}, {metal.Dimensions{Area: 2000}, 1}, {metal.Dimensions{Area: 27, Length: 30, Width: 10}, 80}} {
		s := sheet(t, Order{Recipe: black, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece(t, "fine-999", "custom", c.size), Pieces: 80}}, Vessel: tub()}})
		assumed := slices.ContainsFunc(s.Assumptions, func(a plan.Assumption) bool { return a.Name == "width of the piece" })
		if n := s.Run.Capacity.Pieces; n > c.most || n == 0 || assumed != (c.size.Width == 0) || warned(s, "floor-unknown") != assumed {
			t.Errorf("%+v: loads of %d, want %d at most; assumed %v, %v", c.size, n, c.most, assumed, s.Warnings)
		}
	}
	if s := sheet(t, Order{Recipe: black, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece(t, "fine-999", "chain", metal.Dimensions{Wire: 1, Mass: 10}), Pieces: 80}}, Vessel: tub()}}); !warned(s, "floor-unknown") || s.Run.Capacity.By == "touching" {
		t.Errorf("chains: %+v", s.Run.Capacity)
	}
	if s := sheet(t, Order{Recipe: black, Asked: plan.Asked{Kinds: []job.Kind{{Piece: custom, Pieces: 6}}, Vessel: tub()}}); !warned(s, "piece") || !warned(s, "extent-unknown") {
		t.Errorf("unknown mass and size pass in silence: %v", s.Warnings)
	}
}

// TestBrushedScalesByAreaAndCoats: not by bath volume.
func TestBrushedScalesByAreaAndCoats(t *testing.T) {
	green := master(t, "green-antique-35")
	p := piece(t, "copper-c110", "bar", metal.Dimensions{Length: 500, Width: 400, Thickness: 1})
	one := sheet(t, Order{Recipe: green, Asked: plan.Asked{Kinds: []job.Kind{{Piece: p, Pieces: 1}}}})
	ten := sheet(t, Order{Recipe: green, Asked: plan.Asked{Kinds: []job.Kind{{Piece: p, Pieces: 10}}}})
	if math.Abs(ten.Bath.VolumeL-10*one.Bath.VolumeL) > 1e-9 || len(one.Loads) != 0 || one.Coats == nil {
		t.Errorf("one sheet %g L, ten %g L, %d loads", one.Bath.VolumeL, ten.Bath.VolumeL, len(one.Loads))
	}
	want := float64(p.Area) / 1e4 * green.Coats.Number.At * float64(green.Coats.Spread.At) / 1000
	if math.Abs(one.Bath.VolumeL-want) > 1e-12 {
		t.Errorf("%g L, want area x coats x spread = %g L", one.Bath.VolumeL, want)
	}
	// 100 m2 sprayed five times: 25 L (CABRA sheet, German plating lexicon).
	spray := master(t, "green-sulfate-spray")
	roof := piece(t, "copper-c110", "custom", metal.Dimensions{Area: 1e6})
	s := sheet(t, Order{Recipe: spray, Asked: plan.Asked{Kinds: []job.Kind{{Piece: roof, Pieces: 1}}}})
	outside.Same(t, "spray for 100 m2, L", "CABRA spray, German plating lexicon", 25, s.Bath.VolumeL, 0.01)
}

func TestPickleIsNeutralisedByStoichiometry(t *testing.T) {
	s := sheet(t, Order{Recipe: master(t, "pickle-bisulfate"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece(t, "sterling-925", "disc", metal.Dimensions{Diameter: 30, Thickness: 1}), Pieces: 20}}, Volume: 2}})
	last := s.Rinses[0]
	if last.Do != "spent bath" || last.LeastGrams == nil {
		t.Fatalf("no figure for the spent pickle: %+v", s.Rinses)
	}
	outside.Same(t, "bicarbonate for 350 g of bisulfate, g", "stoichiometry from IUPAC atomic weights 2021 (0.6997 g/g)", 0.6997*350, *last.LeastGrams, 0.05)
	for _, r := range s.Rinses {
		if r.Do == "neutralise" && r.LeastGrams != nil && *r.LeastGrams > *r.Grams {
			t.Errorf("the carried acid wants %g g, the tub holds %g g", *r.LeastGrams, *r.Grams)
		}
	}
}

// TestRoundingStaysInRange: a step of the balance does not carry a reagent out of
// the recipe's range where the next step is inside.
func TestRoundingStaysInRange(t *testing.T) {
	s := sheet(t, Order{Recipe: master(t, "bronze-dark-brown"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece(t, "bronze-c220", "ball", metal.Dimensions{Diameter: 12}), Pieces: 20}}, Volume: 1.123}})
	if warned(s, "balance") {
		t.Errorf("rounding to 0.1 g in 1.123 L leaves the range: %v", s.Warnings)
	}
	for _, r := range s.Bath.Reagents {
		per := r.GramsPerLiter
		if per == nil {
			per = r.MillilitersPerLiter
		}
		if *per < r.FromPerLiter-1e-9 || *per > r.ToPerLiter+1e-9 {
			t.Errorf("%s at %g, range %g to %g", r.Substance, *per, r.FromPerLiter, r.ToPerLiter)
		}
	}
}

// TestRunningRinse: a hundred to one in one tub takes 99 times the drag-out, two
// tubs against the work far less.
func TestRunningRinse(t *testing.T) {
	s := sheet(t, Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 40}}, Vessel: tub()}})
	for _, r := range s.Rinses {
		if r.Do != "rinse" {
			continue
		}
		perMinute := s.MetalAreaDM / 100 * 81.5 / 1000 / s.Run.Totals.Minutes
		outside.Same(t, "flow over drag-out for 100:1 in one tub", "rinse design notes: (D + Q)/D", 99, r.RunningLMin/perMinute, 1e-6)
		// n = 2: (q - 1)/(q^3 - 1) = 1/(q^2 + q + 1) = 1/100, so q = 9.46.
		outside.Same(t, "flow over drag-out for 100:1 through two tubs", "exact counter-flow formula", 9.4624, r.CounterLMin/perMinute, 1e-3)
		return
	}
	t.Fatal("no rinse on the sheet")
}

func TestWaterReachesTheTemperature(t *testing.T) {
	s := sheet(t, Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 4}}, Volume: 3}})
	w := s.Bath.Water
	// 13.5 g of liver of sulfur take 0.4 mL each. Density of water, kg/L, at 15, 75 and 95 C:
	// 0.9991, 0.9749, 0.9619 (CRC handbook, from memory).
	hot, cold := w.HotL*0.9619, w.ColdL*0.9991
	if got := (hot + cold) / 0.9749; math.Abs(got-(3-0.0054)) > 0.01 {
		t.Errorf("the water makes %g L for a bath of 3 L with 13.5 g of solids", got)
	}
	// The cold salt takes 0.9 kJ, a tenth of a degree.
	if mixed := (hot*w.HotC + cold*w.ColdC) / (hot + cold); math.Abs(mixed-s.Run.StartC-0.07) > 0.1 {
		t.Errorf("the water alone comes to %g C, the bath starts at %g", mixed, s.Run.StartC)
	}
	// 100 one-ounce rounds of 20 C into 4 L at 60 C: 58.3 C (computed from the specific heats).
	if hot, _, _ := reagent.HotCold(4000, 95, 15, 60); hot <= 0 || hot >= 4000 {
		t.Errorf("hot share %g", hot)
	}
}

// TestScalingIsLinear: twice the bath, twice the reagent and the water.
func TestScalingIsLinear(t *testing.T) {
	black, p := master(t, "silver-black"), round(t)
	fine := Shop{ReadabilityG: 1e-6, CylinderML: 1e-6, Known: map[string]bool{"balance.readability": true, "balance.cylinder": true}}
	rapid.Check(t, func(rt *rapid.T) {
		v := rapid.Float64Range(0.3, 50).Draw(rt, "volume")
		one, err := Prepare(Order{Recipe: black, Asked: plan.Asked{Kinds: []job.Kind{{Piece: p, Pieces: 2}}, Volume: measure.Liters(v)}, Shop: fine})
		if err != nil {
			rt.Fatal(err)
		}
		two, err := Prepare(Order{Recipe: black, Asked: plan.Asked{Kinds: []job.Kind{{Piece: p, Pieces: 2}}, Volume: measure.Liters(2 * v)}, Shop: fine})
		if err != nil {
			rt.Fatal(err)
		}
		if a, b := *one.Bath.Reagents[0].Grams, *two.Bath.Reagents[0].Grams; math.Abs(b-2*a) > 2e-6 {
			rt.Fatalf("%g g for one, %g g for two", a, b)
		}
	})
}

// TestAnyOrderKeepsItsPromises throws orders at Prepare; what is refused is
// refused with an error, what is not keeps the promises of the package.
func TestAnyOrderKeepsItsPromises(t *testing.T) {
	masters := []string{"silver-black", "silver-colours-weak", "copper-brown-black", "green-antique-40", "pickle-citric", "stop-soda", "bronze-light-brown"}
	p := round(t)
	rapid.Check(t, func(rt *rapid.T) {
		o := Order{Recipe: master(t, rapid.SampledFrom(masters).Draw(rt, "recipe")), Asked: plan.Asked{Kinds: []job.Kind{{Piece: p, Pieces: rapid.IntRange(1, 5000).Draw(rt, "pieces"), Spares: rapid.IntRange(0, 20).Draw(rt, "spares")}}, Group: rapid.IntRange(0, 4).Draw(rt, "group"), PerLoad: rapid.SampledFrom([]int{0, 1, 7, 50}).Draw(rt, "perLoad")}, Anyway: true}
		if rapid.Bool().Draw(rt, "vessel") {
			o.Vessel = plan.Vessel{Length: measure.Millimeters(rapid.Float64Range(20, 400).Draw(rt, "length")), Width: 150, Height: measure.Millimeters(rapid.Float64Range(20, 300).Draw(rt, "height"))}
		}
		if rapid.Bool().Draw(rt, "volume") {
			o.Volume = measure.Liters(rapid.Float64Range(0.001, 20).Draw(rt, "liters"))
		}
		s, err := Prepare(o)
		if err != nil {
			return
		}
		promised(t, o, s)
	})
}

func TestParseVessel(t *testing.T) {
	for text, want := range map[string]plan.Vessel{
		"200x140x90mm":         {Length: 200, Width: 140, Height: 90},
		"150x180mm":            {Diameter: 150, Height: 180},
		"20 x 14 x 9 cm":       {Length: 200, Width: 140, Height: 90},
		"200mm x 14cm x 90 mm": {Length: 200, Width: 140, Height: 90},
		"8x6x4in":              {Length: 203.2, Width: 152.4, Height: 101.6},
	} {
		got, err := plan.ParseVessel(text)
		if err != nil || math.Abs(float64(got.Length-want.Length)) > 1e-9 || math.Abs(float64(got.Height-want.Height)) > 1e-9 || got.Diameter != want.Diameter {
			t.Errorf("%s: %+v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "200", "200x140x90", "200x140", "axb mm", "200x-3x90mm", "200x140x90x20mm", "200x0x90mm", "1e9x1x1mm", "nanxnanxnanmm", "20000x2x2m"} {
		if v, err := plan.ParseVessel(text); err == nil {
			t.Errorf("%q was taken for %+v", text, v)
		}
	}
}

func BenchmarkPrepare(b *testing.B) {
	o := Order{Recipe: master(b, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(b), Pieces: 200}}, Vessel: tub()}}
	for b.Loop() {
		if _, err := Prepare(o); err != nil {
			b.Fatal(err)
		}
	}
}

// TestWaterOfAllTubs adds up by hand: a bath of 2 L, before it three tubs of rinse, after it
// two tubs, soda and one more rinse, each as large as the bath.
func TestWaterOfAllTubs(t *testing.T) {
	s := sheet(t, Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 4}}, Volume: 2}})
	if got := s.Run.Totals; math.Abs(got.WaterL-16) > 0.1 || math.Abs(got.WasteL-10) > 1e-9 {
		t.Errorf("%g L of water, %g L of waste; want 16 and 10", got.WaterL, got.WasteL)
	}
}

// TestWarmUp compares with the heat that water takes, 4.18 kJ/(kg K): two liters from 20 to
// 85 C on 300 W need 30 min without losses; with them more, and less than twice as much.
func TestWarmUp(t *testing.T) {
	o := Order{Recipe: master(t, "bronze-dark-brown"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece(t, "bronze-c220", "disc", metal.Dimensions{Diameter: 34, Thickness: 2.5}), Pieces: 4}}, Volume: 2, Heat: plan.Heat{Kind: plan.Plate, Watts: 300}}}
	if s := sheet(t, o); s.Run.WarmMin < 30 || s.Run.WarmMin > 60 || s.Work.Shares[1].Minutes < s.Run.WarmMin {
		t.Errorf("%g min to warm up; %+v", s.Run.WarmMin, s.Work.Shares[1])
	}
	o.Heat = plan.Heat{}
	if s := sheet(t, o); s.Run.WarmMin != 0 {
		t.Errorf("%g min with nothing that heats", s.Run.WarmMin)
	}
}

// TestFurtherBathIsWarmedToo: a bath that is mixed cold is not hot after ten minutes, and a
// kettle does not warm it.
func TestFurtherBathIsWarmedToo(t *testing.T) {
	medal := piece(t, "bronze-c510", "bar", metal.Dimensions{Length: 60, Width: 40, Thickness: 4})
	o := Order{Recipe: master(t, "bronze-dark-brown"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: medal, Pieces: 24}}, Vessel: tub()}}
	s := sheet(t, o)
	i := slices.IndexFunc(s.Events, func(e EventLine) bool { return e.Do == plan.FreshBath })
	// 1.89 L from 20 to 80 C take 16 min on 500 W without losses.
	if i < 0 || s.Events[i].Minutes < 10+16 || s.Run.Totals.Minutes < s.Events[i].Minutes || !strings.Contains(s.Events[i].Text, "mixed as the first and warmed to ") {
		t.Errorf("%+v, %g min at the bath", s.Events, s.Run.Totals.Minutes)
	}
	for kind, want := range map[plan.HeatKind]string{plan.NoHeat: "No heater is given", plan.Kettle: "A kettle cannot warm a bath that is mixed"} {
		o.Heat.Kind = kind
		s := sheet(t, o)
		if i := slices.IndexFunc(s.Warnings, func(w plan.Warning) bool { return w.Code == "warm-after" }); i < 0 || !strings.Contains(s.Warnings[i].Text, want) {
			t.Errorf("%s: %+v", kind, s.Warnings)
		}
	}
}

// TestStrengthDoesNotDependOnTheShelf: a gel of 30 % and lumps make the same bath, which loses
// the same to the air. A plan once lost less the more the reagent was diluted on the shelf.
func TestStrengthDoesNotDependOnTheShelf(t *testing.T) {
	o := Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 60}}, PerLoad: 5, Volume: 2}}
	lump := sheet(t, o).Run
	o.Supplies = map[string]Supply{"": {Form: "gel", Percent: 30}}
	gel := sheet(t, o).Run
	if math.Abs(gel.Shares.AirPercent-lump.Shares.AirPercent) > 0.5 || math.Abs(gel.LeastStrength-lump.LeastStrength) > 0.002 {
		t.Errorf("of gel %+v, %g; of lumps %+v, %g", gel.Shares, gel.LeastStrength, lump.Shares, lump.LeastStrength)
	}
}
