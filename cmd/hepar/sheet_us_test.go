package main

import (
	"bufio"
	"bytes"
	"errors"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"hepar/recipe"
	"hepar/recipes"
)

// A balance and a cylinder are read in metric units in either system: those figures
// have their US measure in brackets behind them.
var both = regexp.MustCompile(`[0-9.]+ (g|kg|mg|mL|L) \([0-9.]+ (oz|lb|US fl oz|US qt|US gal)\)`)

// metricFigure is a figure in a metric unit that a reader of US units should not meet.
// Not among them, and so allowed on a US sheet: ppm, nm and um (film, plate), kJ/mol, W,
// percent, and times.
var metricFigure = regexp.MustCompile(`[0-9] ?(C|K|g|mg|mL|mm2?|cm[23]?|dm2|m2|m3|L|kg|g/L|mg/L|mL/L|dm2/L|mL/m2|g/cm[23]|L/min)([^A-Za-z0-9/]|$)`)

var brackets = regexp.MustCompile(`\([^()]*\)`)

// prose is what the author of a recipe wrote, which is printed as it was written.
func prose(r *recipe.Recipe) []string {
	texts := []string{r.Title, r.Look, r.Source, r.Hazards.Ventilation, r.Hazards.Disposal}
	for _, s := range r.Steps {
		texts = append(texts, strings.TrimSuffix(s.How, "."), strings.TrimSuffix(s.Note, "."))
	}
	if r.Dip != nil {
		texts = append(texts, r.Dip.StopAt)
	}
	for _, g := range r.Bath.Reagents {
		texts = append(texts, g.Form, g.Note, g.Source) // "25 % solution" and the like
	}
	texts = append(texts, r.Hazards.PPE...)
	slices.SortFunc(texts, func(a, b string) int { return len(b) - len(a) }) // longer ones first: one may hold another
	return texts
}

// TestUSSheetHasNoMetricFigures goes through all recipes and the orders that make a
// plan speak: too small a bath, too little heat, a wrong balance, a kettle, by hand.
func TestUSSheetHasNoMetricFigures(t *testing.T) {
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	disc := []string{"--shape", "disc", "--diameter", "24mm", "--thickness", "1.6mm"}
	orders := [][]string{
		{"--pieces", "24", "--group", "2", "--vessel", "200x140x90mm"},
		{"--pieces", "200", "--volume", "0.5L", "--heat", "kettle:0.2L", "--spares", "10", "--match", "1%"},
		{"--pieces", "40", "--volume", "0.02L", "--balance", "10g", "--mass", "9g"},
		{"--pieces", "6", "--vessel", "150x180mm", "--heat", "plate:500W", "--ambient", "35C", "--humidity", "80%"},
		{"--pieces", "300", "--vessel", "300x200x150mm", "--lid", "--hot", "50C", "--per-load", "60", "--air-speed", "0.4 m/s", "--detail"},
		{"--pieces", "10", "--have", "900g", "--vessel", "100x100x60mm", "--yield", "90%"},
		{"--pieces", "10", "--volume", "20L", "--cold", "49C", "--hot", "99C", "--ambient", "49C", "--plate", "2um", "--machine", "--by-hand"},
		{"--pieces", "4", "--volume", "0.7L", "--vessel", "300x200x90mm", "--drain", "very-poor"},
		{"--pieces", "2", "--volume", "900L"},
	}
	place := emptyPlace(t)
	sheets, said := 0, 0
	for _, slug := range library.Slugs() {
		r, err := library.Get(slug)
		if err != nil {
			t.Fatal(err)
		}
		for _, order := range orders {
			args := slices.Concat([]string{"prepare", slug, "--alloy", r.Alloys[0], "--units", "us"}, place, disc, order)
			code, out, errs := typed(args)
			if code != exitDone {
				if !strings.Contains(errs, "do: ") {
					t.Errorf("%v: exit %d without a cure: %s", args, code, errs)
				}
				continue // refused, and said why
			}
			sheets++
			said += strings.Count(out, "\n ! ") + strings.Count(out, ">> ")
			onlyUS(t, strings.Join(args, " "), out, prose(r))
		}
		if r.Dip != nil {
			if code, out, errs := typed(append([]string{"coupon", slug, "--units", "us"}, place...)); code == exitDone {
				onlyUS(t, "coupon "+slug, out, prose(r))
			} else if !strings.Contains(errs, "do: ") {
				t.Errorf("coupon %s: exit %d: %s", slug, code, errs)
			}
		}
	}
	if sheets < 100 || said < 300 {
		t.Errorf("only %d sheets with %d sentences were looked at", sheets, said)
	}
}

// emptyPlace keeps what the machine's own user has out of a test.
func emptyPlace(t *testing.T) []string {
	t.Helper()
	dir := t.TempDir()
	if err := errors.Join(os.Mkdir(dir+"/recipes", 0o700), os.WriteFile(dir+"/shop.toml", nil, 0o600)); err != nil {
		t.Fatal(err)
	}
	return []string{"--shop", dir + "/shop.toml", "--recipes", dir + "/recipes", "--journal", dir + "/journal.db"}
}

func typed(args []string) (code int, out, errs string) {
	var stdout, stderr bytes.Buffer
	e := &env{in: strings.NewReader(""), out: bufio.NewWriter(&stdout), err: &stderr, getenv: func(string) string { return "" }, now: time.Now}
	code = execute(args, e)
	return code, stdout.String(), stderr.String()
}

func onlyUS(t *testing.T, name, out string, prose []string) {
	t.Helper()
	text := strings.Join(strings.Fields(out), " ")
	for _, words := range prose {
		if words = strings.Join(strings.Fields(words), " "); words != "" {
			text = strings.ReplaceAll(text, words, "")
		}
	}
	text = both.ReplaceAllString(text, "")
	for again := true; again; { // brackets may stand in brackets
		was := text
		text = brackets.ReplaceAllString(text, "")
		again = text != was
	}
	for _, m := range metricFigure.FindAllStringIndex(text, -1) {
		t.Errorf("%s: a metric figure in ...%s...", name, around(text, m))
	}
}

func around(text string, at []int) string {
	return text[max(0, at[0]-60):min(len(text), at[1]+40)]
}
