package safety_test

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
	"hepar/recipe/safety"
	"hepar/recipe/safety/gas"
	"hepar/recipe/safety/waste"
	"hepar/recipes"
)

// order is a run that wears out several baths wherever the recipe lets it.
func order(t *testing.T, r *recipe.Recipe) bath.Order {
	t.Helper()
	alloy, err := metal.Find(r.Alloys[0])
	if err != nil {
		t.Fatal(err)
	}
	piece, err := metal.New("disc", alloy, metal.Dimensions{Diameter: 24, Thickness: 1.6})
	if err != nil {
		t.Fatal(err)
	}
	return bath.Order{Recipe: r, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece, Pieces: 240, Spares: 12}}, Volume: 0.75, Transfer: plan.ByHand}, Supplies: map[string]bath.Supply{}, Shop: bath.Shop{ReadabilityG: 0.01, CylinderML: 0.1, Known: map[string]bool{"balance.readability": true, "balance.cylinder": true}}}
}

// TestSheetEventsGasAndWasteAgree goes through all recipes and all forms in which each of
// their reagents stands on a shelf.
func TestSheetEventsGasAndWasteAgree(t *testing.T) {
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	sheets, changes, gases := 0, 0, 0
	for _, slug := range library.Slugs() {
		r, err := library.Get(slug)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range r.Bath.Reagents {
			what, err := reagent.Find(line.Substance)
			if err != nil {
				t.Fatal(err)
			}
			for _, form := range what.Forms {
				for _, percent := range []float64{0, 30} {
					o := order(t, r)
					o.Supplies[what.ID] = bath.Supply{Form: form.Name, Percent: percent}
					s, err := bath.Prepare(o)
					if err != nil {
						continue // a form of unknown strength, or one that cannot be converted: asked about elsewhere
					}
					sheets++
					name := slug + " with " + what.ID + " as " + form.Name
					text, err := json.Marshal(s)
					if err != nil {
						t.Fatal(err)
					}
					var back bath.Sheet
					if err := json.Unmarshal(text, &back); err != nil {
						t.Fatal(err)
					}
					amounts := back.Amounts()
					changes += agree(t, name, s, amounts)
					gases += gasAgrees(t, name, o, s, amounts)
				}
			}
		}
	}
	if sheets < 40 || changes < 60 || gases < 15 {
		t.Errorf("only %d sheets, %d fresh baths and %d sulfide baths were compared", sheets, changes, gases)
	}
}

// agree compares the lines of the sheet, what JSON carries, and every fresh bath.
func agree(t *testing.T, name string, s *bath.Sheet, amounts []reagent.Amount) (changes int) {
	t.Helper()
	var doses []bath.Dose
	for i, line := range s.Bath.Reagents {
		a := amounts[i]
		shown := line.Grams
		if a.Poured() {
			shown = line.Milliliters
		}
		if shown == nil || math.Abs(*shown-a.Shown) > 1e-12 || a.Shelf.Name != line.Form || a.Percent != line.PurityPercent {
			t.Errorf("%s: the line %+v comes back as %g %s of %s", name, line, a.Shown, a.Unit(), a.Shelf.Name)
		}
		made := line.Makes()
		if got := a.Makes(measure.Liters(s.Bath.VolumeL)); math.Abs(got.PerL-made.At.PerL) > 1e-9*made.At.PerL || got.ByVolume != made.At.ByVolume {
			t.Errorf("%s: the line says it makes %s, the amount makes %s", name, made.At, got)
		}
		doses = append(doses, bath.Dose{Substance: line.Substance, Name: line.Name, Form: line.Form, Amount: a.Shown, Unit: a.Unit()})
	}
	for _, e := range s.Events {
		if e.Do != plan.FreshBath {
			continue
		}
		changes++
		if !slices.Equal(e.Doses, doses) {
			t.Errorf("%s: after load %d %+v, first %+v", name, e.AfterLoad, e.Doses, doses)
		}
		if note := e.Text; !strings.Contains(note, measure.Metric.Of(doses[0].Amount, doses[0].Unit)+" of "+doses[0].Name) {
			t.Errorf("%s: %q does not say %+v", name, note, doses[0])
		}
	}
	if s.Run != nil {
		if x := s.Run.Totals; x.Baths != s.Baths() || x.Baths != changes+1 || x.Doses < float64(x.Baths)-1e-9 {
			t.Errorf("%s: %d baths and %g doses, with %d fresh ones", name, x.Baths, x.Doses, changes)
		}
	}
	return changes
}

// gasAgrees compares review and waste with the gas of what the bath holds in the form of
// the recipe. It returns 1 for a sulfide bath.
func gasAgrees(t *testing.T, name string, o bath.Order, s *bath.Sheet, amounts []reagent.Amount) int {
	t.Helper()
	want := 0.0
	for i, a := range amounts {
		if !a.Substance.In(reagent.Sulfide) {
			continue
		}
		whole, err := reagent.NewStock(a.Substance, a.Recipe.Name, "", 0, a.ByVolume)
		if err != nil {
			t.Fatal(err)
		}
		mass, ok := whole.For(s.Bath.Reagents[i].Makes().At, measure.Liters(s.Bath.VolumeL)).Mass()
		if !ok || a.Recipe.StrengthUnknown {
			return 0
		}
		want += float64(mass) * a.Recipe.GasUpper
	}
	if want == 0 {
		return 0
	}
	review, err := safety.Assess(safety.Subject{Recipe: o.Recipe, Bath: measure.Liters(s.Bath.VolumeL), Reagents: amounts})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(review.Gas, func(e gas.Estimate) bool { return e.Code == "acid-all" })
	if i < 0 || math.Abs(review.Gas[i].FreedG-want) > 0.006*want { // printed to three figures
		t.Errorf("%s: the review counts %+v, the bath holds %g g of gas", name, review.Gas, want)
	}
	spent, err := waste.Content(waste.Batch{Volume: measure.Liters(s.Bath.VolumeL), Reagents: amounts})
	if err != nil {
		t.Fatal(err)
	}
	i = slices.IndexFunc(spent.Bath, func(f waste.Figure) bool { return f.Element == "S" })
	if got := spent.Bath[i].AtMost * s.Bath.VolumeL / 1000 * reagent.H2SPerSulfur; math.Abs(got-want) > 0.002*want {
		t.Errorf("%s: the waste counts %g g of gas, the bath holds %g g", name, got, want)
	}
	return 1
}

// TestGelOnTheShelf: 2.25 L at 4.5 g/L take 10.1 g of liver of sulfur, which are 33.8 g
// of a gel of 30 %, for the first bath and for each fresh one.
func TestGelOnTheShelf(t *testing.T) {
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	r, err := library.Get("silver-black")
	if err != nil {
		t.Fatal(err)
	}
	o := order(t, r)
	o.Kinds[0].Pieces, o.Volume, o.Shop = 900, 2.25, bath.Shop{}
	o.Supplies["liver-of-sulfur"] = bath.Supply{Form: "gel", Percent: 30}
	s, err := bath.Prepare(o)
	if err != nil {
		t.Fatal(err)
	}
	fresh := 0
	for _, e := range s.Events {
		if e.Do == plan.FreshBath {
			fresh++
			if !strings.Contains(e.Text, ", 33.8 g of liver of sulfur;") {
				t.Errorf("%s", e.Text)
			}
		}
	}
	if fresh == 0 || *s.Bath.Reagents[0].Grams != 33.8 {
		t.Errorf("%d fresh baths after one of %g g", fresh, *s.Bath.Reagents[0].Grams)
	}
}
