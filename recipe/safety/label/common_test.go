package label

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"hepar/recipe/measure"
)

// An invented workshop.
var noon = time.Date(2026, 3, 12, 12, 0, 0, 0, time.FixedZone("", 3600))

func jar(id string) ContainerLabel {
	return ContainerLabel{
		Content: Content{Substance: id}, Lot: "4711", Opened: noon, SDS: "red folder by the door", SDSRevised: noon.AddDate(-1, 0, 0),
	}
}

func tank() BathLabel {
	return BathLabel{
		Name: "Blue-black on silver", Recipe: "silver-black", Revision: 3, Batch: "2026-014",
		Contents: []Content{{Substance: "liver-of-sulfur", Amount: "4.5 g/L"}},
		Volume:   4, At: 75, HasAt: true, Mixed: noon, By: "Ada Quill", Life: 4 * 3600, SDS: "red folder by the door",
	}
}

func drum() WasteLabel {
	return WasteLabel{
		Shop: "Quill & Daughters", ID: "W-3", Started: noon, Volume: "3 L of 5 L",
		Contents: []Content{{Substance: "liver-of-sulfur", Name: "spent liver of sulfur bath and its rinses"}},
	}
}

func must[T any](t testing.TB) func(T, error) T {
	t.Helper()
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func container(t testing.TB, c ContainerLabel) Label { return must[Label](t)(Container(c)) }
func bath(t testing.TB, b BathLabel) Label           { return must[Label](t)(Bath(b)) }
func waste(t testing.TB, w WasteLabel) Label         { return must[Label](t)(Waste(w)) }

func sheet(t testing.TB, name string) Sheet { return must[Sheet](t)(FindSheet(name)) }

// mm gives a size.
func mm(w, h measure.Millimeters) Size { return Size{w, h} }

// parsed is what a strict reader finds in a page or drawing.
type parsed struct {
	names map[string]int // of elements
	attrs []xml.Attr
	text  string // of all text elements, joined by spaces
	all   string // every character of text
}

// parse fails the test where the document is not well formed.
func parse(t testing.TB, doc []byte) parsed {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(doc))
	p := parsed{names: map[string]int{}}
	var stack []string
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return p
		}
		if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			stack = append(stack, x.Name.Local)
			p.names[x.Name.Local]++
			p.attrs = append(p.attrs, x.Attr...)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			p.all += string(x)
			if len(stack) > 0 && stack[len(stack)-1] == "text" {
				p.text = strings.TrimSpace(p.text + " " + string(x))
			}
		}
	}
}
