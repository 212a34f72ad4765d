package measure

import "testing"

func TestConcentrationPrints(t *testing.T) {
	for _, c := range []struct {
		is         Concentration
		metric, us string
	}{
		{Concentration{PerL: 4.5}, "4.5 g/L", "0.601 oz/US gal"},
		{Concentration{PerL: 0.02}, "20 mg/L", "0.00267 oz/US gal"},
		{Concentration{PerL: 20, ByVolume: true}, "20 mL/L", "2.56 US fl oz/US gal"},
	} {
		if got := c.is.String(); got != c.metric {
			t.Errorf("%+v prints as %q, want %q", c.is, got, c.metric)
		}
		note := Say("mix it at ", c.is, ".")
		if note.Text != "mix it at "+c.metric+"." || note.In(US) != "mix it at "+c.us+"." {
			t.Errorf("%+v in a sentence: %q, %q", c.is, note.Text, note.In(US))
		}
	}
	if c := (Concentration{PerL: 4, ByVolume: true}).Times(0.5); c != (Concentration{PerL: 2, ByVolume: true}) {
		t.Errorf("half of 4 mL/L is %v", c)
	}
}
