package bath

import (
	"math"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/fault"
	"hepar/recipe/metal"
	"hepar/recipe/outside"
	"hepar/recipes"
)

// master returns a built-in recipe.
func master(t testing.TB, slug string) *recipe.Recipe {
	t.Helper()
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	r, err := library.Get(slug)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func piece(t testing.TB, alloy, shape string, d metal.Dimensions) metal.Piece {
	t.Helper()
	a, err := metal.Find(alloy)
	if err != nil {
		t.Fatal(err)
	}
	p, err := metal.New(shape, a, d)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// round is the one-troy-ounce fine silver round of 39.0 mm.
func round(t testing.TB) metal.Piece {
	return piece(t, "fine-999", "disc", metal.Dimensions{Diameter: 39, Mass: 31.1034768})
}

// sheet prepares an order that must go well, and checks what every sheet promises.
func sheet(t testing.TB, o Order) *Sheet {
	t.Helper()
	s, err := Prepare(o)
	if err != nil {
		t.Fatalf("%v (%s)", err, fault.CureOf(err))
	}
	promised(t, o, s)
	return s
}

// promised checks the promises of the package comment.
func promised(t testing.TB, o Order, s *Sheet) {
	t.Helper()
	total := 0
	mixed := map[int]float64{1: 0} // in min, by the bath
	for _, e := range s.Events {
		if e.Do == plan.FreshBath {
			mixed[len(mixed)+1] = e.AtMin
		}
	}
	for i, l := range s.Loads {
		total += l.Pieces
		if life := float64(s.BathLife()) / 60; life > 0 && l.StartMin-mixed[l.Bath] > life {
			t.Errorf("load %d goes into a bath that is to be discarded after %g min", l.Number, life)
		}
		if l.Number != i+1 || l.Pieces <= 0 || l.DipS < 0 || l.StartMin < 0 {
			t.Errorf("load %d: %+v", i, l)
		}
		if o.Group > 1 && l.Pieces%o.Group != 0 {
			t.Errorf("load %d splits a set of %d: %d pieces", l.Number, o.Group, l.Pieces)
		}
	}
	if !o.Recipe.Kind.Coated() && total != o.Count() {
		t.Errorf("%d pieces in the loads, %d ordered", total, o.Count())
	}
	figures := []float64{s.Bath.VolumeL, s.Bath.Water.HotL, s.Bath.Water.ColdL, s.MetalAreaDM, s.Bath.DepthMM}
	for _, r := range s.Bath.Reagents {
		for _, f := range []*float64{r.Grams, r.Milliliters, r.GramsPerLiter, r.MillilitersPerLiter} {
			if f != nil {
				figures = append(figures, *f)
			}
		}
		figures = append(figures, r.ReadingPercent)
	}
	for _, f := range figures {
		if math.IsNaN(f) || math.IsInf(f, 0) || f < 0 {
			t.Errorf("a figure on the sheet is %v", f)
		}
	}
}

func warned(s *Sheet, code string) bool {
	for _, w := range s.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

func tub() plan.Vessel { return plan.Vessel{Length: 200, Width: 140, Height: 90} }

func TestVolumeAndWhatLimitsIt(t *testing.T) {
	black := master(t, "silver-black")
	tests := []struct {
		name   string
		order  Order
		liters float64
		by     string
		loads  int
	}{
		// 40 x 0.269329 dm2 / (2 dm2/L) = 5.39 L is more than 0.75 x 90 mm of the tub.
		{"vessel", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 40}}, Vessel: tub()}}, 1.89, "vessel", 3}, // fifteen lie there a millimetre apart
		// 5 pieces want 0.67 L, but 39 mm + ... lying flat 2.48 + 20 mm over 280 cm2 is 0.63 L: the load decides.
		{"load in a vessel", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 5}}, Vessel: tub()}}, 5 * 0.269329 / 2, "load", 1},
		{"cover", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 1}}, Vessel: tub()}}, 280 * 2.24821 / 1000, "cover", 1},
		{"volume", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 40}}, Volume: 3}}, 3, "volume", 1},
		{"bench", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 200}}}}, 5, "bench", 1},
		{"smallest that serves", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 10}}}}, 10 * 0.269329 / 2, "load", 1},
		{"per load", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 200}}, PerLoad: 8}}, 8 * 0.269329 / 2, "load", 25},
		// 12 g at 4.5 g/L.
		{"have", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 40}}}, Have: 12}, 12 / 4.5, "reagent", 1},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			test.order.Recipe, test.order.Kinds[0].Piece = black, round(t)
			s := sheet(t, test.order)
			if math.Abs(s.Bath.VolumeL-test.liters) > 2e-4 || s.Bath.LimitedBy != test.by || len(s.Loads) != test.loads {
				t.Errorf("got %.4f L by %s in %d loads, want %.4f L by %s in %d", s.Bath.VolumeL, s.Bath.LimitedBy, len(s.Loads), test.liters, test.by, test.loads)
			}
		})
	}
}

func TestReagentFollowsTheRecipe(t *testing.T) {
	s := sheet(t, Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 40}}, Volume: 4}})
	got := s.Bath.Reagents[0]
	outside.Same(t, "liver of sulfur for 4 L, from the middle of 4 to 5 g/L", "Workshop Receipts, First Series (Spon), 'Oxidised silver': 4-5 per mille", 18, *got.Grams, 1e-9)
	// 45 grains per US quart is 3.08 g/L.
	plate := sheet(t, Order{Recipe: master(t, "silver-black-plate"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 4}}, Volume: 1}, Plate: 0.005})
	if most := plate.Bath.Reagents[0].ToPerLiter; most > 3.1 {
		t.Errorf("thin plate gets up to %g g/L, Henley's has 45 grains to the quart, 3.08 g/L", most)
	}
	copper := sheet(t, Order{Recipe: master(t, "copper-brown-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece(t, "copper-c110", "disc", metal.Dimensions{Diameter: 30, Thickness: 2}), Pieces: 4}}, Volume: 3.785411784}})
	outside.Same(t, "ceiling for a US gallon, in g", "Art Metalwork (Payne): 3 oz potassium sulfide to the gallon", 85.05, copper.Bath.Reagents[0].ToPerLiter*3.785411784, 0.2)
}

// TestFormAndPurity checks what stands on the shelf against what the recipe speaks of.
func TestFormAndPurity(t *testing.T) {
	green := master(t, "copper-green-sulfate")
	p := piece(t, "copper-c110", "bar", metal.Dimensions{Length: 50, Width: 28, Thickness: 2.1})
	base := sheet(t, Order{Recipe: green, Asked: plan.Asked{Kinds: []job.Kind{{Piece: p, Pieces: 10}}, Volume: 2}})
	dry := sheet(t, Order{Recipe: green, Asked: plan.Asked{Kinds: []job.Kind{{Piece: p, Pieces: 10}}, Volume: 2}, Supplies: map[string]Supply{"copper-sulfate": {Form: "anhydrous"}}})
	outside.Same(t, "pentahydrate for each g of anhydrous copper sulfate", "molar masses from IUPAC atomic weights 2021",
		1.56437, *base.Bath.Reagents[0].Grams / *dry.Bath.Reagents[0].Grams, 0.001)
	half := sheet(t, Order{Recipe: green, Asked: plan.Asked{Kinds: []job.Kind{{Piece: p, Pieces: 10}}, Volume: 2}, Supplies: map[string]Supply{"copper-sulfate": {Percent: 50}}})
	if got := *half.Bath.Reagents[0].Grams; math.Abs(got-2**base.Bath.Reagents[0].Grams) > 0.11 {
		t.Errorf("at half the purity %g g, whole %g g", got, *base.Bath.Reagents[0].Grams)
	}
	_, err := Prepare(Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 4}}, Volume: 1}, Supplies: map[string]Supply{"liver-of-sulfur": {Form: "gel"}}})
	if err == nil || !strings.Contains(err.Error(), "strength") {
		t.Errorf("a gel of unknown strength was not asked for: %v", err)
	}
	gel := sheet(t, Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 4}}, Volume: 1}, Supplies: map[string]Supply{"liver-of-sulfur": {Form: "gel", Percent: 30}}})
	if got := *gel.Bath.Reagents[0].Grams; math.Abs(got-15) > 0.051 {
		t.Errorf("a gel of 30 %% wants 4.5/0.3 = 15 g, got %g", got)
	}
}

func TestPromisesOfTheShelf(t *testing.T) {
	refused := []struct {
		name  string
		order Order
		want  string
	}{
		{"no pieces", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 0}}}}, "0 pieces"},
		{"a thousand million", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 1_000_000_000}}}}, "1000000000 pieces"},
		{"negative spares", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 1, Spares: -1}}}}, "spares"},
		{"sets that do not divide", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 7}}, Group: 2}}, "sets of 2"},
		{"sets over the load", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 8}}, Group: 4, PerLoad: 2}}, "do not fit loads of 2"},
		{"too much for the vessel", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 4}}, Volume: 2.5, Vessel: tub()}}, "does not fit the vessel"},
		{"piece larger than the vessel", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 4}}, Vessel: plan.Vessel{Diameter: 30, Height: 40}}}, "does not fit the vessel"},
		{"yield and spares", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 40, Spares: 3}}}, Yield: 0.95}, "3 spares are given"},
		{"a layer thinner by all of it", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 40}}}, Shop: Shop{MatchPercent: 100}}, "--match"},
		{"a kettle that nobody lifts", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 40}}, Heat: plan.Heat{Kind: plan.Kettle, Liters: 100}}}, "a kettle of 100 L"},
		{"have and volume", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 4}}, Volume: 1}, Have: 3}, "--have"},
		{"hot water colder than the cold", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 4}}}, Shop: Shop{HotWater: 10, ColdWater: 20, Known: map[string]bool{"water.hot": true, "water.cold": true}}}, "do not go together"},
		{"boiling room", Order{Asked: plan.Asked{Kinds: []job.Kind{{Pieces: 4}}}, Shop: Shop{Air: heat.Air{Ambient: 90}, Known: map[string]bool{"room.temperature": true}}}, "a room of"},
	}
	for _, test := range refused {
		t.Run(test.name, func(t *testing.T) {
			test.order.Recipe, test.order.Kinds[0].Piece = master(t, "silver-black"), round(t)
			_, err := Prepare(test.order)
			if err == nil || !strings.Contains(err.Error(), test.want) || fault.CureOf(err) == "" {
				t.Errorf("got %v (%s), want %q and a cure", err, fault.CureOf(err), test.want)
			}
		})
	}
	brass := piece(t, "brass-c260", "disc", metal.Dimensions{Diameter: 39, Thickness: 2})
	others := func(string) []string { return []string{"brass-black"} }
	if _, err := Prepare(Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: brass, Pieces: 4}}}, Others: others}); !strings.Contains(fault.CureOf(err), "brass-black") {
		t.Error("brass went into a silver bath, or nobody says which one is for it")
	}
	if s := sheet(t, Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: brass, Pieces: 4}}}, Anyway: true}); !warned(s, "alloy-anyway") {
		t.Error("the sheet carries no mark of the wrong metal")
	}
	silver := plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 40}}}
	if s, err := Prepare(Order{Recipe: master(t, "silver-black"), Asked: silver, Yield: 0.05}); err != nil || !warned(s, "yield") {
		t.Error("a yield of 5 % passes without a word")
	}
	if s := sheet(t, Order{Recipe: master(t, "silver-black"), Asked: silver, Supplies: map[string]Supply{"": {Percent: 30}}}); !warned(s, "purity-low") {
		t.Error("lumps of 30 % pass without a word")
	}
}
