// Package outside holds the helpers with which tests compare the program with the
// outside world: a published standard, a handbook, a worked example, a measurement.
//
// A line counts as outside only if somebody else published or measured the expected
// value, and neither the constant nor the formula comes from the same table. What
// restates a definition, our own stoichiometry or the table that a constant was
// fitted to goes through [Same]. Each check names its source and is logged as one
// line, so that a verbose test run prints the whole table.
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

// Same compares a figure as [Check] does and logs it as a line of its own kind. It is
// for what is worth a test and is no outside check: a definition restated, a formula
// worked out again, a table from which a constant was taken.
func Same(t testing.TB, what, source string, want, got, tolerance float64) {
	t.Helper()
	t.Logf("restated: %s | %s | expected %.10g | got %.10g", what, source, want, got)
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s: got %.10g, %s has %.10g (tolerance %g)", what, got, source, want, tolerance)
	}
}
