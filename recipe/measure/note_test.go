package measure

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestNote(t *testing.T) {
	n := Say("An open bath of ", Liters(1.89), " at ", Celsius(75.5), " cools ", Degrees(1.3), " a minute; ", 3, " pieces of ", SquareCM(26.933),
		", ", SquareDMPerLiter(2), ", ", GramsPerLiter(22.467455), ", ", Grams(8.5), ", ", Millimeters(25.4), ", ", MillilitersPerSquareM(40.7458333), ", ", Seconds(90), ", ", 0.25)
	metric := "An open bath of 1.89 L at 75.5 C cools 1.3 C a minute; 3 pieces of 26.9 cm2, 2 dm2/L, 22.5 g/L, 8.5 g, 25.4 mm, 40.7 mL/m2, 1 min 30 s, 0.25"
	us := "An open bath of 2 US qt at 167.9 F cools 2.3 F a minute; 3 pieces of 4.17 in2, 0.815 ft2/US gal, 3 oz/US gal, 8.5 g (0.3 oz), 1 in, 1 US gal/1000 ft2, 1 min 30 s, 0.25"
	if n.Text != metric || n.In(Metric) != metric {
		t.Errorf("metric:\n%s\n%s", n.Text, metric)
	}
	if got := n.In(US); got != us {
		t.Errorf("US:\n%s\n%s", got, us)
	}
	outer := Say("Look: ", n, " And: ", Celsius(100))
	if got := outer.In(US); got != "Look: "+us+" And: 212 F" {
		t.Errorf("nested: %s", got)
	}
}

// A note that was kept as JSON prints as it did, in both systems; one whose figures
// point beside its text is given as its text stands, and nothing panics.
func TestNoteKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parts []any
		for range rapid.IntRange(0, 8).Draw(t, "parts") {
			x := rapid.Float64Range(-50, 1e5).Draw(t, "x")
			parts = append(parts, rapid.SampledFrom([]any{Celsius(x), Liters(x), Degrees(x), Grams(x), rapid.String().Draw(t, "text")}).Draw(t, "part"))
		}
		n := Say(parts...)
		n.Text = strings.ToValidUTF8(n.Text, "?")
		text, err := json.Marshal(n)
		if err != nil {
			t.Fatal(err)
		}
		var back Note
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		if back.In(US) != n.In(US) || back.In(Metric) != n.Text || len(n.Figures) > 0 && !reflect.DeepEqual(back.Figures, n.Figures) {
			t.Fatalf("%q became %q", n.In(US), back.In(US))
		}
		for i := range back.Figures {
			back.Figures[i].From = rapid.IntRange(-3, 100).Draw(t, "from")
			back.Figures[i].To = rapid.IntRange(-3, 100).Draw(t, "to")
		}
		_ = back.In(US)
	})
	wild := Note{Text: "5 C", Figures: []Figure{{From: 0, To: 9, Value: 5, Unit: "C"}}}
	if got := wild.In(US); got != "5 C" {
		t.Errorf("a figure beside the text: %q", got)
	}
}

// What the bench reads off its own tools. Ounces by the exact definitions.
func TestBench(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Metric.Scale(8.5), "8.5 g"}, {US.Scale(2.7), "2.7 g (0.0952 oz)"}, {US.Scale(1000), "1000 g (2.2 lb)"}, {US.Scale(8.5), "8.5 g (0.3 oz)"}, {Metric.Scale(1234.5), "1234.5 g"}, {Metric.Scale(850.5), "850.5 g"}, {Metric.Scale(1.0 / 3), "0.333 g"},
		{Metric.Of(12.5, "mL"), "12.5 mL"}, {US.Of(29.5735295625, "mL"), "29.6 mL (1 US fl oz)"},
		{US.Liquid(0.006), "6 mL (0.203 US fl oz)"}, {US.Liquid(0), "0 US fl oz"}, {US.Liquid(0.5), "16.9 US fl oz"}, {Metric.Liquid(0.006), "6 mL"},
		{Metric.Degrees(1.26), "1.3 C"}, {US.Degrees(10), "18 F"}, {US.Both(75), "167 F (75 C)"}, {Metric.Both(75), "75 C"},
		{Metric.Ruler(12), "12 mm"}, {US.Ruler(25.4), "1 in"}, {US.Ruler(31.75), "1 1/4 in"}, {US.Ruler(11.1125), "7/16 in"}, {US.Ruler(12), "1/2 in (12 mm)"}, {US.Ruler(0), "0 in"},
		{US.Of(10, "nm"), "10 nm"}, {US.Of(0.8, ""), "0.8"}, {US.Of(20, "C"), "68 F"}, {US.Of(20, "dm2"), "2.15 ft2"}, {US.Of(12.5, "mL"), "12.5 mL (0.423 US fl oz)"},
	} {
		if c.got != c.want {
			t.Errorf("printed %q, want %q", c.got, c.want)
		}
	}
}
