package label

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// ruler runs in the browser. It writes into the title of the page what does not lie inside
// its label, and text that lies on a symbol. The box of a line is up to 2 px higher than its
// letters.
const ruler = `<script>
const bad = [];
for (const label of document.querySelectorAll(".label")) {
	const all = label.getBoundingClientRect(), name = label.className + " " + label.innerText.replace(/\s+/g, " ").slice(0, 60);
	const inner = r => r.left >= all.left - .5 && r.right <= all.right + .5 && r.top >= all.top - .5 && r.bottom <= all.bottom + .5;
	if (label.scrollHeight > label.clientHeight + 1 || label.scrollWidth > label.clientWidth + 1) bad.push("overflow of " + (label.scrollHeight - label.clientHeight) + "px: " + name);
	const symbols = [...label.querySelectorAll(".symbol")].map(s => s.getBoundingClientRect());
	if (!symbols.every(inner)) bad.push("symbol outside: " + name);
	const texts = document.createTreeWalker(label, NodeFilter.SHOW_TEXT);
	while (texts.nextNode()) {
		const range = document.createRange();
		range.selectNodeContents(texts.currentNode);
		for (const r of range.getClientRects()) {
			if (r.width < 1) continue;
			if (!inner(r)) bad.push("text outside: " + name);
			if (symbols.some(s => r.left < s.right - 2 && s.left < r.right - 2 && r.top < s.bottom - 2 && s.top < r.bottom - 2 && r.width > 2)) bad.push("text on a symbol: " + texts.currentNode.data + ": " + name);
		}
	}
}
document.title = "labels " + document.querySelectorAll(".label").length + "\n" + bad.join("\n");
</script>`

var titled = regexp.MustCompile(`(?s)<title>labels (\d+)\n(.*?)</title>`)

// A real browser sets the labels of every substance and recipe, in the narrowest and the
// widest font of the style sheet, and nothing leaves its label.
func TestBrowser(t *testing.T) {
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
	labels, _ := jars(t)
	baths, drums := recipeLabels(t)
	labels = slices.Concat(labels, baths, drums, []Label{container(t, jar("green goo"))})
	var all []byte
	n := 0
	for _, s := range []Sheet{sheet(t, "a4-3x8"), sheet(t, "letter-2x5"), sheet(t, "a4-2x4"), Single(mm(74, 105)), sheet(t, "letter-1x2")} {
		var fitting []Label
		for _, l := range labels {
			if _, err := set(l, s.Label); err == nil {
				fitting = append(fitting, l)
			}
		}
		page, _, err := Page(fitting, 1, s)
		if err != nil {
			t.Fatal(err)
		}
		for _, font := range []string{"Arial, Liberation Sans, sans-serif", "DejaVu Sans Condensed, sans-serif"} {
			style := fmt.Sprintf(`style="width: %gmm; height: %gmm; font-family: %s; left`, float64(s.Label.Width), float64(s.Label.Height), font)
			_, body, _ := bytes.Cut(bytes.ReplaceAll(page, []byte(`style="left`), []byte(style)), []byte("<body>"))
			if n += len(fitting); all == nil {
				all = bytes.Clone(page[:bytes.Index(page, []byte("<body>"))])
			}
			all = append(all, bytes.ReplaceAll(bytes.ReplaceAll(body, []byte("</body>"), nil), []byte("</html>"), nil)...)
		}
	}
	for _, bad := range overflows(t, program, all, n) {
		t.Error(bad)
	}
}

// overflows opens a page and returns what the ruler finds.
func overflows(t *testing.T, program string, page []byte, labels int) []string {
	t.Helper()
	page = regexp.MustCompile(`<meta http-equiv[^>]*>`).ReplaceAll(page, nil) // lets the ruler run
	page = append(page, ruler...)
	dir := t.TempDir()
	file := filepath.Join(dir, "page.html")
	if err := os.WriteFile(file, page, 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	out, err := exec.CommandContext(ctx, program, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--user-data-dir="+filepath.Join(dir, "browser"),
		"--dump-dom", file).Output()
	if err != nil {
		t.Skipf("%s does not run here: %v", program, err)
	}
	found := titled.FindSubmatch(out)
	if found == nil {
		t.Fatal("the browser did not measure the page")
	}
	if string(found[1]) != strconv.Itoa(labels) {
		t.Errorf("the browser measured %s labels, want %d", found[1], labels)
	}
	return slices.DeleteFunc(strings.Split(string(found[2]), "\n"), func(s string) bool { return s == "" })
}
