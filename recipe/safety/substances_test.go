package safety

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/outside"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"

	"pgregory.net/rapid"
)

// The list of substances against the collected one: numbers, check digits, codes. No
// code of the collected list is missing; more may stand there, fewer never.
func TestSubstancesAgainstSources(t *testing.T) {
	f, err := os.Open("testdata/substances.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 30 {
		t.Fatal(len(rows), err)
	}
	for _, row := range rows[1:] {
		id, cas, codes, source := row[0], strings.Fields(row[1]), strings.Fields(row[2]), row[4]+" ("+row[3]+")"
		s, err := reagent.Find(id)
		if err != nil {
			t.Error(err)
			continue
		}
		ours := []string{s.CAS}
		for _, f := range s.Forms {
			ours = append(ours, f.CAS)
		}
		i := slices.IndexFunc(cas, func(n string) bool { return slices.Contains(ours, n) })
		if i < 0 {
			t.Errorf("%s has none of the numbers %q", id, cas)
			continue
		}
		outside.Text(t, "CAS number of "+s.Name, source, cas[i], ours[slices.Index(ours, cas[i])])
		for _, code := range codes {
			// Glacial acid is the worse of its two forms.
			if id == "acetic-acid" && (code == "H315" || code == "H319") {
				continue
			}
			if !slices.Contains(s.HCodes, code) {
				t.Errorf("%s lacks %s (%s)", id, code, source)
			}
		}
	}
}

// Every substance that a built-in recipe names is in the list, with codes that are
// known or none, and what is not verified says so in the review.
func TestRecipesNameKnownSubstances(t *testing.T) {
	for _, r := range builtins(t) {
		review := codes(assess(t, Subject{Recipe: r}))
		var ids []string
		for _, g := range r.Bath.Reagents {
			ids = append(ids, g.Substance)
		}
		for _, s := range r.Steps {
			if s.With != "" {
				ids = append(ids, s.With)
			}
		}
		for _, id := range ids {
			s, err := reagent.Find(id)
			if err != nil {
				t.Errorf("%s: %v", r.Slug, err)
				continue
			}
			if len(s.HCodes) == 0 {
				continue
			}
			text := review["substance-"+id].Text
			for _, code := range s.HCodes {
				if _, known := reagent.Statement(code); !known || !strings.Contains(text, code) {
					t.Errorf("%s: %s of %s is unknown or not printed", r.Slug, code, id)
				}
			}
			if s.Evidence != reagent.Opened && !strings.Contains(text, "Not verified here") || !strings.Contains(text, "take the codes from your own SDS") {
				t.Errorf("%s: %s does not say how far to trust it: %s", r.Slug, id, text)
			}
		}
	}
}

// figure draws an amount, often a sensible one, sometimes none at all.
func figure(most float64) *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, most), rapid.Float64Range(0, most),
		rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), -1, 1e300, 5e-324, most * 2}))
}

// Whatever a subject holds, it is refused as wrong usage or reviewed in full, with
// figures that are figures.
func TestAnySubject(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := someRecipe().Draw(t, "recipe")
		f := func(name string, most float64) float64 { return figure(most).Draw(t, name) }
		s := Subject{
			Recipe: r, MetalArea: measure.SquareCM(f("area", 1e4)), Bath: measure.Liters(f("bath", 50)), PH: f("ph", 14), BathC: measure.Celsius(f("c", 100)),
			SurfaceCM2: f("surface", 1e4), DragOutMLM2: f("drag", 500), Room: gas.Room{VolumeM3: f("m3", 500), AirChangesPerHour: f("ach", 20), Hood: rapid.Bool().Draw(t, "hood")},
			Lid: rapid.Bool().Draw(t, "lid"), With: rapid.SliceOfN(rapid.SampledFrom(append(Withs(), "nonsense")), 0, 2).Draw(t, "with"),
			Shared:  rapid.SliceOfN(rapid.SampledFrom(Shares()), 0, 2).Draw(t, "shared"),
			Persons: []Person{{Name: rapid.String().Draw(t, "name"), NoSmell: true, Alone: rapid.Bool().Draw(t, "alone"), New: true}},
			Before:  []*recipe.Recipe{nil, someRecipe().Draw(t, "before")},
		}
		if rapid.Bool().Draw(t, "own") {
			s.Limits = []gas.Override{{Gas: gas.HydrogenSulfide, List: rapid.String().Draw(t, "list"), PPM: f("ppm", 100), Reason: rapid.String().Draw(t, "reason")}}
		}
		if len(r.Bath.Reagents) > 0 {
			s.Reagents = weighed(r.Bath.Reagents[0].Substance, f("grams", 100))
		}
		review, err := Assess(s)
		if err != nil {
			if fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
				t.Fatal(err)
			}
			return
		}
		wholeness(t, review)
		if _, err := json.Marshal(review); err != nil {
			t.Fatal(err)
		}
		for _, e := range review.Gas {
			if e.RoomLowPPM > e.RoomPPM || e.RoomPPM > e.RoomHighPPM || e.RoomHighPPM > 1e6 || e.Scenario == "" || strings.ContainsAny(e.Scenario+e.Code, "\x1b\n\r") {
				t.Fatalf("%+v", e)
			}
		}
	})
}

// A room and persons never take a point away, nor lower one.
func TestGivingMoreOnlyAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := someRecipe().Draw(t, "recipe")
		bare, err := Assess(Subject{Recipe: r})
		if err != nil {
			t.Fatal(err)
		}
		full, err := Assess(Subject{
			Recipe: r, Room: gas.Room{VolumeM3: 30, AirChangesPerHour: 2}, PH: 9, Bath: 2, Lid: true, With: Withs(), Shared: Shares(),
			Persons: []Person{{NoSmell: true, Pregnant: true, Lungs: true, Alone: true, New: true}},
		})
		if err != nil {
			t.Fatal(err)
		}
		have := codes(full)
		for _, p := range bare.Points {
			q, ok := have[p.Code]
			if p.Code == "gas-over-limit" || p.Code == "gas-room" && !ok {
				continue // these stand on the figures given
			}
			if !ok || grade(q.Level) > grade(p.Level) {
				t.Fatalf("%s was %q, is %q", p.Code, p.Level, q.Level)
			}
		}
	})
}

func BenchmarkAssessInFull(b *testing.B) {
	list := builtins(b)
	black := list[slices.IndexFunc(list, func(r *recipe.Recipe) bool { return r.Slug == "silver-black" })]
	sterling, err := metal.Find("sterling-925")
	if err != nil {
		b.Fatal(err)
	}
	s := Subject{
		Recipe: black, Alloy: &sterling, MetalArea: 2700, Bath: 2, Reagents: weighed("liver-of-sulfur", 9),
		Room: gas.Room{VolumeM3: 32, AirChangesPerHour: 4}, PH: 10.5, Persons: []Person{{Name: "Tilo", New: true}},
	}
	for b.Loop() {
		if _, err := Assess(s); err != nil {
			b.Fatal(err)
		}
	}
}
