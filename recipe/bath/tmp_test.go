package bath

import (
	"encoding/json"
	"os"
	"testing"

	"hepar/recipe"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipes"
)

func TestTmp(t *testing.T) {
	lib, _, err := recipe.Load(recipes.FS)
	if err != nil {
		t.Fatal(err)
	}
	r, err := lib.Get("silver-black")
	if err != nil {
		t.Fatal(err)
	}
	a, _ := metal.Find("sterling-925")
	p, err := metal.New("disc", a, metal.Dimensions{Diameter: 34, Thickness: 2.5})
	if err != nil {
		t.Fatal(err)
	}
	v, _ := ParseVessel("250x180x60mm")
	o := Order{Recipe: r, Piece: p, Pieces: 240, Vessel: &v, Supplies: map[string]Supply{}}
	if os.Getenv("GEL") != "" {
		o.Supplies["liver-of-sulfur"] = Supply{Form: "gel", Percent: 30}
	}
	if os.Getenv("HAND") != "" {
		o.Transfer = "by-hand"
	}
	s, err := Prepare(o)
	if err != nil {
		t.Fatal(err)
	}
	b, _ := json.MarshalIndent(s.Brief(r, measure.Metric), "", " ")
	t.Log(string(b))
	for _, x := range s.Assumptions {
		t.Log(x)
	}
}
