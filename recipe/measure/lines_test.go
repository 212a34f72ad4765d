package measure

import (
	"strings"
	"testing"
)

// Lines break between words, and a command that somebody copies stands in one piece.
func TestLines(t *testing.T) {
	for text, want := range map[string]string{
		"":                             "",
		"write down what a batch left": "write down what a|batch left",
		"do: write hepar journal waste 2026-014 --container W-3, as on its label": "do: write|hepar journal waste 2026-014 --container W-3, as|on its label",
		"then: hepar shop shows what counts":                                      "then: hepar shop|shows what counts",
		"see \"hepar stock add --help\" first":                                    "see|\"hepar stock add --help\"|first",
		"a-word-that-is-far-too-long-for-one-line-and-goes-on-for-longer":         "a-word-that-is-far-|too-long-for-one-|line-and-goes-on-|for-longer",
	} {
		room := 20
		if strings.Contains(text, "waste") {
			room = 50
		} else if strings.Contains(text, "stock") {
			room = 25
		}
		if got := strings.Join(Lines(text, room), "|"); got != want {
			t.Errorf("%q in lines of %d: %q, want %q", text, room, got, want)
		}
	}
}

// What fits stays as it is; what does not keeps its indent, and a question the room for its answer.
func TestFit(t *testing.T) {
	for text, want := range map[string]string{
		"short  line\n\n  and another \n":              "short  line\n\n  and another \n",
		"  these are 4 pieces, keep leaves it so: ":    "  these are 4 pieces,\n  keep leaves it so: ",
		"\x1b[1mthese are coloured by somebody\x1b[0m": "\x1b[1mthese are coloured by somebody\x1b[0m",
		"\r  these are counted down to nothing":        "\r  these are counted down to nothing",
	} {
		if got := Fit(text, 24); got != want {
			t.Errorf("%q became %q, want %q", text, got, want)
		}
	}
}
