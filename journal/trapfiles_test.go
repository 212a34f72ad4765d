package journal

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

// CBOR allows more than a record may be: keys twice, of which the last would count
// in silence, lengths that are not there or beyond all memory, marks that give a
// figure another meaning, nesting without end. With a checksum that fits, each of
// them is refused, by the reading by hand as by the library.
func TestCBORThatIsNoRecord(t *testing.T) {
	for name, body := range map[string]string{
		"a key twice":                "\xa2\x01\x03\x01\x04",
		"a map without a length":     "\xbf\x01\x03\xff",
		"something behind it":        "\xa1\x01\x03\x00",
		"a map beyond all memory":    "\xa1\x05\xbb\x7f\xff\xff\xff\xff\xff\xff\xff",
		"a text beyond all memory":   "\xa1\x01\x7b\x7f\xff\xff\xff\xff\xff\xff\xff",
		"a figure with a mark":       "\xa1\x01\xc2\x41\x01",
		"a key that is text":         "\xa1\x61\x31\x03",
		"a text for a figure":        "\xa1\x01\x61\x33",
		"a figure that is none":      "\xa1\x01\xf9\x7e\x00",
		"a fraction":                 "\xa1\x01\xf9\x3e\x00",
		"a negative count of events": "\xa1\x01\x20",
		"nesting":                    "\xa1\x05" + strings.Repeat("\xa1\x01", 5000) + "\xa0",
		"an unknown key":             "\xa1\x18\x63\x01",
		"cut short":                  "\xa3\x01\x03",
		"an array":                   "\x81\x01",
		"nothing":                    "\xf6\xf6",
	} {
		var head headRecord
		if err := unseal(withChecksum(append([]byte{recordVersion}, body...)), &head); err == nil {
			t.Errorf("%s: it is taken for %+v", name, head)
		}
		var c containerRecord
		if err := unseal(withChecksum(append([]byte{recordVersion}, body...)), &c); err == nil {
			t.Errorf("%s: it is taken for the container %+v", name, c)
		}
	}
}

// TOML keys count as they are written, figures are finite, and a wrong value is
// named at its own line, though the library takes all of that otherwise.
func TestMappingMeetsTheTrapsOfTOML(t *testing.T) {
	const right = "dates = [\"YYYY-MM-DD\"]\n[columns]\ncreated = \"When\"\nrecipe = \"How\"\ngood = \"Good\"\n[defaults]\nrework = 0\n"
	if _, err := DecodeMapping("mapping.toml", []byte(right)); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ old, new, want string }{
		"a key in capitals":      {"recipe = ", "Recipe = ", "mapping.toml:4:1"},
		"a table in capitals":    {"[defaults]", "[Defaults]", "mapping.toml:6:"},
		"a figure that is none":  {"rework = 0", "rework = nan", "mapping.toml:7:"},
		"a figure without end":   {"rework = 0", "rework = inf", "mapping.toml:7:"},
		"a figure for a text":    {`recipe = "How"`, "recipe = 3", "mapping.toml:4:"},
		"a text for a list":      {`["YYYY-MM-DD"]`, `"YYYY-MM-DD"`, "mapping.toml:1:"},
		"a figure within a list": {`["YYYY-MM-DD"]`, `["YYYY-MM-DD", 7]`, "mapping.toml:1:"},
	} {
		_, err := DecodeMapping("mapping.toml", []byte(strings.Replace(right, c.old, c.new, 1)))
		var findings strict.Findings
		if !errors.As(err, &findings) || !slices.ContainsFunc(findings, func(f strict.Finding) bool { return strings.HasPrefix(f.Place(), c.want) }) {
			t.Errorf("%s: got %v, want it at %s", name, findings, c.want)
		}
	}
}

// A number is given out once, also where the count of those given out is behind.
func TestNumberTakenIsNotGivenOut(t *testing.T) {
	j := told(t)
	if err := Tamper(j.path, headed(func(h *headRecord) { h.Years[2026] = 0 })); err != nil {
		t.Fatal(err)
	}
	if b, err := j.Create(oneOrder()); fault.KindOf(err) != fault.Damaged || !strings.Contains(err.Error(), "2026-001 is taken already") {
		t.Errorf("got %s, %v", b.Number, err)
	}
	if err := Tamper(j.path, headed(func(h *headRecord) { h.Years[2026] = 9 })); err != nil {
		t.Fatal(err)
	}
	if b, err := j.Create(oneOrder()); err != nil || b.Number != "2026-010" {
		t.Errorf("got %s, %v", b.Number, err)
	}
}
