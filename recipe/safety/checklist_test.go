package safety

import (
	"strings"
	"testing"
)

// TestChecklist: all that does not pass is named at once, each with its field and without codes.
func TestChecklist(t *testing.T) {
	good := map[string]string{"ph": "10.5", "capture": "hood", "meter": "5", "second": "Marek Oja", "sds": "2025-04-30"}
	var ticks []string
	review, err := Assess(Subject{Recipe: bathOf("liver-of-sulfur", "dip; rinse 2")})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range review.Confirm {
		if c.Ask == "" {
			ticks = append(ticks, c.Code)
		}
	}
	for name, c := range map[string]struct {
		answers map[string]string
		ticks   []string
		want    string // fields, in order
	}{
		"all":            {good, ticks, ""},
		"nothing":        {map[string]string{}, ticks, "capture meter second sds ph"},
		"not ticked":     {good, ticks[1:], ticks[0]},
		"three stops":    {map[string]string{"ph": "8", "capture": "none", "meter": "50", "second": "Marek Oja", "sds": "2025-04-30"}, ticks, "ph capture meter"},
		"two misspelled": {map[string]string{"ph": "ten", "capture": "hood", "meter": "lots", "second": "Marek Oja", "sds": "2025-04-30"}, ticks, "meter ph"},
		"an empty one":   {map[string]string{"ph": "10.5", "capture": "hood", "meter": " ", "second": "Marek Oja", "sds": "2025-04-30"}, ticks, "meter"},
	} {
		s := Subject{Recipe: bathOf("liver-of-sulfur", "dip; rinse 2")}
		_, list := Checklist(&s, c.answers, c.ticks, today, func(name string) string { return name })
		var fields []string
		for _, w := range list {
			fields = append(fields, w.Field)
			if w.Text == "" || strings.ContainsAny(w.Text, "[]") || strings.Contains(w.Text, "-ph") {
				t.Errorf("%s: %q", name, w.Text)
			}
		}
		if got := strings.Join(fields, " "); got != c.want {
			t.Errorf("%s: the fields are %q, want %q", name, got, c.want)
		}
	}
}
