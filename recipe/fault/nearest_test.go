package fault

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	names := []string{"silver-black", "silver-black-plate", "copper-green", "dip"}
	for word, want := range map[string]string{
		"silver-blakc": "silver-black", "Silver-Black": "silver-black", "dpi": "dip", "zzz": "", "": "", "copper": "copper-green",
		strings.Repeat("silver", 50): "",
	} {
		if got := Nearest(word, names); got != want {
			t.Errorf("nearest to %q is %q, wanted %q", word, got, want)
		}
	}
	if near := NearestN("silver-blac", names, 5); !slices.Equal(near, []string{"silver-black", "silver-black-plate"}) {
		t.Errorf("%v", near)
	}
	for _, n := range []int{0, -1} {
		if near := NearestN("dip", names, n); near != nil {
			t.Errorf("%d names: %v", n, near)
		}
	}
}

func TestChanges(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"dip", "dip", 0}, {"dpi", "dip", 1}, {"dip", "drip", 1}, {"tip", "dip", 1}, {"", "dip", 3}, {"ä", "a", 1}, {"Dip", "dip", 1}} {
		if got := Changes(c.a, c.b); got != c.want {
			t.Errorf("from %q to %q: %d changes, wanted %d", c.a, c.b, got, c.want)
		}
	}
}

func TestChangesByProperty(t *testing.T) {
	word := rapid.StringMatching(`[abc]{0,8}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		n := Changes(a, b)
		if n != Changes(b, a) {
			t.Fatal("not the same both ways")
		}
		if (n == 0) != (a == b) {
			t.Fatalf("%d changes from %q to %q", n, a, b)
		}
		if longer, gap := max(len(a), len(b)), max(len(a), len(b))-min(len(a), len(b)); n > longer || n < gap {
			t.Fatalf("%d changes from %q to %q", n, a, b)
		}
	})
}
