package label

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"flag"
	"html"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden file again")

// What the labels tell: class and text of each part, and the symbols. Look at them in a
// browser when they change.
func TestGolden(t *testing.T) {
	const file = "testdata/labels.txt"
	small := container(t, ContainerLabel{Content: Content{Substance: "sodium-bisulfate"}, Lot: "12-7", Opened: noon, SDS: "red folder"})
	var got []string
	for _, c := range []struct {
		label Label
		size  Size
	}{
		{container(t, jar("liver-of-sulfur")), mm(99.1, 67.7)},
		{bath(t, tank()), mm(105, 74)},
		{waste(t, drum()), mm(148, 105)},
		{small, sheet(t, "a4-3x8").Label},
	} {
		got = append(got, c.size.String())
		got = append(got, parse(t, print(t, c.label, c.size)).lines...)
	}
	if *update {
		if err := os.WriteFile(file, []byte(strings.Join(got, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(string(want), "\r", "")), "\n"); !slices.Equal(lines, got) {
		t.Errorf("the labels tell something else; run go test -update if it is right:\n%s", strings.Join(got, "\n"))
	}
	if strings.Contains(strings.Join(got, "\n"), "..") {
		t.Error("a sentence has two full stops")
	}
}

func withUsed(s Sheet, n int) Sheet { s.Used = n; return s }

// Places on the page: eight to a sheet, the first seven used, so two pages.
func TestPages(t *testing.T) {
	page, err := Page([]Label{container(t, jar("ethanol"))}, 3, withUsed(sheet(t, "a4-2x4"), 7))
	if err != nil {
		t.Fatal(err)
	}
	p := parse(t, page)
	pages, at := 0, map[string]int{}
	for _, a := range p.attrs {
		if a.Name.Local == "class" && a.Value == "page" {
			pages++
		}
		at[a.Value]++
	}
	if pages != 2 || p.names["section"] != 3 {
		t.Errorf("%d pages, %d labels", pages, p.names["section"])
	}
	for _, want := range []string{"left: 106.25mm; top: 216.2mm", "left: 4.65mm; top: 13.1mm", "left: 106.25mm; top: 13.1mm"} {
		if at[want] != 1 {
			t.Errorf("no label at %q: %v", want, at)
		}
	}
	if !strings.Contains(string(page), "@page { size: 210mm 297mm; margin: 0; }") {
		t.Error("the page has no size")
	}
}

func TestSheets(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range Sheets() {
		if err := s.check(); err != nil {
			t.Errorf("%s: %v", s.Name, err)
		}
		if seen[s.Name] {
			t.Errorf("%s comes twice", s.Name)
		}
		seen[s.Name] = true
		// Left over at both sides alike.
		left, _ := s.at(0)
		last, _ := s.at(s.Columns - 1)
		if right := s.Page.Width - last - s.Label.Width; right-left > 0.01 || left-right > 0.01 || left < 0 {
			t.Errorf("%s: %.2f mm at the left, %.2f at the right", s.Name, float64(left), float64(right))
		}
		if found := sheet(t, s.Name); found != s {
			t.Errorf("%s is not found", s.Name)
		}
	}
	for name, want := range map[string]string{
		"A4-2x4":        "A4, 2 x 4 labels of 99.1 x 67.7 mm",
		"a4-3x8":        "A4, 3 x 8 labels of 64.6 x 33.8 mm",
		"letter-2x5":    "US Letter, 2 x 5 labels of 101.6 x 50.8 mm",
		"105x74mm":      "one label of 105 x 74 mm",
		" 105 x 74 mm ": "one label of 105 x 74 mm",
		"4x2in":         "one label of 101.6 x 50.8 mm",
	} {
		if got := sheet(t, name).Geometry(); got != want {
			t.Errorf("%q: %s", name, got)
		}
	}
	for _, name := range []string{"", "a4", "a4-2x5", "105x74", "5x5mm", "9999x9999mm", "1e9x2mm", "-4x2in", "a4-2x4-10x10", "\x1b[31m", string(make([]byte, 1000))} {
		if s, err := FindSheet(name); err == nil {
			t.Errorf("%q: %s", name, s.Geometry())
		}
	}
}

// Sheets that bear a kind of label, and what is larger than one of them.
func TestBorne(t *testing.T) {
	for _, c := range []struct {
		kind, sheet string
		want        bool
	}{
		{"container", "a4-2x4", true}, {"container", "a4-2x2", true}, {"container", "a4-3x8", false}, {"container", "70x105mm", false},
		{"bath", "a4-2x2", true}, {"bath", "a4-2x4", false}, {"waste", "150x110mm", true}, {"waste", "letter-2x5", false},
	} {
		if got := (Label{Kind: c.kind}).Borne(sheet(t, c.sheet)); got != c.want {
			t.Errorf("%s on %s: %t", c.kind, c.sheet, got)
		}
	}
}

// A browser runs the script of the page and no other: the policy names its hash.
func TestPolicy(t *testing.T) {
	page := print(t, container(t, jar("sulfur")), mm(100, 70))
	_, rest, _ := bytes.Cut(page, []byte("<script>"))
	text, _, found := bytes.Cut(rest, []byte("</script>"))
	if sum := sha256.Sum256(text); !found || string(text) != script ||
		!strings.Contains(html.UnescapeString(string(page)), "script-src 'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'\"") {
		t.Errorf("the policy does not name the script: %s", page[:600])
	}
}

// Symbols and text have their least size by the size of the label.
func TestLeastSizes(t *testing.T) {
	for _, c := range []struct {
		size             Size
		text, box, first float64
	}{
		{mm(64.6, 33.8), 1.9, 16, 22.63},
		{mm(52, 74), 2.3, 22.63, 22.65},   // 3848 / 15 = 16.02 x 16.02 mm, CLP Annex I table 1.3
		{mm(148, 105), 2.3, 22.63, 32.19}, // 7770 / 15 = 22.76 x 22.76 mm, the class up to 50 L
	} {
		text, box, first := least(c.size)
		if math.Abs(text-c.text) > 0.01 || math.Abs(box-c.box) > 0.01 || math.Abs(first-c.first) > 0.01 {
			t.Errorf("%s: %.2f, %.2f, %.2f", c.size, text, box, first)
		}
	}
}
