package recipe

import (
	"strings"
	"testing"
)

// Without an order of its own a bath is mixed water first. Ammonia comes last, and
// the water under it is cold.
func TestMixingWithoutAnOrder(t *testing.T) {
	for _, c := range []struct {
		reagents, want string
		cold           bool
	}{
		{"liver-of-sulfur sodium-chloride", "water liver-of-sulfur sodium-chloride", false},
		{"ammonia copper-carbonate", "water copper-carbonate ammonia", true},
	} {
		var b Bath
		for _, id := range strings.Fields(c.reagents) {
			b.Reagents = append(b.Reagents, Reagent{Substance: id})
		}
		var got []string
		for _, s := range b.Mixing() {
			got = append(got, s.Add)
			if s.Part != 1 {
				t.Errorf("%s: %g of the %s", c.reagents, s.Part, s.Add)
			}
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s: mixed in the order %v", c.reagents, got)
		}
		if first := b.Mixing()[0]; first.HasWater != c.cold || first.Water > coldWater {
			t.Errorf("%s: first %+v", c.reagents, first)
		}
	}
}

// The order of the recipe stands as it is written.
func TestMixingFollowsTheRecipe(t *testing.T) {
	b := decodeGood(t, good).Bath
	if got := b.Mixing(); len(got) != 4 || got[0].Add != "ammonia" || got[3].Add != "liver-of-sulfur" {
		t.Errorf("%+v", got)
	}
}

// Hot water into a bath with ammonia is refused for safety, not merely found.
func TestHotWaterOnAmmoniaIsRefused(t *testing.T) {
	text, _, _ := change(t, good, `temperature = "25 C"`, `temperature = "75 C"`)
	if _, findings := Decode("x.toml", []byte(text)); !Findings(findings).Refused() {
		t.Error(report(findings))
	}
}
