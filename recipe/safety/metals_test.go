package safety

import "testing"

// Alkaline sulfide and caustic eat aluminium and zinc: general chemistry, from memory.
func TestVesselWords(t *testing.T) {
	for words, want := range map[string]bool{
		"aluminium pan": true, "an old aluminum pot": true, "galvanised bucket": true, "glass or a zinc tray": true,
		"glass, glazed or plastic; no bare metal": false, "never aluminium": false, "not in zinc, aluminium or tin": false, "": false,
	} {
		if got := wrongVessel(words); got != want {
			t.Errorf("%q: %v", words, got)
		}
		r := bathOf("liver-of-sulfur", "dip", "rinse 2")
		r.Bath.Vessel = words
		if got := gravest(Sequence(r)) == grade(CorrectFirst); got != want {
			t.Errorf("%q as the vessel of a sulfide bath: put right first is %v", words, got)
		}
	}
}

func TestFamily(t *testing.T) {
	for name, want := range map[string]string{
		"sterling-925": "silver", "fine-999": "silver", "gold-fine": "gold", "nickel-silver-c752": "nickel silver", "brass-c260": "brass",
		"tin-brass-c435": "brass", "bronze-c510": "bronze", "copper-c110": "copper", "aluminium": "aluminium", "zinc": "zinc", "steel-316": "steel", "x": "",
	} {
		if got := family(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}
