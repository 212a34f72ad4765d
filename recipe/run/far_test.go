package run

import (
	"slices"
	"strings"
	"testing"

	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
)

// TestFar: a slip of the finger is told from a figure that a bench may have.
func TestFar(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 6, plan.Heat{})
	for _, c := range []struct {
		at, took float64 // 0: none
		says     string
		fields   []string
	}{
		{0, 0, "", nil},
		{74, 11, "", nil},
		{60, 30, "", nil},
		{500, 11, "500 C is far from the ", []string{"temperature"}},
		{7, 12, "7 C is far from the ", []string{"temperature"}},
		{74, 11 * 3600, "11 h is far from the ", []string{"time"}},
		{74, 0.5, "0.5 s is far from the ", []string{"time"}},
		{500, 660, ", and 11 min is far", []string{"temperature", "time"}},
	} {
		var at *measure.Celsius
		var took *measure.Seconds
		if c.at > 0 {
			at = new(measure.Celsius(c.at))
		}
		if c.took > 0 {
			took = new(measure.Seconds(c.took))
		}
		said, fields := Far(measure.Metric, r, sheet.Loads, at, took)
		if (said == "") != (c.says == "") || !strings.Contains(said, c.says) || !slices.Equal(fields, c.fields) {
			t.Errorf("%g C, %g s: %q, %v", c.at, c.took, said, fields)
		}
	}
}
