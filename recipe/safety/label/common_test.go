package label

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"hepar/recipe/measure"
)

// The invented workshop Fernholm Medals.
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
		Volume:   4, At: 75, To: 70.6, Mixed: noon, By: "Ilse Tamm", Life: 4 * 3600,
	}
}

func drum() WasteLabel {
	return WasteLabel{
		Shop: "Fernholm Medals", ID: "W-3", Started: noon, Volume: "3 L of 5 L",
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
func sheet(t testing.TB, name string) Sheet          { return must[Sheet](t)(FindSheet(name)) }
func mm(w, h measure.Millimeters) Size               { return Size{w, h} }

// said is the text of the part of a label that is of a class, such as signal or shout.
func said(l Label, class string) string {
	for _, p := range slices.Concat(l.Main, l.End) {
		for _, p := range append(p.Parts, p) {
			if p.Class == class {
				return read(p)
			}
		}
	}
	return ""
}

// print returns one label as a page of its size.
func print(t testing.TB, l Label, s Size) []byte {
	t.Helper()
	page, err := Page([]Label{l}, 1, Single(s))
	if err != nil {
		t.Fatal(err)
	}
	return page
}

// parsed is what a strict reader finds in a page or drawing.
type parsed struct {
	names map[string]int // of elements
	attrs []xml.Attr
	lines []string // of the labels: class and text of each part, name of each symbol
	text  string   // of the labels, joined by spaces
}

// parse fails the test where the document without its script is not well formed.
func parse(t testing.TB, doc []byte) parsed {
	t.Helper()
	doc = bytes.Replace(doc, []byte(script), nil, 1)
	d := xml.NewDecoder(bytes.NewReader(doc))
	p := parsed{names: map[string]int{}}
	var classes []string
	var text string
	flush := func() {
		if text = strings.Join(strings.Fields(text), " "); text != "" && slices.ContainsFunc(classes, func(c string) bool { return strings.HasPrefix(c, "label ") }) {
			p.lines = append(p.lines, classes[len(classes)-1]+": "+text)
			p.text = strings.TrimSpace(p.text + " " + text)
		}
		text = ""
	}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return p
		}
		if err != nil {
			t.Fatalf("not well formed: %v\n%s", err, doc)
		}
		switch x := token.(type) {
		case xml.StartElement:
			p.names[x.Name.Local]++
			p.attrs = append(p.attrs, x.Attr...)
			if x.Name.Local == "b" {
				continue
			}
			flush()
			class := ""
			for _, a := range x.Attr {
				switch a.Name.Local {
				case "class":
					if class = a.Value; x.Name.Local == "span" && class != "symbol" {
						class = classes[len(classes)-1] + " " + class
					}
				case "data-order":
					class += " " + a.Value
				case "aria-label":
					p.lines = append(p.lines, "symbol: "+a.Value)
				}
			}
			if classes = append(classes, class); strings.HasPrefix(class, "label ") {
				p.lines = append(p.lines, class)
			}
		case xml.EndElement:
			if x.Name.Local != "b" {
				flush()
				classes = classes[:len(classes)-1]
			}
		case xml.CharData:
			text += string(x)
		}
	}
}
