package safety

import (
	"strings"
	"testing"

	"hepar/recipe"
)

// copperBlack is a recipe file with room for the steps before the dip.
const copperBlack = `
title    = "Copper, dark"
revision = 1
kind     = "immersed"
alloys   = ["copper-c110"]
look     = "dark brown"
source   = "made for this test"
[bath]
water = "40 C"
[[bath.reagent]]
substance     = "liver-of-sulfur"
concentration = "5 g/L"
[dip]
time = "30 s"
BEFORE
[[step]]
do = "dip"
[[step]]
do    = "rinse"
baths = 2
[hazards]
gas         = ["hydrogen sulfide"]
ventilation = "hood"
ppe         = ["splash goggles"]
disposal    = "collect; local rules decide"
`

// The same copper from a file, cleaned in salt and vinegar as is common practice (no
// published source): stopped unrinsed, harmless with a rinse, soda and a rinse.
func TestDecodedCopper(t *testing.T) {
	clean := "[[step]]\ndo = \"degrease\"\nwith = \"acetic-acid\"\nhow = \"salt and vinegar, warm\"\n"
	rinse := "[[step]]\ndo = \"rinse\"\n"
	soda := "[[step]]\ndo = \"neutralise\"\nwith = \"sodium-carbonate\"\nconcentration = \"10 g/L\"\n"
	for _, c := range []struct {
		before string
		want   Level
	}{
		{clean, StopLevel}, {clean + rinse, CorrectFirst}, {clean + rinse + rinse, Caution}, {clean + rinse + soda + rinse, Caution}, {"", Caution},
	} {
		r, findings := recipe.Decode("copper.toml", []byte(strings.Replace(copperBlack, "BEFORE", c.before, 1)))
		if r == nil {
			t.Fatalf("%v", findings)
		}
		points := Sequence(r)
		sound(t, points)
		if got := points[0].Level; got != c.want {
			t.Errorf("gravest is %q, want %q, for\n%s", got, c.want, c.before)
		}
	}
}
