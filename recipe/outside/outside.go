// Package outside holds the two helpers with which tests compare the program
// with the outside world: a published standard, a handbook, a worked example.
// Each check names its source and is logged as one line, so that a verbose test
// run prints the whole table.
package outside

import (
	"math"
	"testing"
)

// Check logs a figure beside its published value and fails when they differ by
// more than tolerance, in the unit of the figure.
func Check(t testing.TB, what, source string, want, got, tolerance float64) {
	t.Helper()
	t.Logf("outside: %s | %s | expected %.10g | got %.10g", what, source, want, got)
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s: got %.10g, %s has %.10g (tolerance %g)", what, got, source, want, tolerance)
	}
}

// Text logs a word or rounded figure beside its published form and fails when
// they differ.
func Text(t testing.TB, what, source, want, got string) {
	t.Helper()
	t.Logf("outside: %s | %s | expected %s | got %s", what, source, want, got)
	if got != want {
		t.Errorf("%s: got %q, %s has %q", what, got, source, want)
	}
}
