package measure

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"hepar/recipe/outside"
	"pgregory.net/rapid"
)

// The published examples of rounding half to even.
func TestRoundingAgainstExamples(t *testing.T) {
	for _, row := range records(t, "testdata/rounding.csv") {
		input, rule, want, source := row[0], row[1], row[2], row[3]
		x, err := strconv.ParseFloat(input, 64)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		if n, ok := strings.CutSuffix(rule, " significant figures"); ok {
			figures, err := strconv.Atoi(n)
			if err != nil {
				t.Fatal(err)
			}
			got = Figures(x, figures)
		} else if place, ok := strings.CutPrefix(rule, "to "); ok {
			_, after, _ := strings.Cut(place, ".")
			got = Round(x, len(after))
		} else {
			t.Fatalf("the rule %q is not known", rule)
		}
		outside.Text(t, input+" "+rule, source, want, got)
	}
}

// Where the binary neighbour of a decimal would mislead, and other corners.
func TestRound(t *testing.T) {
	for _, c := range []struct {
		x        float64
		decimals int
		want     string
	}{
		{2.675, 2, "2.68"}, // the float64 is 2.67499999...
		{2.665, 2, "2.66"}, // the float64 is 2.66500000...01
		{1.005, 2, "1.00"},
		{0.1 + 0.2, 1, "0.3"},
		{0.1 + 0.2, 16, "0.3000000000000000"}, // noise is no figure
		{1.15 * 100, 0, "115"},
		{0.5, 0, "0"},
		{1.5, 0, "2"},
		{2.5, 0, "2"},
		{-0.5, 0, "0"},
		{-0.04, 1, "0.0"},
		{-1.5, 0, "-2"},
		{9.995, 2, "10.00"},
		{9.96, 1, "10.0"},
		{999.5, 0, "1000"},
		{0.05, 1, "0.0"},
		{0.15, 1, "0.2"},
		{0.051, 1, "0.1"},
		{1234, -2, "1200"},
		{1250, -2, "1200"},
		{1350, -2, "1400"},
		{49, -2, "0"},
		{51, -2, "100"},
		{1e21, 0, "1000000000000000000000"},
		{1e-30, 3, "0.000"},
		{0, 2, "0.00"},
		{math.NaN(), 2, "?"},
		{math.Inf(-1), 2, "?"},
	} {
		if got := Round(c.x, c.decimals); got != c.want {
			t.Errorf("Round(%v, %d) = %s, want %s", c.x, c.decimals, got, c.want)
		}
	}
	for _, c := range []struct {
		x    float64
		n    int
		want string
	}{
		{0, 3, "0"}, {14.4, 3, "14.4"}, {15, 3, "15.0"}, {9.999, 3, "10.0"}, {0.0012345, 3, "0.00123"}, {123456, 3, "123000"},
		{99.95, 3, "100"}, {-99.95, 3, "-100"}, {7, 0, "7"}, {1e-20, 2, "0.000000000000000000010"}, {math.Inf(1), 3, "?"},
	} {
		if got := Figures(c.x, c.n); got != c.want {
			t.Errorf("Figures(%v, %d) = %s, want %s", c.x, c.n, got, c.want)
		}
	}
}

// Rounding moves a figure by at most half of the last place kept, rounding twice
// changes nothing, and the text is a plain decimal.
func TestRoundProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1e9, 1e9).Draw(t, "x")
		decimals := rapid.IntRange(0, 5).Draw(t, "decimals")
		text := Round(x, decimals)
		if strings.ContainsAny(text, "eE+?") || strings.HasPrefix(text, "-0") && strings.Trim(text, "-0.") == "" {
			t.Fatalf("Round(%v, %d) = %s", x, decimals, text)
		}
		y, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		half := math.Pow(10, -float64(decimals)) / 2
		if math.Abs(x-y) > half*(1+1e-9)+math.Abs(x)*1e-14 {
			t.Fatalf("Round(%v, %d) = %s is off by more than a half", x, decimals, text)
		}
		if again := Round(y, decimals); again != text {
			t.Fatalf("Round of %s gives %s", text, again)
		}
	})
}

// A tie goes to the even neighbour, whatever the float64 makes of it.
func TestTiesGoToEven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 999999).Draw(t, "n")
		decimals := rapid.IntRange(0, 4).Draw(t, "decimals")
		digits := strconv.Itoa(n)
		for len(digits) <= decimals {
			digits = "0" + digits
		}
		body := digits[:len(digits)-decimals] + "." + digits[len(digits)-decimals:]
		x, err := strconv.ParseFloat(body+"5", 64)
		if err != nil {
			t.Fatal(err)
		}
		text := Round(x, decimals)
		if last := text[len(text)-1] - '0'; last%2 != 0 {
			t.Fatalf("Round(%s5, %d) = %s ends odd", body, decimals, text)
		}
	})
}
