package job

import (
	"strings"
	"testing"

	"hepar/recipe/strict"
)

const drop = "name = \"drop\"\npieces = 200\nalloy = \"sterling-925\"\nshape = \"disc\"\ndiameter = \"14 mm\"\nmass = \"1.6 g\"\n"

func decode(name, text string) (kinds []Kind, findings []strict.Finding) {
	findings = file.Decode(name, []byte(text), func(t strict.Table) { kinds = read(t) })
	return kinds, findings
}

func TestKinds(t *testing.T) {
	kinds, findings := decode("job.toml", "[[kind]]\n"+drop+"[[kind]]\nname = \"stud\"\npieces = 100\nspares = 4\nalloy = \"fine-999\"\nshape = \"ball\"\ndiameter = \"5 mm\"\n")
	if len(findings) > 0 || len(kinds) != 2 || kinds[1].Spares != 4 || kinds[0].Piece.Mass != 1.6 {
		t.Fatalf("%+v %v", kinds, findings)
	}
	if kinds, findings = decode("drop.toml", drop); len(findings) > 0 || len(kinds) != 1 || kinds[0].Pieces != 200 {
		t.Fatalf("%+v %v", kinds, findings)
	}
}

// TestBadKinds: each fault has its place, its words and its cure.
func TestBadKinds(t *testing.T) {
	for _, test := range []struct{ name, text, place, want string }{
		{"unknown key", drop + "colour = \"black\"\n", "job.toml:7:1", "unknown key"},
		{"no pieces", strings.Replace(drop, "pieces = 200\n", "", 1), "job.toml:1:1", "has no pieces"},
		{"pieces as text", strings.Replace(drop, "200", "\"200\"", 1), "job.toml:2:10", "whole number"},
		{"unknown alloy", strings.Replace(drop, "sterling-925", "sterlin", 1), "job.toml:3:9", "unknown alloy"},
		{"an ounce of silver", strings.Replace(drop, "1.6 g", "1oz", 1), "job.toml:6:8", "the troy ounce or the other"},
		{"a mass as a length", strings.Replace(drop, "14 mm", "14 g", 1), "job.toml:5:12", "is a mass"},
		{"too little known", strings.Replace(drop, "mass = \"1.6 g\"\n", "", 1), "job.toml:1:1", "drop"},
		{"in the second kind", "[[kind]]\n" + drop + "[[kind]]\n" + strings.Replace(drop, "disc", "cube", 1), "job.toml:8:1", "cube"},
		{"both ways", drop + "[[kind]]\n" + drop, "job.toml:1:1", "unknown key"},
	} {
		_, findings := decode("job.toml", test.text)
		if len(findings) == 0 {
			t.Errorf("%s passed", test.name)
			continue
		}
		f := findings[0]
		if !strings.HasPrefix(f.Place(), test.place) && f.Line != 0 || !strings.Contains(f.What, test.want) || f.Cure == "" {
			t.Errorf("%s: %s: %s (%s)", test.name, f.Place(), f.What, f.Cure)
		}
	}
}
