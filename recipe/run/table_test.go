package run

import (
	"maps"
	"strings"
	"testing"
)

func TestReadTable(t *testing.T) {
	rows, err := ReadTable(strings.NewReader("\ufeffLoad, pieces,temperature\n3, 4,\"71,4\"\n"), "loads.csv")
	if err != nil || len(rows) != 1 || rows[0] != (Row{Load: "3", Temperature: "71,4", Pieces: "4"}) {
		t.Errorf("%+v, %v", rows, err)
	}
	for _, text := range []string{"", "load\n", "time\n12 s\n", "load\n\"1\n"} {
		if rows, err := ReadTable(strings.NewReader(text), "loads.csv"); err == nil {
			t.Errorf("%q is read as %+v", text, rows)
		}
	}
}

// TestCausesInShort: one cause needs no count, and its load no name.
func TestCausesInShort(t *testing.T) {
	for _, c := range []struct {
		causes string
		bad    int
		want   string
	}{{"spots", 3, "spots=3"}, {"spots=2", 3, "spots=2"}, {"spots, muddy", 3, "spots, muddy"}, {"spots", 0, "spots"}, {"", 3, ""}} {
		if got := AllOf(c.causes, c.bad); got != c.want {
			t.Errorf("%q of %d: %q, want %q", c.causes, c.bad, got, c.want)
		}
	}
	one, two := map[string]int{"spots": 2}, map[string]int{"spots": 2, "muddy": 1}
	for _, c := range []struct {
		pair   string
		causes map[string]int
		want   map[string]int // nil: refused
	}{
		{"spots=4", one, map[string]int{"spots": 4}}, {"4", one, map[string]int{"spots": 4}}, {"muddy=1", two, map[string]int{"muddy": 1}},
		{"4", two, nil}, {"patchy=1", one, nil}, {"spots=0", one, nil}, {"spots", one, nil}, {"4", nil, nil},
	} {
		got, err := LoadsOf([]string{c.pair}, c.causes)
		if (err == nil) != (c.want != nil) || c.want != nil && !maps.Equal(got, c.want) {
			t.Errorf("%q of %v: %v, %v", c.pair, c.causes, got, err)
		}
	}
}
