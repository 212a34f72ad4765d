package label

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hepar/recipe/measure"
)

var update = flag.Bool("update", false, "write the golden files again")

// Golden drawings: look at them in a browser when they change.
func TestGolden(t *testing.T) {
	small := container(t, ContainerLabel{Content: Content{Substance: "sodium-bisulfate"}, Lot: "12-7", Opened: noon, SDS: "red folder"})
	for name, doc := range map[string][]byte{
		"jar.svg":    must[[]byte](t)(SVG(container(t, jar("liver-of-sulfur")), mm(99.1, 67.7))),
		"tank.svg":   must[[]byte](t)(SVG(bath(t, tank()), mm(105, 74))),
		"drum.svg":   must[[]byte](t)(SVG(waste(t, drum()), mm(148, 105))),
		"small.html": must[[]byte](t)(HTML([]Label{small, container(t, jar("ethanol"))}, withUsed(sheet(t, "a4-2x4"), 7))),
	} {
		file := filepath.Join("testdata", name)
		parse(t, doc)
		if *update {
			if err := os.MkdirAll("testdata", 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, doc, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if string(want) != string(doc) {
			t.Errorf("%s has changed: look at it, and run go test -update if it is right", file)
		}
	}
}

func withUsed(s Sheet, n int) Sheet { s.Used = n; return s }

// Places on the page: eight to a sheet, the first seven used, so two pages.
func TestPages(t *testing.T) {
	sh := withUsed(sheet(t, "a4-2x4"), 7)
	l := container(t, jar("ethanol"))
	p := parse(t, must[[]byte](t)(HTML([]Label{l, l, l}, sh)))
	pages, at := 0, map[string]int{}
	for _, a := range p.attrs {
		if a.Name.Local == "class" && a.Value == "page" {
			pages++
		}
		if a.Name.Local == "style" {
			at[a.Value]++
		}
	}
	if pages != 2 || p.names["svg"] != 3 {
		t.Errorf("%d pages, %d labels", pages, p.names["svg"])
	}
	for _, want := range []string{"left: 106.25mm; top: 216.2mm", "left: 4.65mm; top: 13.1mm", "left: 106.25mm; top: 13.1mm"} {
		if at[want] != 1 {
			t.Errorf("nothing at %q: %v", want, at)
		}
	}
}

// The printer is off by a little, and the print moves with it.
func TestShift(t *testing.T) {
	sh := sheet(t, "letter-2x5")
	sh.ShiftRight, sh.ShiftDown = 1.5, -0.7
	p := parse(t, must[[]byte](t)(HTML([]Label{container(t, jar("ethanol"))}, sh)))
	found := false
	for _, a := range p.attrs {
		found = found || a.Value == "left: 5.469mm; top: 12mm"
	}
	if !found {
		t.Error(p.attrs)
	}
	sh.ShiftDown = 50
	if _, err := HTML([]Label{container(t, jar("ethanol"))}, sh); err == nil {
		t.Error("a shift of 50 mm was taken")
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
		right := s.Page.Width - (s.Left + s.Across*measure.Millimeters(s.Columns-1) + s.Label.Width)
		if d := right - s.Left; d > 0.01 || d < -0.01 {
			t.Errorf("%s: %.2f mm at the left, %.2f at the right", s.Name, float64(s.Left), float64(right))
		}
		if found := sheet(t, s.Name); found != s {
			t.Errorf("%s is not found", s.Name)
		}
	}
	for name, want := range map[string]string{
		"A4-2x4":           "A4, 2 x 4 labels of 99.1 x 67.7 mm",
		"a4-2x4-99.1x67.7": "A4, 2 x 4 labels of 99.1 x 67.7 mm",
		"a4-3x8":           "A4, 3 x 8 labels of 64.6 x 33.8 mm",
		"letter-2x5":       "US Letter, 2 x 5 labels of 101.6 x 50.8 mm",
		"105x74mm":         "one label of 105 x 74 mm",
		" 105 x 74 mm ":    "one label of 105 x 74 mm",
		"4x2in":            "one label of 101.6 x 50.8 mm",
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

// The spoken text of a label has one full stop where it has one.
func TestOneFullStop(t *testing.T) {
	for parts, want := range map[string]string{"a.|b|c.": "a. b. c.", "(EUH031).|D": "(EUH031). D", "": ""} {
		if got := spokenOnce(strings.Split(parts, "|")); got != want {
			t.Errorf("%q: %q, want %q", parts, got, want)
		}
	}
	files, err := filepath.Glob("testdata/*.*")
	if err != nil || len(files) == 0 {
		t.Fatal(err, files)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(data), ".. ") {
			t.Errorf("%s has two full stops", file)
		}
	}
}
