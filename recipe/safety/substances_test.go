package safety

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
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
		if id == "acetic-acid" { // glacial acid is the worse of its two forms
			codes = slices.DeleteFunc(codes, func(code string) bool { return code == "H315" || code == "H319" })
		}
		slices.Sort(codes)
		outside.Text(t, "hazard codes of "+s.Name, source, strings.Join(codes, " "), strings.Join(slices.Sorted(slices.Values(s.HCodes)), " "))
	}
}

// figure draws an amount, often a sensible one, sometimes none at all.
func figure(most float64) *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, most), rapid.Float64Range(0, most),
		rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), -1, 1e300, 5e-324, most * 2}))
}

// Every substance that a built-in recipe names is in the list, and its codes are among
// the details of the review; what is not verified says so.
func TestRecipesNameKnownSubstances(t *testing.T) {
	for _, r := range library(t) {
		details := map[string]string{}
		for _, f := range assess(t, Subject{Recipe: r}).Substances {
			details[f.Code] = f.Text
		}
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
			text := details["substance-"+id]
			for _, code := range s.HCodes {
				if _, known := reagent.Statement(code); !known || !strings.Contains(text, code) {
					t.Errorf("%s: %s of %s is unknown or not printed", r.Slug, code, id)
				}
			}
			if s.Evidence != reagent.Opened && !strings.Contains(text, "Not verified here") || !strings.Contains(text, "take them from your own SDS") {
				t.Errorf("%s: %s does not say how far to trust it: %s", r.Slug, id, text)
			}
		}
	}
}

// Whatever a subject holds, it is refused as wrong usage or reviewed in full, with
// figures that are figures.
func TestAnySubject(t *testing.T) {
	all := reagent.All()
	rapid.Check(t, func(t *rapid.T) {
		id := rapid.Custom(func(t *rapid.T) string { return rapid.SampledFrom(all).Draw(t, "substance").ID })
		do := rapid.SampledFrom([]string{"rinse 2", "dip", "dry", "heat", "seal", "matte"})
		r := bathOf(id.Draw(t, "bath"), "degrease "+id.Draw(t, "with")+" @pot", do.Draw(t, "a"), do.Draw(t, "b")+" @pot", "neutralise "+id.Draw(t, "after"))
		f := func(name string, most float64) float64 { return figure(most).Draw(t, name) }
		s := Subject{
			Recipe: r, MetalArea: measure.SquareCM(f("area", 1e4)), Bath: measure.Liters(f("bath", 50)), BathC: measure.Celsius(f("c", 100)),
			SurfaceCM2: f("surface", 1e4), DragOutMLM2: f("drag", 500), Room: gas.Room{VolumeM3: f("m3", 500), AirChangesPerHour: f("ach", 20), Outdoors: rapid.Bool().Draw(t, "outdoors")},
			Lid: rapid.Bool().Draw(t, "lid"), With: rapid.SliceOfN(rapid.SampledFrom(append(Withs(), "nonsense")), 0, 2).Draw(t, "with parts"),
			Shared:   rapid.SliceOfN(rapid.SampledFrom(Shares()), 0, 2).Draw(t, "shared"),
			Persons:  []Person{{Name: rapid.String().Draw(t, "name"), NoSmell: true, Alone: rapid.Bool().Draw(t, "alone"), New: true}},
			Answers:  Answers{PH: f("ph", 14), MeterPPM: f("meter", 100), Second: rapid.String().Draw(t, "second")},
			Reagents: weighed(r.Bath.Reagents[0].Substance, f("grams", 100)), Plan: weighed(r.Bath.Reagents[0].Substance, f("plan", 100)),
		}
		review, err := Assess(s)
		if err != nil {
			if fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
				t.Fatal(err)
			}
			return
		}
		if len(review.Emergency) != 3 || len(review.Confirm) > MostConfirmations {
			t.Fatalf("%+v", review)
		}
		if _, err := json.Marshal(review); err != nil {
			t.Fatal(err)
		}
		var said []string
		for _, p := range review.Points {
			said = append(said, p.Text, p.Cure)
		}
		for _, q := range review.Confirm {
			said = append(said, q.Text)
		}
		for _, text := range said {
			if strings.ContainsAny(text, "\x1b\n\r\u202e") {
				t.Fatalf("%q", text)
			}
		}
		for _, e := range review.Gas {
			if e.RoomLowPPM > e.RoomHighPPM || e.RoomHighPPM > 1e6 || e.Scenario == "" {
				t.Fatalf("%+v", e)
			}
		}
	})
}

// A substance is judged by the groups and facts of its literal: an id in the code of the
// review is a list that a new substance is missing from. The few below are defaults.
func TestNoListsByID(t *testing.T) {
	defaults := map[string][]string{
		"air.go":    {"sodium-bisulfate"}, // the pickle that is assumed
		"vessel.go": {"detergent"},
	}
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 10 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range reagent.All() {
			if strings.HasSuffix(file, "_test.go") || !strings.Contains(s.ID, "-") && s.ID != "detergent" || slices.Contains(defaults[file], s.ID) {
				continue
			}
			if strings.Contains(string(source), `"`+s.ID+`"`) {
				t.Errorf("%s names %s: use a group or a field of the substance", file, s.ID)
			}
		}
	}
}
