package journal_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hepar/journal"
)

// libraryView is a View that the standard library writes.
type libraryView journal.View

// A View is written as the standard library would write it.
func TestViewIsWrittenRight(t *testing.T) {
	text := rapid.OneOf(rapid.String(), rapid.Map(rapid.SliceOfN(rapid.Byte(), 0, 12), func(b []byte) string { return string(b) }),
		rapid.SampledFrom([]string{"", "\u2028\u2029\x7f<&>\"\\\b\f\n\r\t\x00", "übergang"}))
	rapid.Check(t, func(t *rapid.T) {
		maybe := func(name string) *string {
			if !rapid.Bool().Draw(t, "with "+name) {
				return nil
			}
			s := text.Draw(t, name)
			return &s
		}
		figure := func(name string) *float64 {
			x := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-300, 300), rapid.SampledFrom([]float64{0, 1e21, 1e-7, -0.5, 123456789012345680000})).Draw(t, name)
			return &x
		}
		n := rapid.IntRange(-5, 500).Draw(t, "n")
		v := journal.View{
			Number: text.Draw(t, "number"), Recipe: text.Draw(t, "recipe"), Order: text.Draw(t, "order"), Pieces: n, Good: &n, Logged: maybe("logged"),
			Causes: rapid.SampledFrom([]map[string]int{nil, {}, {"b": 2, "a<": 1}}).Draw(t, "causes"), TemperatureC: figure("c"), Note: maybe("note"),
			RecipeText: text.Draw(t, "text"), WithoutReview: maybe("reason"),
			Events: rapid.SampledFrom([][]journal.EventView{nil, {}, {{ID: "1", Reason: "<x>", Loads: 2}, {Container: "S-001", Uses: 1}}}).Draw(t, "events"),
			Photos: rapid.SampledFrom([][]journal.PhotoView{nil, {}, {{Path: "a<b"}}}).Draw(t, "photos"),
		}
		if rapid.Bool().Draw(t, "with review") {
			v.Review = &journal.ReviewView{By: text.Draw(t, "by"), Points: rapid.SampledFrom([][]string{nil, {}, {"a", "b"}}).Draw(t, "points")}
			v.Dip = &journal.DipView{By: "a<b", Loads: []journal.LoadView{}}
			v.Sheet = json.RawMessage(`{"a": [1, 2]}`)
		}
		for _, v := range []any{v, &v} {
			var got, want bytes.Buffer
			for to, x := range map[*bytes.Buffer]any{&got: v, &want: libraryView(*viewOfAny(v))} {
				e := json.NewEncoder(to)
				e.SetEscapeHTML(false)
				if err := e.Encode(x); err != nil {
					t.Fatal(err)
				}
			}
			if got.String() != want.String() {
				t.Fatalf("got  %s\nwant %s", got.String(), want.String())
			}
		}
		b, err := v.AppendJSON([]byte("x"))
		if err != nil || !strings.HasPrefix(string(b), "x{") || !json.Valid(b[1:]) {
			t.Fatalf("%s, %v", b, err)
		}
	})
}

func viewOfAny(v any) *journal.View {
	if p, ok := v.(*journal.View); ok {
		return p
	}
	w := v.(journal.View)
	return &w
}
