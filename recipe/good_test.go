package recipe

import (
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"hepar/recipe/measure"
	"hepar/recipe/outside"
)

// good is a recipe without a fault, of an invented finish; the bad ones are made
// from it by one change each.
const good = `title    = "Test grey on silver"
revision = 3
kind     = "immersed"
alloys   = ["sterling-925", "fine-999"]
look     = "even grey"
source   = "common practice, no published source"

[bath]
water    = { at = "75 C", from = "71 C", to = "82 C" }
max_load = "2 dm2/L"
max_load_reason = "pieces touch beyond it"
works_down_to = "60 C"
weakest  = "50 %"

[[bath.reagent]]
substance     = "liver-of-sulfur"
form          = "lump"
concentration = { at = "4.5 g/L", from = "4 g/L", to = "5 g/L" }

[[bath.reagent]]
substance     = "ammonia"
form          = "25 % solution"
concentration = "10 mL/L"
note          = "last"

[[bath.mix]]
add  = "ammonia"
how  = "under the hood"

[[bath.mix]]
add         = "water"
part        = "2/3"
temperature = "20 C"

[[bath.mix]]
add = "water"
part = "1/3"
temperature = "25 C"

[[bath.mix]]
add = "liver-of-sulfur"

[dip]
time    = { at = "10 s", from = "3 s", to = "30 s" }
dips    = 2
stop_at = "grey"
window  = "-20 % +35 %"
window_source = "common practice, no published source"

[[step]]
do   = "degrease"
with = "detergent"
how  = "soft brush"

[[step]]
do    = "rinse"
baths = 2
water = "60 C"

[[step]]
do   = "dip"
note = "keep moving"

[[step]]
do   = "rinse"
time = "1 min"

[[step]]
do            = "neutralise"
with          = "sodium-carbonate"
concentration = { at = "15 g/L", from = "10 g/L", to = "20 g/L" }

[[step]]
do  = "inspect"
how = "beside the reference piece"

[hazards]
gas         = ["hydrogen sulfide"]
ventilation = "hood"
ppe         = ["goggles", "gloves"]
disposal    = "collect and label"
notes       = ["no acid near it"]
warns_of    = ["acid"]
`

// goodBrushed is the same for a finish that is brushed on.
const goodBrushed = `title    = "Test green on copper"
revision = 1
kind     = "brushed"
alloys   = ["copper-c110"]
look     = "even green"
source   = "common practice, no published source"
bath.water = "20 C"
[[bath.reagent]]
substance     = "ammonium-chloride"
concentration = "40 g/L"
[coats]
number = { at = 3, from = 1, to = 5 }
spread = "80 mL/m2"
wait   = "30 min"
[[step]]
do = "coat"
[hazards]
gas         = []
ventilation = "open air"
ppe         = ["goggles"]
disposal    = "collect and label"
`

func decodeGood(t testing.TB, text string) *Recipe {
	t.Helper()
	r, findings := Decode("test-grey.toml", []byte(text))
	for _, f := range findings {
		t.Errorf("%s", strings.Join(f.Lines(), "\n"))
	}
	if r == nil {
		t.Fatal("no recipe")
	}
	return r
}

// change replaces old, which must stand in text just once, and takes a mark «
// out of the result. It gives the place of the mark, counted in its own way.
func change(t testing.TB, text, old, new string) (changed string, line, column int) {
	t.Helper()
	if n := strings.Count(text, old); n != 1 {
		t.Fatalf("%q stands %d times in the good recipe", old, n)
	}
	text = strings.Replace(text, old, new, 1)
	before, after, marked := strings.Cut(text, "«")
	if !marked {
		return text, 0, 0
	}
	lines := strings.Split(before, "\n")
	return before + after, len(lines), utf8.RuneCountInString(lines[len(lines)-1]) + 1
}

func TestDecodeGivesEveryField(t *testing.T) {
	r := decodeGood(t, good)
	if r.Slug != "test-grey" || r.Title != "Test grey on silver" || r.Revision != 3 || r.Kind != Immersed || len(r.Alloys) != 2 {
		t.Errorf("head: %+v", r)
	}
	if w := r.Bath.Water; w.At != 75 || w.From != 71 || w.To != 82 {
		t.Errorf("water %+v", w)
	}
	if b := r.Bath; b.MaxLoad != 2 || b.MaxLoadReason != "pieces touch beyond it" || b.WorksDownTo != 60 || b.Weakest != 0.5 {
		t.Errorf("limits %+v", b)
	}
	if w := (MixStep{Add: AddWater, Part: 2.0 / 3, Water: 20, HasWater: true, Line: 30}); len(r.Bath.Mix) != 4 || !reflect.DeepEqual(r.Bath.Mix[1], w) || r.Bath.Mix[3].Part != 1 {
		t.Errorf("order of mixing %+v", r.Bath.Mix)
	}
	if w := (Window{0.2, 0.35, "common practice, no published source"}); r.Dip.Window != w || !w.Given() {
		t.Errorf("window %+v", r.Dip.Window)
	}
	a, b := r.Bath.Reagents[0], r.Bath.Reagents[1]
	if a.Substance != "liver-of-sulfur" || a.Form != "lump" || a.Concentration != (Range[measure.Concentration]{measure.Concentration{PerL: 4.5}, measure.Concentration{PerL: 4}, measure.Concentration{PerL: 5}}) {
		t.Errorf("first reagent %+v", a)
	}
	if b.Concentration.From != b.Concentration.To || b.Concentration.At != (measure.Concentration{PerL: 10, ByVolume: true}) || b.Note != "last" {
		t.Errorf("second reagent %+v", b)
	}
	if r.Dip == nil || r.Dip.Dips != 2 || r.Dip.Time.To != 30 || r.Dip.StopAt != "grey" || r.Coats != nil {
		t.Errorf("dip %+v, coats %+v", r.Dip, r.Coats)
	}
	if len(r.Steps) != 6 {
		t.Fatalf("%d steps", len(r.Steps))
	}
	s := r.Steps[1]
	if s.Do != "rinse" || s.Baths != 2 || !s.HasWater || s.Water.At != 60 || s.Line != 55 {
		t.Errorf("second step %+v", s)
	}
	if s := r.Steps[4]; s.With != "sodium-carbonate" || s.Concentration.To != (measure.Concentration{PerL: 20}) || s.Baths != 1 {
		t.Errorf("fifth step %+v", s)
	}
	if h := r.Hazards; len(h.Gas) != 1 || len(h.PPE) != 2 || len(h.Notes) != 1 || h.Disposal == "" {
		t.Errorf("hazards %+v", h)
	}
	c := decodeGood(t, goodBrushed)
	if c.Dip != nil || c.Coats == nil || c.Coats.Number != (Range[float64]{3, 1, 5}) || c.Coats.Spread.At != 80 || c.Coats.Wait.At != 1800 {
		t.Errorf("coats %+v", c.Coats)
	}
}

// Units other than the plain ones arrive in the units of the types.
func TestDecodeConverts(t *testing.T) {
	const handbook = "NIST Handbook 44, appendix C: oz 28.349523125 g, US gal 3.785411784 L"
	for _, c := range []struct {
		concentration, source string
		want                  float64
	}{
		{"4500 mg/L", "SI prefixes", 4.5},
		{"0.45 % w/v", "definition of % w/v: g in 100 mL", 4.5},
		{"1 oz/US gal", handbook, 28.349523125 / 3.785411784},
		{"1 oz/imp gal", "UK Units of Measurement Regulations 1995: gallon 4.54609 L", 28.349523125 / 4.54609},
	} {
		text, _, _ := change(t, good, `{ at = "4.5 g/L", from = "4 g/L", to = "5 g/L" }`, `"`+c.concentration+`"`)
		got := decodeGood(t, text).Bath.Reagents[0].Concentration.At.PerL
		outside.Check(t, "recipe concentration "+c.concentration+" in g/L", c.source, c.want, got, 1e-9)
	}
	text, _, _ := change(t, goodBrushed, "substance     = \"ammonium-chloride\"\nconcentration = \"40 g/L\"",
		"substance = \"copper-sulfate\"\nform = \"pentahydrate\"\nconcentration = \"0.1 mol/L\"")
	got := decodeGood(t, text).Bath.Reagents[0]
	if got.Concentration.At.ByVolume {
		t.Errorf("mol/L arrived as %s", got.Concentration.At)
	}
	outside.Check(t, "recipe concentration 0.1 mol/L of copper sulfate pentahydrate in g/L",
		"IUPAC standard atomic weights 2021: Cu 63.546, S 32.06, O 15.999, H 1.008", 0.1*(63.546+32.06+9*15.999+10*1.008), got.Concentration.At.PerL, 0.002)
}
