package recipe

import (
	"slices"
	"strings"
	"testing"
)

func TestVesselToolsAndWarnings(t *testing.T) {
	text := strings.NewReplacer(
		"do   = \"dip\"", "do  = \"dip\"\nin = \"black pot\"\ntools = [\"basket\", \"tongs\"]\nwarns_of = [\"Lemon juice\", \"acids\"]",
		"[hazards]", "[hazards]\nwarns_of = [\"vinegar\"]",
		"kind     = \"immersed\"", "kind     = \"immersed\"\nwarns_of = [\"bleach\"]",
		"note          = \"last\"", "note = \"last\"\nwarns_of = [\"cola\"]",
		"how  = \"under the hood\"", "how  = \"under the hood\"\nwarns_of = [\"solvents\"]",
	).Replace(good)
	r := decodeGood(t, text)
	dip := r.Steps[slices.IndexFunc(r.Steps, func(s Step) bool { return s.Do == "dip" })]
	if dip.In != "black pot" || !slices.Equal(dip.Tools, []string{"basket", "tongs"}) {
		t.Errorf("%+v", dip)
	}
	for _, c := range []struct {
		got  []string
		want string
	}{
		{dip.WarnsOf, "citric-acid acid"}, {r.Hazards.WarnsOf, "acetic-acid"}, {r.WarnsOf, "sodium-hypochlorite"},
		{r.Bath.Reagents[1].WarnsOf, "phosphoric-acid"}, {r.Bath.Mix[0].WarnsOf, "solvent"},
	} {
		if got := strings.Join(c.got, " "); got != c.want {
			t.Errorf("got %s, wanted %s", got, c.want)
		}
	}
	for _, c := range [][2]string{{"black pot", "other pot"}, {`"tongs"`, `"wire"`}, {"Lemon juice", "vinegar"}, {`["vinegar"]`, `[]`}, {`["bleach"]`, `[]`}, {`["cola"]`, `[]`}, {"solvents", "acetone"}} {
		if decodeGood(t, strings.Replace(text, c[0], c[1], 1)).Digest == r.Digest {
			t.Errorf("the digest does not see %s", c[0])
		}
	}
}
