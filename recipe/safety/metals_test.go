package safety

import (
	"slices"
	"testing"

	"hepar/recipe"
	"hepar/recipe/measure"
)

// An ammoniacal silver bath is stopped where the recipe means to use it for more than two
// hours. Source: histology laboratory safety pages on ammoniacal silver.
func TestSilverKept(t *testing.T) {
	stopped := func(change func(*recipe.Recipe)) bool {
		r := bathOf("silver-nitrate, ammonia", "degrease detergent", "rinse", "dip", "rinse 2")
		change(r)
		return slices.ContainsFunc(Sequence(r), func(p Point) bool { return p.Code == "silver-ammonia-kept" && p.Level == StopLevel })
	}
	coats := func(n float64, wait measure.Seconds) *recipe.Coats {
		return &recipe.Coats{Number: recipe.Range[float64]{At: n, From: n, To: n}, Wait: recipe.Range[measure.Seconds]{At: wait, From: wait, To: wait}}
	}
	for _, c := range []struct {
		what   string
		change func(*recipe.Recipe)
		want   bool
	}{
		{"nothing said", func(*recipe.Recipe) {}, false},
		{"a life of two hours", func(r *recipe.Recipe) { r.Bath.Life = 7200 }, false},
		{"a life of four hours", func(r *recipe.Recipe) { r.Bath.Life = 4 * 3600 }, true},
		{"four coats an hour apart", func(r *recipe.Recipe) { r.Coats = coats(4, 3600) }, true},
		{"two coats half an hour apart", func(r *recipe.Recipe) { r.Coats = coats(2, 1800) }, false},
		{"a note that stores it", func(r *recipe.Recipe) { r.Hazards.Notes = []string{"store in a brown bottle"} }, true},
		{"a note that forbids it", func(r *recipe.Recipe) { r.Hazards.Notes = []string{"never store it"} }, false},
	} {
		if got := stopped(c.change); got != c.want {
			t.Errorf("%s: stopped is %v", c.what, got)
		}
	}
}

// Alkaline sulfide and caustic eat aluminium and zinc: general chemistry, from memory.
func TestVesselWords(t *testing.T) {
	for words, want := range map[string]bool{
		"aluminium pan": true, "an old aluminum pot": true, "galvanised bucket": true, "glass or a zinc tray": true,
		"glass, glazed or plastic; no bare metal": false, "never aluminium": false, "not in zinc, aluminium or tin": false, "": false,
	} {
		if got := wrongVessel(words); got != want {
			t.Errorf("%q: %v", words, got)
		}
		r := bathOf("liver-of-sulfur", "dip", "rinse 2")
		r.Bath.Vessel = words
		if got := gravest(Sequence(r)) == grade(CorrectFirst); got != want {
			t.Errorf("%q as the vessel of a sulfide bath: put right first is %v", words, got)
		}
	}
}

func TestFamily(t *testing.T) {
	for name, want := range map[string]string{
		"sterling-925": "silver", "fine-999": "silver", "gold-fine": "gold", "nickel-silver-c752": "nickel silver", "brass-c260": "brass",
		"tin-brass-c435": "brass", "bronze-c510": "bronze", "copper-c110": "copper", "aluminium": "aluminium", "zinc": "zinc", "steel-316": "steel", "x": "",
	} {
		if got := family(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}
