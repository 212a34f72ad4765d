package recipe

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// sameUnits pairs figures of the good recipe with the same amounts in other units.
func sameUnits() [][2]string {
	return [][2]string{
		{`"4.5 g/L"`, `"4500 mg/L"`}, {`"4.5 g/L"`, `"0.45 % w/v"`}, {`"75 C"`, `"167 F"`}, {`water = "60 C"`, `water = "333.15 K"`},
		{`"2/3"`, `"0.6666666666666667"`}, {`"50 %"`, `"0.5"`}, {`"-20 % +35 %"`, `"-20% +35%"`}, {`"1 min"`, `"60 s"`}, {`"10 mL/L"`, `"0.01 L/L"`}, {`"2 dm2/L"`, `"200 cm2/L"`},
		{`"10 g/L"`, `"10 kg/m3"`}, {`"30 s"`, `"0.5 min"`}, {`"10 s"`, `"10s"`},
		{`"10 mL/L"`, `{ at = "10 mL/L", from = "10 mL/L", to = "10 mL/L" }`}, {`"hood"`, `'hood'`}, {`"hood"`, `"""hood"""`},
	}
}

// reshape writes the same content in another way.
func reshape(t *rapid.T, text string) string {
	for _, pair := range sameUnits() {
		if strings.Count(text, pair[0]) == 1 && rapid.Bool().Draw(t, "other unit") {
			text = strings.Replace(text, pair[0], pair[1], 1)
		}
	}
	blocks := strings.Split(text, "\n\n")
	for i, block := range blocks {
		lines := strings.Split(strings.TrimRight(block, "\n"), "\n")
		head := 0
		if strings.HasPrefix(lines[0], "[") {
			head = 1
		}
		lines = append(lines[:head:head], rapid.Permutation(lines[head:]).Draw(t, "order of keys")...)
		for j, line := range lines {
			if rapid.Bool().Draw(t, "spaces") {
				line = "  " + strings.Replace(line, " = ", "\t =   ", 1) + " "
			}
			if rapid.Bool().Draw(t, "comment") {
				line = "# 99 g/L\n" + line + " # note = 5"
			}
			lines[j] = line
		}
		blocks[i] = strings.Join(lines, "\n")
	}
	// [hazards] and [dip] may stand before the lists of tables
	if rapid.Bool().Draw(t, "order of tables") {
		last := len(blocks) - 1
		blocks = append([]string{blocks[0], blocks[last]}, blocks[1:last]...)
	}
	end := rapid.SampledFrom([]string{"\n\n", "\n", "\n\n\n# end\n"}).Draw(t, "gaps")
	text = strings.Join(blocks, end) + "\n"
	if rapid.Bool().Draw(t, "CRLF") {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return text
}

func TestDigestIgnoresLayout(t *testing.T) {
	want := decodeGood(t, good)
	rapid.Check(t, func(t *rapid.T) {
		text := reshape(t, good)
		got, findings := Decode("test-grey.toml", []byte(text))
		if got == nil {
			t.Fatalf("%s\n%s", report(findings), text)
		}
		if got.Digest != want.Digest {
			t.Fatalf("digest changed\n%s\n%s", cmp.Diff(string(Canonical(want)), string(Canonical(got))), text)
		}
	})
}

// Every figure in the file counts: changing any of them changes the digest, or
// makes the recipe bad.
func TestDigestSeesEveryFigure(t *testing.T) {
	for _, base := range []string{good, goodBrushed} {
		seen := map[string]bool{decodeGood(t, base).Digest: true}
		figures := regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)
		for _, at := range figures.FindAllStringIndex(base, -1) {
			text := base[:at[0]] + "1" + base[at[0]:]
			r, _ := Decode("test-grey.toml", []byte(text))
			if r == nil {
				text = base[:at[1]] + ".01" + base[at[1]:]
				r, _ = Decode("test-grey.toml", []byte(text))
			}
			if r != nil && seen[r.Digest] {
				t.Errorf("the figure at byte %d does not count", at[0])
			}
			if r != nil {
				seen[r.Digest] = true
			}
		}
		if len(seen) < 7 {
			t.Errorf("only %d figures could be changed", len(seen))
		}
	}
}

func TestDigestSeesEveryWord(t *testing.T) {
	want := decodeGood(t, good).Digest
	for _, c := range [][2]string{
		{"even grey", "even grey."}, {"\nsource   = \"common", "\nsource   = \"Common"}, {`"sterling-925", "fine-999"`, `"fine-999", "sterling-925"`},
		{`form          = "lump"`, ``}, {"last", "first"}, {`note          = "last"`, `source = "last"`}, {`stop_at = "grey"`, ``}, {"soft brush", "brush"}, {"keep moving", "move"},
		{`time = "1 min"`, `running = true`}, {`"goggles", "gloves"`, `"goggles"`}, {`["hydrogen sulfide"]`, `[]`}, {"no acid near it", "no acid"},
		{"[bath]", "[bath]\nvessel = \"glass\""}, {"[bath]", "plated = true\n[bath]"}, {`kind     = "immersed"`, `kind     = "stop"`},
		{`do   = "rinse"` + "\n" + `time = "1 min"`, `do = "wait"` + "\n" + `time = "1 min"`}, {`with = "detergent"`, `with = "acetone"`},
		{"pieces touch", "they touch"}, {"under the hood", "outdoors"}, {`window_source = "common`, `window_source = "Common`},
	} {
		text, _, _ := change(t, good, c[0], c[1])
		if got := decodeGood(t, text).Digest; got == want {
			t.Errorf("%q for %q gives the same digest", c[1], c[0])
		}
	}
}

func TestCanonicalIsSortedJSON(t *testing.T) {
	for _, base := range []string{good, goodBrushed} {
		r := decodeGood(t, base)
		var v any
		if err := json.Unmarshal(Canonical(r), &v); err != nil {
			t.Fatal(err)
		}
		again, err := json.Marshal(v) // maps are written with sorted keys
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(again), string(Canonical(r))); diff != "" {
			t.Error(diff)
		}
		if !regexp.MustCompile(`^sha256:[0-9a-f]{64}$`).MatchString(r.Digest) {
			t.Errorf("digest %q", r.Digest)
		}
	}
	// A journal holds digests: change canonicalFormat together with the layout.
	const was = "sha256:fbcb8b827d690788f8921f79f43412a7023ffb65cd05a33dc4779ca39da22923"
	if got := decodeGood(t, good).Digest; got != was {
		t.Errorf("digest of the good recipe is %s, was %s", got, was)
	}
}
