package bath

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
	"hepar/recipes"
)

// each prepares every built-in recipe once, for ten discs of its first alloy in 1.5 L.
func each(t *testing.T, do func(*recipe.Recipe, *Sheet)) {
	t.Helper()
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, slug := range library.Slugs() {
		r := master(t, slug)
		o := Order{Recipe: r, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece(t, r.Alloys[0], "disc", metal.Dimensions{Diameter: 24, Thickness: 1.6}), Pieces: 10}}}}
		if !r.Kind.Coated() {
			o.Volume = 1.5
		}
		do(r, sheet(t, o))
	}
}

// TestPourLinesFollowTheRecipe: the order is the recipe's, all of each thing goes in,
// and no note of a reagent is dropped.
func TestPourLinesFollowTheRecipe(t *testing.T) {
	each(t, func(r *recipe.Recipe, s *Sheet) {
		var order []string
		for _, m := range r.Bath.Mixing() {
			order = append(order, m.Add)
		}
		total := map[string]float64{}
		at := 0
		for _, p := range s.Bath.Pour {
			for at < len(order) && order[at] != p.Add {
				at++
			}
			if at == len(order) {
				t.Errorf("%s: %s is out of the order %v", r.Slug, p.Text, order)
				break
			}
			total[p.Add] += p.Grams + p.ML + p.Liters
		}
		for i, line := range s.Bath.Reagents {
			if got, want := total[line.Substance], line.Amount().Shown; math.Abs(got-want) > 1e-6*want {
				t.Errorf("%s: %g of %s is poured, %g is weighed", r.Slug, got, line.Substance, want)
			}
			if g := r.Bath.Reagents[i]; !strings.Contains(pourText(s), g.Note) || g.Source != line.Source {
				t.Errorf("%s: of %s %q or %q is dropped", r.Slug, g.Substance, g.Note, g.Source)
			}
		}
		if got, want := total["water"], s.Bath.Water.HotL+s.Bath.Water.ColdL; math.Abs(got-want) > 0.002 {
			t.Errorf("%s: %g L of water is poured, %g L is planned", r.Slug, got, want)
		}
	})
}

func pourText(s *Sheet) string {
	var lines []string
	for _, p := range s.Bath.Pour {
		lines = append(lines, p.Text)
	}
	return strings.Join(lines, "\n")
}

// TestNoHotWaterMeetsAmmonia: a bath with ammonia is mixed cold and warmed afterwards.
func TestNoHotWaterMeetsAmmonia(t *testing.T) {
	with := 0
	each(t, func(r *recipe.Recipe, s *Sheet) {
		if !r.Bath.Ammonia() {
			return
		}
		with++
		for _, p := range s.Bath.Pour {
			if p.Add == "water" && (p.C == nil || *p.C > 30) {
				t.Errorf("%s: %s, in a bath with ammonia", r.Slug, p.Text)
			}
		}
		if s.Bath.Water.HotL > 0 || warned(s, "thick-glass") || warned(s, "heat") {
			t.Errorf("%s speaks of hot water: %+v %v", r.Slug, s.Bath.Water, s.Warnings)
		}
		if hot := r.Bath.Water.At > 40; hot != warned(s, "warm-after") {
			t.Errorf("%s at %g C: %v", r.Slug, float64(r.Bath.Water.At), s.Warnings)
		}
		if start := s.Run; start != nil && (start.StartC < float64(r.Bath.Water.From)-0.01 || start.StartC > float64(r.Bath.Water.To)+0.01) {
			t.Errorf("%s starts at %g C", r.Slug, start.StartC)
		}
	})
	if with < 5 {
		t.Errorf("only %d recipes with ammonia", with)
	}
}

// TestOnlySulfideIsCalledSulfide: a warning of sulfide stands on a bath that holds it, and there it stands.
func TestOnlySulfideIsCalledSulfide(t *testing.T) {
	each(t, func(r *recipe.Recipe, _ *Sheet) {
		if r.Kind.Coated() || r.Bath.Ammonia() {
			return
		}
		o := Order{Recipe: r, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece(t, r.Alloys[0], "disc", metal.Dimensions{Diameter: 24, Thickness: 1.6}), Pieces: 10}}, Volume: 1.5, Start: 96},
			Shop: Shop{HotWater: 50, Known: map[string]bool{"water.hot": true}}}
		sulfide := slices.ContainsFunc(r.Bath.Reagents, func(line recipe.Reagent) bool {
			what, err := reagent.Find(line.Substance)
			return err == nil && what.In(reagent.Sulfide)
		})
		for _, w := range sheet(t, o).Warnings {
			if says := strings.Contains(w.Text, "Never boil a sulfide bath."); (w.Code == "heat" || w.Code == "near-boiling") && says != sulfide || !sulfide && strings.Contains(w.Text, "sulfide") {
				t.Errorf("%s: %s", r.Slug, w.Text)
			}
		}
	})
}

// TestColdBathGetsColdWater: no splash from the kettle.
func TestColdBathGetsColdWater(t *testing.T) {
	cold := 0
	each(t, func(r *recipe.Recipe, s *Sheet) {
		if r.Bath.Water.At > 25 {
			return
		}
		cold++
		if s.Bath.Water.HotL != 0 || strings.Contains(pourText(s), "95 C") {
			t.Errorf("%s at %g C: %s", r.Slug, float64(r.Bath.Water.At), pourText(s))
		}
	})
	if cold < 8 {
		t.Errorf("only %d cold recipes", cold)
	}
}

// TestAmmoniaCoolsTheBath: half a liter of cold ammonia solution in a bath of 1.5 L. By
// hand: 1 L of water at 95 C, 4.2 kJ/K, and 455 g of solution at 20 C, 1.82 kJ/K, come to
// 72 C; with a liter and a half of water alone it were 95 C.
func TestAmmoniaCoolsTheBath(t *testing.T) {
	what, err := reagent.Find("ammonia")
	if err != nil {
		t.Fatal(err)
	}
	stock, err := reagent.NewStock(what, "25 % solution", "", 0, true)
	if err != nil {
		t.Fatal(err)
	}
	o := Order{Recipe: master(t, "silver-black"), Shop: DefaultShop()} // mixed by its temperature
	s := &Sheet{Bath: Mix{VolumeL: 1.5}}
	if got := float64(o.hottest(s)); math.Abs(got-95) > 0.1 {
		t.Errorf("water alone mixes to %g C", got)
	}
	s.Bath.Reagents = []ReagentLine{o.weighed(s, shelved{Stock: stock, Concentration: recipe.Range[measure.Concentration]{At: measure.Concentration{PerL: 333, ByVolume: true}}, Step: 1})}
	if got := float64(o.hottest(s)); math.Abs(got-72.3) > 1 {
		t.Errorf("with 500 mL of cold ammonia solution it mixes to %g C, want about 72", got)
	}
}

// TestOneFigureIsMetWithinTwoPercent: a recipe with one printed figure has no range that
// a dose could leave.
func TestOneFigureIsMetWithinTwoPercent(t *testing.T) {
	r := master(t, "copper-green-sulfate") // 80 and 20 g/L
	p := piece(t, "copper-c110", "bar", metal.Dimensions{Length: 50, Width: 28, Thickness: 2.1})
	for _, c := range []struct {
		volume  float64
		balance float64
		warned  bool
	}{{2, 0.1, false}, {0.507, 0.1, false}, {0.507, 0.2, false}, {0.507, 3, true}} {
		s := sheet(t, Order{Recipe: r, Asked: plan.Asked{Kinds: []job.Kind{{Piece: p, Pieces: 2}}, Volume: measure.Liters(c.volume)}, Shop: Shop{ReadabilityG: measure.Grams(c.balance), Known: map[string]bool{"balance.readability": true}}})
		if got := warned(s, "balance"); got != c.warned {
			t.Errorf("%g L with a balance of %g g: %v", c.volume, c.balance, s.Warnings)
		}
		for _, w := range s.Warnings {
			if strings.Contains(w.Text, "the 80 g/L to 80 g/L") {
				t.Errorf("%s", w.Text)
			}
		}
	}
}

// TestGelInPourLinesAndEvents: 4.5 g/L are 15 g/L of a gel of 30 %, in the first bath
// and in what is added to it.
func TestGelInPourLinesAndEvents(t *testing.T) {
	o := Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece(t, "sterling-925", "disc", metal.Dimensions{Diameter: 34, Thickness: 2.5}), Pieces: 600}}, Volume: 2, Transfer: plan.ByHand}, Supplies: map[string]Supply{"liver-of-sulfur": {Form: "gel", Percent: 30}}}
	s := sheet(t, o)
	if text := pourText(s); !strings.Contains(text, "30 g of liver of sulfur, gel") {
		t.Errorf("the pour lines say %s", text)
	}
	// What is true of a lump is said of lumps alone, in every recipe that weighs them.
	if text := pourText(s); strings.Contains(text, "lump") {
		t.Errorf("of a gel the sheet says %s", text)
	}
	const good = "lumps must be yellow-brown, not pale"
	each(t, func(r *recipe.Recipe, s *Sheet) {
		if line := s.Bath.Reagents[0]; line.Substance == "liver-of-sulfur" && strings.Contains(pourText(s), good) != (line.Form == "lump") {
			t.Errorf("%s: %s", r.Slug, pourText(s))
		}
	})
	// A recipe that says it too says it once, and another note of another form stays.
	for note, want := range map[string]string{good: "stirring", "break the lumps": "the recipe says of another form: break the lumps"} {
		r := *o.Recipe
		r.Bath.Reagents = slices.Clone(r.Bath.Reagents)
		r.Bath.Reagents[0].Note = note
		o := o
		o.Recipe = &r
		if text := pourText(sheet(t, o)); !strings.HasSuffix(strings.TrimSpace(text), want) {
			t.Errorf("%s: %s", note, text)
		}
		o.Supplies = nil
		if text := pourText(sheet(t, o)); strings.Count(text, good) != 1 {
			t.Errorf("of lumps: %s", text)
		}
	}
	added := 0
	for _, e := range s.Events {
		if e.Do != plan.FreshBath && e.Do != plan.Strengthen {
			continue
		}
		added++
		if len(e.Doses) != 1 || e.Doses[0].Form != "gel" || math.Abs(e.Doses[0].Amount-30*e.Share) > 0.051 || !strings.Contains(e.Text, "g of liver of sulfur") {
			t.Errorf("%s adds %+v, a share of %g", e.Text, e.Doses, e.Share)
		}
	}
	if added == 0 {
		t.Error("600 medals by hand in 2 L add nothing to the bath")
	}
}

// TestSlipsOfTheBench: a vessel in cm where mm was meant, a bath in which a token cannot hang,
// and water that is too cold are said where they matter.
func TestSlipsOfTheBench(t *testing.T) {
	token := piece(t, "sterling-925", "disc", metal.Dimensions{Diameter: 24, Thickness: 1.6})
	order := func(l, w, h measure.Millimeters, liters measure.Liters) Order {
		return Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: token, Pieces: 12}}, Volume: liters, Vessel: plan.Vessel{Length: l, Width: w, Height: h}}}
	}
	has := func(o Order, code string) bool {
		return slices.ContainsFunc(sheet(t, o).Warnings, func(w plan.Warning) bool { return w.Code == code })
	}
	if has(order(200, 140, 90, 1.5), "vessel-large") || !has(order(2000, 1400, 900, 60), "vessel-large") {
		t.Error("the size of a vessel is not looked at")
	}
	if has(order(200, 140, 90, 1.5), "shallow") || !has(order(200, 140, 90, 0.62), "shallow") {
		t.Error("the depth is not looked at")
	}
	o := order(200, 140, 90, 1.5)
	o.Shop = DefaultShop()
	o.Shop.HotWater, o.Shop.Known = 60, map[string]bool{"water.hot": true}
	if pour := sheet(t, o).Bath.Pour; !slices.ContainsFunc(pour, func(p PourLine) bool { return strings.Contains(p.How, "warm the water on a plate") }) {
		t.Errorf("water of 60 C for a bath of 75 C: %+v", pour)
	}
}

// TestReadyBesideTheBath: what is weighed for a helper and every hot rinse stand on the sheet,
// and a kettle that the hot water does not fit into is boiled as often as it takes.
func TestReadyBesideTheBath(t *testing.T) {
	each(t, func(r *recipe.Recipe, s *Sheet) {
		said := ""
		for _, n := range s.Ready {
			said += n.Text + "\n"
		}
		for _, line := range s.Rinses {
			if line.Step == 0 || line.VolumeL == 0 {
				continue
			}
			step := r.Steps[line.Step-1]
			if hot := step.HasWater && !step.Running && step.Water.At > 25; hot != strings.Contains(said, fmt.Sprintf("of water at %s for step %d", measure.Metric.Temperature(step.Water.At), line.Step)) && line.Do == "rinse" {
				t.Errorf("%s: step %d is at %g C: %s", r.Slug, line.Step, float64(step.Water.At), said)
			}
			if line.Grams != nil && !strings.Contains(said, measure.Metric.Of(*line.Grams, "g")+" of") {
				t.Errorf("%s: step %d takes %g g: %s", r.Slug, line.Step, *line.Grams, said)
			}
		}
	})
	r := master(t, "silver-black")
	for liters, want := range map[measure.Liters]string{0: "a kettle of 1 L (assumed) 3 times", 1.5: "a kettle of 1.5 L 2 times", 3: "with that of the rinse"} {
		o := Order{Recipe: r, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece(t, "sterling-925", "disc", metal.Dimensions{Diameter: 30, Thickness: 2}), Pieces: 200}},
			Volume: 1.89, Start: 82, Heat: plan.Heat{Kind: plan.Kettle, Liters: liters, Water: 95}}}
		s := sheet(t, o)
		last := s.Ready[len(s.Ready)-1].Text
		if !strings.HasSuffix(last, want) || !strings.HasPrefix(last, "2.66 L") { // 1.6 L for the bath and 1.06 L for the rinse
			t.Errorf("%s, wanted %s", last, want)
		}
	}
}

// TestHoodMovesTheAir: a sheet that says HOOD ON reckons with the air that it moves, unless
// the bench says what air there is.
func TestHoodMovesTheAir(t *testing.T) {
	const name = "air over the bath, for the hood is on"
	each(t, func(r *recipe.Recipe, s *Sheet) {
		hood := strings.Contains(strings.Join(Capitals(r), " "), "HOOD ON") && !r.Kind.Coated()
		if said := slices.ContainsFunc(s.Assumptions, func(a plan.Assumption) bool { return a.Name == name }); said != hood {
			t.Errorf("%s: hood %t, air %t", r.Slug, hood, said)
		}
	})
	o := Order{Recipe: master(t, "silver-black"), Asked: plan.Asked{Kinds: []job.Kind{{Piece: round(t), Pieces: 20}}, Volume: 1.5}}
	hood := sheet(t, o).Run.CoolingPerMin
	for _, key := range []string{"heat.air_speed", "room.hood"} {
		o.Shop.Known = map[string]bool{key: true}
		if still := sheet(t, o).Run.CoolingPerMin; still > 0.95*hood {
			t.Errorf("%s: cools by %g a minute in still air, %g with the hood on", key, still, hood)
		}
	}
}
