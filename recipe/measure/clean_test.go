package measure

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func TestClean(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Antique black on silver", "Antique black on silver"},
		{"noir bleuté, 75 °C, ½ – æ 銀", "noir bleuté, 75 °C, ½ – æ 銀"},
		{"\x1b[31mred\x1b[0m", "red"},
		{"\x1b[1;38;5;196mred", "red"},
		{"\u009b31mred", "red"},
		{"\x9b31mred", "red"},
		{"a\x1b[2J\x1b[Hb", "ab"},
		{"a\x1b]0;title\x07b", "ab"},
		{"a\x1b]8;;http://example.org\x1b\\link\x1b]8;;\x1b\\b", "alinkb"},
		{"a\u009d0;title\u009cb", "ab"},
		{"a\x1bP1$q\x1b\\b", "ab"},
		{"a\x1b(Bb", "ab"},
		{"a\x1bcb", "ab"},
		{"a\x1b7b", "ab"},
		{"a\x1b", "a"},
		{"a\x1b[", "a"},
		{"a\x1b[31", "a"},
		{"a\x1b]never ended", "anever ended"},
		{"a\x1b\x1b[31mb", "ab"},
		{"one\ntwo\r\nthree\tfour", "one two three four"},
		{"bell\a back\b del\x7f nul\x00", "bell back del nul"},
		{"abc\u202etxt.exe", "abctxt.exe"},
		{"\u2066iso\u2069 \u200bzero\ufeff", "iso zero"},
		{"line\u2028next\u0085end", "line next end"},
		{"bad \xff byte", "bad \ufffd byte"},
		{"tag\U000e0041", "tag"},
		{"", ""},
	} {
		if got := Clean(c.text); got != c.want {
			t.Errorf("Clean(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

// Text made to have the end of a string looked for over and over: were that done
// from each start to the end of the text, this test would not end within the hour.
func TestCleanStaysLinear(t *testing.T) {
	for _, part := range []string{"\x1b]", "\x9d", "\u009d", "\x1bPaaaa", "\x1b[", "\u202e"} {
		got := Clean(strings.Repeat(part, 1_000_000))
		if strings.Trim(got, "a") != "" {
			t.Errorf("Clean of many %q leaves %.20q", part, got)
		}
	}
}

func FuzzClean(f *testing.F) {
	for _, s := range []string{"plain", "\x1b[31mred\x1b[0m", "a\x1b]0;t\x07b", "\u009b1m", "\x9b1m", "\u202e", "a\nb", "\xff\xfe", "\x1b\x1b]\x1b\\"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got := Clean(text)
		if !utf8.ValidString(got) {
			t.Fatalf("%q is not text", got)
		}
		for _, r := range got {
			if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == '\u2028' || r == '\u2029' {
				t.Fatalf("Clean(%q) lets %U through", text, r)
			}
		}
		if again := Clean(got); again != got {
			t.Fatalf("Clean of %q gives %q", got, again)
		}
	})
}
