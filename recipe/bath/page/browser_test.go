package page

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipes"
)

// ruler runs in the browser. It writes into the title of the page which sheets are
// higher than their paper, which texts and boxes leave the sheet, and where a dip is too small to be
// read from two metres: figures of 7 mm are in letters of 10 mm.
const ruler = `<script>
const bad = [];
for (const sheet of document.querySelectorAll(".sheet")) {
	const all = sheet.getBoundingClientRect(), name = sheet.querySelector("h1").innerText + " " + sheet.querySelectorAll("tr").length + " rows";
	const mm = all.height * 25.4 / 96;
	if (mm > ROOM) bad.push(name + " is " + mm.toFixed(1) + " mm high, not ROOM");
	const dip = parseFloat(sheet.style.getPropertyValue("--dip"));
	if (!(dip >= 10) && name.startsWith("Blue-black") && sheet.querySelectorAll("tr").length <= 3) bad.push(name + ": a dip in letters of " + dip + " mm");
	for (const part of sheet.querySelectorAll("*")) {
		const r = part.getBoundingClientRect();
		if (r.right > all.right + 1 || r.bottom > all.bottom + 1 || r.left < all.left - 1) bad.push(name + ": " + part.tagName + " leaves the sheet");
	}
}
document.title = "sheets " + document.querySelectorAll(".sheet").length + "\n" + bad.join("\n");
</script>`

var (
	titled  = regexp.MustCompile(`(?s)<title>sheets (\d+)\n(.*?)</title>`)
	pdfPage = regexp.MustCompile(`/Type\s*/Page[^s]`)
)

// sheets are those that need most room: all recipes, 30 loads, many actions, a result
// of last time.
func sheets(t *testing.T, letter bool) (pages [][]byte) {
	t.Helper()
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	add := func(slug string, o Options, change func(*bath.Order)) *bath.Sheet {
		t.Helper()
		r, err := library.Get(slug)
		if err != nil {
			t.Fatal(err)
		}
		alloy, err := metal.Find(r.Alloys[0])
		if err != nil {
			t.Fatal(err)
		}
		piece, err := metal.New("disc", alloy, metal.Dimensions{Diameter: 24, Thickness: 1.6})
		if err != nil {
			t.Fatal(err)
		}
		order := bath.Order{Recipe: r, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece, Pieces: 60}}, Vessel: plan.Vessel{Length: 200, Width: 140, Height: 90}}, Shop: bath.DefaultShop()}
		if change != nil {
			change(&order)
		}
		s, err := bath.Prepare(order)
		if err != nil {
			t.Fatalf("%s: %v", slug, err)
		}
		o.Letter, o.Number = letter, fmt.Sprintf("2026-%03d", len(pages)+1)
		html, err := Sheet(s, r, o)
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, html)
		return s
	}
	for _, slug := range library.Slugs() {
		add(slug, Options{Order: "Saltholm Rowing Club"}, nil)
		add(slug, Options{Units: measure.US}, nil)
	}
	long := add("silver-black", Options{Order: "Saltholm Rowing Club", Last: []string{"batch 2026-031, 2026-03-12: 58 good, 5 to rework, 0 rejected of 63 (too-light 5)", "bath temperature 74 C; dip time 14 s; shade right"}}, func(o *bath.Order) {
		o.Kinds[0].Pieces, o.PerLoad = 300, 10
	})
	if len(long.Loads) != 30 {
		t.Errorf("%d loads, want 30", len(long.Loads))
	}
	add("silver-black", Options{}, func(o *bath.Order) {
		o.Kinds[0].Pieces, o.PerLoad, o.Heat = 300, 10, plan.Heat{Kind: plan.Kettle, Liters: 0.3}
	})
	add("silver-black", Options{}, func(o *bath.Order) { o.Kinds[0].Pieces, o.Transfer = 180, plan.ByHand })
	return pages
}

// TestOnePage prints the sheets from a real browser: each takes one page of A4 or
// Letter, and nothing leaves it.
func TestOnePage(t *testing.T) {
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
		t.Skip("no chromium on the PATH: what a browser makes of the sheets is not checked")
	}
	// The height of the paper less the margins of 9 mm.
	for paper, room := range map[string]string{"A4": "279", "Letter": "261.4"} {
		pages := sheets(t, paper == "Letter")
		var all []byte
		for i, p := range pages {
			if loads := regexp.MustCompile(`(?:src|href)=|url\(`).Find(p); loads != nil {
				t.Errorf("sheet %d loads something: %s", i, loads)
			}
			head, body, _ := bytes.Cut(p, []byte("<body>"))
			if i == 0 {
				all = append(bytes.Clone(head), "<body>"...)
			}
			all = append(all, bytes.ReplaceAll(bytes.ReplaceAll(body, []byte("</body>"), nil), []byte("</html>"), nil)...)
		}
		dir := t.TempDir()
		pdf := filepath.Join(dir, "sheets.pdf")
		browse(t, program, dir, all, "--no-pdf-header-footer", "--print-to-pdf="+pdf)
		printed, err := os.ReadFile(pdf)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(pdfPage.FindAll(printed, -1)); n != len(pages) {
			t.Errorf("%s: %d sheets take %d pages", paper, len(pages), n)
		}
		all = regexp.MustCompile(`<meta http-equiv[^>]*>`).ReplaceAll(all, nil) // lets the ruler run
		all = bytes.ReplaceAll(bytes.ReplaceAll(all, []byte("@media screen"), []byte("@media speech")), []byte("@media print"), []byte("@media all"))
		found := titled.FindSubmatch(browse(t, program, dir, append(all, strings.ReplaceAll(ruler, "ROOM", room)...), "--dump-dom"))
		if found == nil || string(found[1]) != fmt.Sprint(len(pages)) {
			t.Fatalf("the browser did not measure the sheets: %s", found)
		}
		if len(found[2]) > 0 {
			t.Errorf("%s: %s", paper, found[2])
		}
	}
}

// browse opens a page and returns what the browser prints.
func browse(t *testing.T, program, dir string, page []byte, flags ...string) []byte {
	t.Helper()
	file := filepath.Join(dir, "page.html")
	if err := os.WriteFile(file, page, 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	out, err := exec.CommandContext(ctx, program, append(append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--user-data-dir=" + filepath.Join(dir, "browser")}, flags...), file)...).Output()
	if err != nil {
		t.Skipf("%s does not run here: %v", program, err)
	}
	return out
}
