package label

import (
	"bytes"
	"context"
	"encoding/json"
	"html"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"hepar/recipe"
	"hepar/recipe/reagent"
	"hepar/recipes"
)

// ruler runs in the browser after the script of the page. It writes into the title what the
// page shows of each label. The box of a line is up to 2 px higher than its letters.
const ruler = `<script>
const mm = 96 / 25.4;
document.title = JSON.stringify([...document.querySelectorAll(".label")].map(label => {
	const all = label.parentElement.getBoundingClientRect(), symbols = [...label.querySelectorAll(".symbol")].map(s => s.getBoundingClientRect());
	const inner = r => r.left >= all.left && r.right <= all.right && r.top >= all.top && r.bottom <= all.bottom;
	const bad = [], sizes = {};
	if (label.scrollHeight > label.clientHeight || label.scrollWidth > label.clientWidth) bad.push("overflow");
	if (!symbols.every(inner)) bad.push("symbol outside");
	symbols.forEach((a, i) => symbols.slice(0, i).forEach(b => {
		if (Math.abs(a.left - b.left) + Math.abs(a.top - b.top) < a.width - .5) bad.push("two symbols meet");
	}));
	const texts = document.createTreeWalker(label, NodeFilter.SHOW_TEXT);
	while (texts.nextNode()) {
		const node = texts.currentNode, range = document.createRange();
		range.selectNodeContents(node);
		for (const r of range.getClientRects()) {
			if (r.width < 2 || !node.data.trim()) continue;
			if (!inner(r)) bad.push("text outside: " + node.data);
			if (symbols.some(s => r.left < s.right - 2 && s.left < r.right - 2 && r.top < s.bottom - 2 && s.top < r.bottom - 2)) bad.push("text on a symbol: " + node.data);
			const part = node.parentElement.closest("div");
			sizes[part.className.split(" ")[0]] = parseFloat(getComputedStyle(part).fontSize) / mm;
		}
	}
	return {Text: label.innerText.replace(/\s+/g, " "), Class: label.className, Bad: bad, Sizes: sizes, Body: parseFloat(getComputedStyle(label).fontSize) / mm,
		Symbol: symbols.length ? symbols[0].width / mm : 0, Symbols: symbols.length, Band: getComputedStyle(label.nextElementSibling).display !== "none"};
}));
</script>`

var titled = regexp.MustCompile(`(?s)<title>(.*?)</title>`)

// shown is what a browser shows of a label. Sizes are in mm: of the text by class, of the
// body text, of the box of a symbol.
type shown struct {
	Text, Class  string
	Bad          []string
	Sizes        map[string]float64
	Body, Symbol float64
	Symbols      int
	Band         bool // the red band stands in its place
}

// show returns what a browser makes of labels on a sheet. It skips the test where there is
// no browser.
func show(t *testing.T, labels []Label, s Sheet, change func([]byte) []byte) []shown {
	t.Helper()
	if testing.Short() {
		t.Skip("takes a browser some seconds")
	}
	program := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			program = found
			break
		}
	}
	if program == "" {
		t.Skip("no chromium on the PATH: what a browser makes of the labels is not checked")
	}
	page := must[[]byte](t)(Page(labels, 1, s))
	if change != nil {
		page = change(page)
	}
	page = regexp.MustCompile(`<meta http-equiv[^>]*>`).ReplaceAll(page, nil) // lets the ruler run
	dir := t.TempDir()
	file := filepath.Join(dir, "page.html")
	if err := os.WriteFile(file, append(page, ruler...), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	out, err := exec.CommandContext(ctx, program, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--user-data-dir="+filepath.Join(dir, "browser"),
		"--dump-dom", file).Output()
	if err != nil {
		t.Skipf("%s does not run here: %v", program, err)
	}
	var found []shown
	if m := titled.FindSubmatch(out); m == nil || json.Unmarshal([]byte(html.UnescapeString(string(m[1]))), &found) != nil {
		t.Fatal("the browser did not measure the page")
	}
	if len(found) != len(labels) {
		t.Fatalf("the browser shows %d labels, want %d", len(found), len(labels))
	}
	return found
}

// wrong tells what is wrong with a label that fits, or "".
func (f shown) wrong(l Label, s Size) string {
	const slack = 0.02
	text, box, _ := least(s)
	shortened := strings.Contains(f.Class, "brief")
	switch {
	case len(f.Bad) > 0:
		return strings.Join(f.Bad, "; ")
	case f.Body < text-slack || f.Symbols > 0 && f.Symbol < box-slack:
		return "text or symbols are too small"
	case f.Symbols != len(l.Symbols):
		return "a symbol is missing"
	case shortened != strings.Contains(f.Text, "Shortened: see the SDS."):
		return "a label is shortened and does not say so, or the other way round"
	case !strings.Contains(f.Text, l.Title) || !strings.Contains(f.Text, said(l, "signal")) || !strings.Contains(f.Text, said(l, "shout")) || !strings.Contains(f.Text, "your own SDS"):
		return "title, signal word, bar or origin of the codes is missing"
	}
	for _, size := range f.Sizes {
		if size < 1.76-slack {
			return "text is below 5 point"
		}
	}
	for _, line := range l.Text() {
		named := slices.ContainsFunc(l.Symbols, func(s Symbol) bool { return s.Name() == line })
		if !shortened && !named && !strings.Contains(f.Text, strings.Join(strings.Fields(line), " ")) {
			return "the label lost: " + line
		}
	}
	return ""
}

// jars returns a label of every substance that a recipe may use, in the form with the longest
// name.
func jars(t testing.TB) (labels []Label) {
	for _, s := range reagent.All() {
		c := jar(s.ID)
		for _, f := range s.Forms {
			if len(f.Name) > len(c.Form) {
				c.Form = f.Name
			}
		}
		if s.Banned == "" {
			labels = append(labels, container(t, c))
		}
	}
	return labels
}

// recipeLabels returns bath and waste labels of every built-in recipe.
func recipeLabels(t testing.TB) (labels []Label) {
	lib, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	list, _ := lib.All()
	if len(list) < 14 {
		t.Fatalf("%d recipes", len(list))
	}
	for _, r := range list {
		b := BathOf(r)
		b.Mixed, b.By, b.Batch, b.Volume = noon, "Ilse Tamm", "2026-014", 4
		labels = append(labels, bath(t, b), waste(t, WasteLabel{Contents: WasteOf(r), Started: noon}))
	}
	return labels
}

// Every substance fits on the sheets for jars, every recipe on the sheets for tanks and
// waste, in the narrowest and the widest font of the style sheet.
func TestLabelsFit(t *testing.T) {
	jars, tanks := append(jars(t), container(t, jar("green goo"))), recipeLabels(t)
	const narrow, wide = "Liberation Sans", "DejaVu Sans Condensed"
	for _, c := range []struct {
		labels      []Label
		sheet, font string
	}{
		{jars, Bears("container")[0], narrow}, {jars, Bears("container")[1], wide}, {jars, Bears("container")[2], wide},
		{tanks, Bears("bath")[0], narrow}, {tanks, Bears("waste")[1], wide}, {tanks, Bears("bath")[2], narrow}, {tanks, Bears("waste")[3], wide},
	} {
		s, brief := sheet(t, c.sheet), 0
		for i, f := range show(t, c.labels, s, func(page []byte) []byte {
			return bytes.Replace(page, []byte("</style>"), []byte(".page { font-family: "+c.font+"; }</style>"), 1)
		}) {
			l := c.labels[i]
			if bad := f.wrong(l, s.Label); f.Band || bad != "" {
				t.Errorf("%s %s on %s in %s: band %t, %s", l.Kind, l.Title, c.sheet, c.font, f.Band, bad)
			}
			if strings.Contains(f.Class, "brief") {
				brief++
			}
		}
		t.Logf("%s in %s: %d of %d shortened", c.sheet, c.font, brief, len(c.labels))
	}
}

// On the smallest sheet a label fits, or the red band takes its place.
func TestSmallestSheet(t *testing.T) {
	labels, s := jars(t), sheet(t, "a4-3x8")
	fit := 0
	for i, f := range show(t, labels, s, nil) {
		if f.Band {
			continue
		}
		fit++
		if bad := f.wrong(labels[i], s.Label); bad != "" {
			t.Errorf("%s: %s", labels[i].Title, bad)
		}
	}
	if t.Logf("%d of %d labels fit", fit, len(labels)); fit < len(labels)/2 {
		t.Errorf("only %d of %d labels fit", fit, len(labels))
	}
}

// A label that does not fit is not shown; the band is.
func TestBand(t *testing.T) {
	long := tank()
	long.Note = strings.Repeat("W", mostLetters)
	labels := []Label{bath(t, tank()), bath(t, long)}
	for i, f := range show(t, labels, Single(mm(30, 25)), nil) {
		if !f.Band || strings.TrimSpace(f.Text) != "" {
			t.Errorf("label %d is shown: %q", i, f.Text)
		}
	}
	// A word that is longer than a line is broken or hidden, and what matters stays.
	if f := show(t, labels[1:], Single(mm(105, 74)), nil)[0]; f.Band || f.wrong(labels[1], mm(105, 74)) != "" {
		t.Errorf("%+v", f)
	}
}

// Without its script a page says so, and prints all text at its least size.
func TestWithoutScript(t *testing.T) {
	l := container(t, jar("liver-of-sulfur"))
	page := must[[]byte](t)(Page([]Label{l}, 1, sheet(t, "a4-2x4")))
	if !bytes.Contains(page, []byte("THESE LABELS ARE NOT FITTED")) {
		t.Error("a page without its script does not say that it is not fitted")
	}
	f := show(t, []Label{l}, sheet(t, "a4-2x4"), func(page []byte) []byte { return bytes.Replace(page, []byte(script), nil, 1) })[0]
	if bad := f.wrong(l, sheet(t, "a4-2x4").Label); bad != "" || f.Body > leastText+0.01 {
		t.Errorf("%s: %+v", bad, f)
	}
}

// Where there is room a symbol has the least side of CLP (clpSide), the words have more than the least
// size, and a sulfide says NO ACID in letters at least as large as any other but the title; the time at
// which a bath has to go is larger than all but these.
func TestLargeParts(t *testing.T) {
	labels := []Label{bath(t, tank()), waste(t, drum()), container(t, jar("sodium-bisulfate"))}
	for _, size := range []Size{mm(99.1, 139), mm(148, 105), mm(203.2, 127)} {
		for i, f := range show(t, labels, Single(size), nil) {
			if side := f.Symbol / math.Sqrt2; side < clpSide-0.1 || f.Body < 1.35*leastText {
				t.Errorf("%s at %s: a symbol of %.1f mm, words of %.1f mm", labels[i].Kind, size, side, f.Body)
			}
			if labels[i].Kind == "bath" && f.Sizes["value"] < max(f.Sizes["signal"], f.Sizes["text"]) {
				t.Errorf("bath at %s: the discard time at %.1f mm, %v", size, f.Sizes["value"], f.Sizes)
			}
			for class, at := range f.Sizes {
				if class != "title" && at > f.Sizes["shout"] || f.Sizes["shout"] < 0.05*float64(min(size.Width, size.Height)) {
					t.Errorf("%s at %s: the bar is at %.1f mm, %s at %.1f mm", labels[i].Kind, size, f.Sizes["shout"], class, at)
				}
			}
		}
	}
}
