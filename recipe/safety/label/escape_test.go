package label

import (
	"bytes"
	"strings"
	"testing"
	"time"
	"unicode"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// hostile texts go into every field that takes text.
var hostile = []string{
	`<script>alert(1)</script>`, `</text></svg><script src="x"/>`, `"><img src=x onerror=alert(1)>`,
	`' onload='alert(1)`, "\x1b[31mred\x1b[0m", "\x1b]0;title\x07", "a\x00b\x08c\x7f", "&amp;&lt;&#60;", "]]>", "<!-- x -->",
	"tab\tand\nline\r\nend", "\u202egnitirw fo noitcerid", "zero\u200bwidth", "\xff\xfe bad bytes", "\ufffe\uffff", `a" style="position:fixed`, "{{.}}", "100 % <b>", "e\u0301\u0301\u0301",
}

// everywhere makes one label of each kind with a text in every field.
func everywhere(s string) (labels []Label, errs []error) {
	c := ContainerLabel{Content: Content{Name: "x" + s, Form: s, Amount: s}, Supplier: s, Lot: s, SDS: s, Note: s}
	b := tank()
	b.Name, b.Recipe, b.Batch, b.By, b.Note = "x"+s, s, s, s, s
	b.Contents = []Content{{Substance: "liver-of-sulfur", Name: "x" + s, Amount: s}}
	w := drum()
	w.Words, w.Shop, w.ID, w.Volume, w.Hazards, w.Note, w.Estimate = "x"+s, s, s, s, s, s, []string{s}
	w.Contents = []Content{{Name: "x" + s, Amount: s, Codes: []string{s}}, {Substance: s, Name: "y"}}
	for _, make := range []func() (Label, error){
		func() (Label, error) { return Container(c) },
		func() (Label, error) { return Bath(b) },
		func() (Label, error) { return Waste(w) },
	} {
		l, err := make()
		if err != nil {
			errs = append(errs, err)
			continue
		}
		labels = append(labels, l)
	}
	return labels, errs
}

func TestEscaping(t *testing.T) {
	plain, _ := everywhere("plain")
	for _, s := range hostile {
		labels, errs := everywhere(s)
		if len(errs) > 0 {
			t.Errorf("%q: %v", s, errs)
			continue
		}
		for i, l := range labels {
			page := print(t, l, mm(300, 300))
			check(t, s, page)
			want := parse(t, print(t, plain[i], mm(300, 300))).names
			for name, n := range parse(t, page).names {
				if n > want[name] {
					t.Errorf("%q makes %d %s elements, want %d", s, n, name, want[name])
				}
			}
		}
	}
}

// check looks for what no document of this package may hold: scripts but our own, colours,
// anything from elsewhere, characters that do not print.
func check(t *testing.T, name string, doc []byte) {
	t.Helper()
	for _, a := range parse(t, doc).attrs {
		if strings.HasPrefix(strings.ToLower(a.Name.Local), "on") || a.Name.Local == "src" || a.Name.Local == "href" {
			t.Errorf("%q: attribute %s=%q", name, a.Name.Local, a.Value)
		}
		if strings.Contains(a.Value, "url(") || a.Name.Local != "xmlns" && strings.Contains(a.Value, "//") {
			t.Errorf("%q: attribute %s loads something: %q", name, a.Name.Local, a.Value)
		}
		colour := a.Name.Local == "fill" || a.Name.Local == "stroke"
		if colour && a.Value != "#000" && a.Value != "#fff" && a.Value != "none" {
			t.Errorf("%q: colour %s", name, a.Value)
		}
	}
	for _, r := range strings.ReplaceAll(string(doc), script, "") {
		if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == 0xfffe || r == 0xffff) {
			t.Errorf("%q: character %U", name, r)
		}
	}
	doc = bytes.Replace(doc, []byte("<script>"+script+"</script>"), nil, 1)
	for _, bad := range []string{"<script", "<img", "<link", "<iframe", "@import", "url("} {
		if strings.Contains(strings.ToLower(string(doc)), bad) {
			t.Errorf("%q: the document holds %s", name, bad)
		}
	}
}

// A reader of the page gets the text as it was written.
func TestTextComesThrough(t *testing.T) {
	c := jar("liver-of-sulfur")
	c.Supplier = `Ink & "Iron" <Smiths> 'Ltd'`
	if text := parse(t, print(t, container(t, c), mm(148, 105))).text; !strings.Contains(text, c.Supplier) {
		t.Error(text)
	}
}

func TestPromisesAreRefused(t *testing.T) {
	for _, s := range []string{"harmless when cold", "pour it down the drain", "non-toxic", "may be handled safely"} {
		if labels, errs := everywhere(s); len(labels) > 0 {
			t.Errorf("%q was printed", s)
		} else {
			for _, err := range errs {
				if fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
					t.Errorf("%q: %v", s, err)
				}
			}
		}
	}
	w := drum()
	w.Words = "Non-hazardous waste: not hazardous"
	if _, err := Waste(w); err == nil {
		t.Error("a label that classifies was made")
	}
}

func TestBadInput(t *testing.T) {
	long := strings.Repeat("silver ", 60)
	many := make([]Content, 30)
	for i := range many {
		many[i].Name = strings.Repeat("silver ", i+1)
	}
	jarWith := func(change func(*ContainerLabel)) func() (Label, error) {
		return func() (Label, error) { c := jar("liver-of-sulfur"); change(&c); return Container(c) }
	}
	tankWith := func(change func(*BathLabel)) func() (Label, error) {
		return func() (Label, error) { b := tank(); change(&b); return Bath(b) }
	}
	drumWith := func(change func(*WasteLabel)) func() (Label, error) {
		return func() (Label, error) { w := drum(); change(&w); return Waste(w) }
	}
	nan := func() float64 { var zero float64; return zero / zero }()
	for name, c := range map[string]struct {
		make func() (Label, error)
		kind fault.Kind
	}{
		"no name":             {jarWith(func(c *ContainerLabel) { c.Content = Content{} }), fault.Usage},
		"only escapes":        {jarWith(func(c *ContainerLabel) { c.Content = Content{Name: "\x1b[31m\x00"} }), fault.Usage},
		"long lot":            {jarWith(func(c *ContainerLabel) { c.Lot = long }), fault.Usage},
		"huge note":           {jarWith(func(c *ContainerLabel) { c.Note = strings.Repeat("x", 1<<20) }), fault.Usage},
		"signal":              {jarWith(func(c *ContainerLabel) { c.Signal = "Caution" }), fault.Usage},
		"codes":               {jarWith(func(c *ContainerLabel) { c.Codes = make([]string, 50) }), fault.Usage},
		"bath without name":   {tankWith(func(b *BathLabel) { b.Name = " " }), fault.Usage},
		"bath of nothing":     {tankWith(func(b *BathLabel) { b.Contents = nil }), fault.Usage},
		"bath never mixed":    {tankWith(func(b *BathLabel) { b.Mixed = time.Time{} }), fault.Usage},
		"life below 0":        {tankWith(func(b *BathLabel) { b.Life = -1 }), fault.Usage},
		"life nan":            {tankWith(func(b *BathLabel) { b.Life = measure.Seconds(nan) }), fault.Usage},
		"life of a century":   {tankWith(func(b *BathLabel) { b.Life = 3.2e9 }), fault.Usage},
		"volume":              {tankWith(func(b *BathLabel) { b.Volume = -2 }), fault.Usage},
		"temperature":         {tankWith(func(b *BathLabel) { b.At = 5000 }), fault.Usage},
		"many contents":       {tankWith(func(b *BathLabel) { b.Contents = many }), fault.Usage},
		"cyanide bath":        {tankWith(func(b *BathLabel) { b.Contents = []Content{{Substance: "potassium-cyanide"}} }), fault.Safety},
		"bath with vinegar":   {tankWith(func(b *BathLabel) { b.Contents = append(b.Contents, Content{Substance: "acetic-acid"}) }), fault.Safety},
		"bath, some acid":     {tankWith(func(b *BathLabel) { b.Contents = append(b.Contents, Content{Name: "a splash of some acid"}) }), fault.Safety},
		"silver in ammonia":   {tankWith(func(b *BathLabel) { b.Contents = []Content{{Substance: "silver-nitrate"}, {Substance: "ammonia"}} }), fault.Safety},
		"waste of nothing":    {drumWith(func(w *WasteLabel) { w.Contents = nil }), fault.Usage},
		"waste, pickle added": {drumWith(func(w *WasteLabel) { w.Contents = append(w.Contents, Content{Substance: "sodium-bisulfate"}) }), fault.Safety},
		"waste, bleach added": {drumWith(func(w *WasteLabel) { w.Contents = append(w.Contents, Content{Name: "bleach"}) }), fault.Safety},
	} {
		l, err := c.make()
		if err == nil {
			t.Errorf("%s: a label was made: %q", name, l.Text())
			continue
		}
		if fault.KindOf(err) != c.kind || fault.CureOf(err) == "" || strings.ContainsAny(err.Error(), "\x1b\n") {
			t.Errorf("%s: %v (%v, %s)", name, err, fault.KindOf(err), fault.CureOf(err))
		}
	}
	one := []Label{container(t, jar("sulfur"))}
	for name, c := range map[string]struct {
		labels []Label
		copies int
		sheet  Sheet
	}{
		"no labels":   {nil, 1, Single(mm(100, 70))},
		"no copies":   {one, 0, Single(mm(100, 70))},
		"no size":     {one, 1, Single(Size{})},
		"zero sheet":  {one, 1, Sheet{}},
		"all used":    {one, 1, withUsed(sheet(t, "a4-2x4"), 8)},
		"empty label": {[]Label{{}}, 1, Single(mm(100, 70))},
		"many labels": {make([]Label, mostLabels+1), 1, Single(mm(100, 70))},
		"many copies": {one, mostLabels + 1, Single(mm(100, 70))},
	} {
		_, err := Page(c.labels, c.copies, c.sheet)
		if err == nil || fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}
