package metal

import (
	"slices"
	"strings"
	"unicode"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Alloys returns every alloy of the table, family by family, the precious ones
// first and the purer before the poorer. The slice is the caller's own.
func Alloys() []Alloy {
	all := make([]Alloy, len(table))
	for i := range table {
		all[i] = table[i].alloy()
	}
	return all
}

// spoken are the short names that mean one alloy at any bench.
var spoken = map[string]string{
	"sterling": "sterling-925", "sterling silver": "sterling-925", "925": "sterling-925",
	"fine": "fine-999", "fine silver": "fine-999", "999": "fine-999",
}

// Find returns the alloy of that name, written in full or one of the few short names
// that mean one alloy: sterling, 925, fine, 999. Any other is refused with an error of
// kind [fault.Usage] whose cure names what was probably meant, because an alloy taken by
// guess would put a wrong density on a sheet without anybody noticing.
func Find(name string) (Alloy, error) {
	full := name
	if meant, ok := spoken[strings.ToLower(strings.TrimSpace(name))]; ok {
		full = meant
	}
	for i := range table {
		if table[i].name == full {
			return table[i].alloy(), nil
		}
	}
	err := fault.Usagef("unknown alloy %.60q", name).At("--alloy")
	if strings.TrimSpace(name) == "" {
		err = fault.Usagef("--alloy is required").At("--alloy")
	}
	near := nearest(name)
	const most = 6 // names in one line; more would not be read
	switch more := len(near) - most; {
	case len(near) == 0:
		return Alloy{}, err.Try("write a full name such as sterling-925, fine-999, copper-c110 or brass-c260")
	case len(near) == 1:
		return Alloy{}, err.Try("write the full name: %s", near[0])
	case more > 0:
		return Alloy{}, err.Try("write a full name: %s or %d more", strings.Join(near[:most], ", "), more)
	default:
		return Alloy{}, err.Try("write a full name: %s", orList(near))
	}
}

// ParseMass reads the mass of a piece of an alloy. A bare ounce of silver or gold is
// refused: they are sold by the troy ounce and weighed at home by the other.
func ParseMass(text string, a Alloy) (measure.Grams, error) {
	unit := strings.ToLower(strings.TrimSpace(strings.TrimLeft(text, "0123456789 ./-")))
	if slices.Contains([]string{"oz", "ozs", "ounce", "ounces"}, unit) && (a.Family == "silver" || a.Family == "gold") {
		return 0, fault.Usagef("%q of %s: the troy ounce or the other", measure.Clean(text), a.Family).Try("write 1ozt (31.1 g) or 1ozav (28.3 g)")
	}
	return measure.ParseMass(text)
}

// slip is how many changes (see [fault.Changes]) make a name mistyped rather than
// shortened: two, but never more than a quarter of the word. Chosen.
const slip = 2

// nearest returns the names that text may have meant: a name with a slip in it; else
// those which share most words with it ("925", "silver 925"), in the order of the
// table; else those with the fewest changes.
func nearest(text string) []string {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "" || len(text) > 60 {
		return nil
	}
	asked := words(text)
	distance, shared := make([]int, len(table)), make([]int, len(table))
	most, least := 0, len(text)
	for i := range table {
		distance[i] = fault.Changes(text, table[i].name)
		known := words(table[i].name + " " + strings.ToLower(table[i].title))
		for _, word := range asked {
			if slices.Contains(known, word) {
				shared[i]++
			}
		}
		most, least = max(most, shared[i]), min(least, distance[i])
	}
	var names []string
	for i := range table {
		switch {
		case least <= min(slip, len(text)/4), most == 0 && least <= 1+len(text)/3: // farther away is another word
			if distance[i] > least {
				continue
			}
		case most == 0 || shared[i] < most:
			continue
		}
		names = append(names, table[i].name)
	}
	return names
}

// words splits text into runs of letters and runs of digits, each once.
func words(text string) []string {
	var out []string
	start, class := 0, 0
	flush := func(end int) {
		if w := text[start:end]; class != 0 && !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	for i, r := range text {
		now := 0
		switch {
		case unicode.IsDigit(r):
			now = 1
		case unicode.IsLetter(r):
			now = 2
		}
		if now != class {
			flush(i)
			start, class = i, now
		}
	}
	flush(len(text))
	return out
}

// alloy makes the public form of a row, with a map of its own.
func (r *row) alloy() Alloy {
	a := Alloy{
		Name: r.name, Title: r.title, Family: r.family,
		Density: measure.GramsPerCM3(r.density), SpreadPercent: r.spread,
		SpecificHeat: r.heat, Source: r.source, Evidence: r.evidence, HeatSource: r.heatSource,
	}
	if len(r.parts) > 0 {
		a.Composition = make(map[string]float64, len(r.parts))
		for _, p := range r.parts {
			a.Composition[p.symbol] = p.fraction
		}
	}
	return a
}
