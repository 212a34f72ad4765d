package metal

import (
	"regexp"
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

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
	for _, a := range table() {
		if a.Name == full {
			return a, nil
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
	typed, changes := cheapest(func(a Alloy) int { return fault.Changes(text, a.Name) })
	alike, lacking := cheapest(func(a Alloy) int {
		known := words(a.Name + " " + strings.ToLower(a.Title))
		return -len(slices.DeleteFunc(slices.Clone(asked), func(word string) bool { return !slices.Contains(known, word) }))
	})
	switch {
	case changes <= min(slip, len(text)/4):
		return typed
	case lacking < 0:
		return alike
	case changes <= 1+len(text)/3: // farther away is another word
		return typed
	}
	return nil
}

// cheapest returns the names of the alloys with the least cost, and that cost.
func cheapest(cost func(Alloy) int) (names []string, least int) {
	for _, a := range table() {
		c := cost(a)
		if names == nil || c < least {
			names, least = nil, c
		}
		if c == least {
			names = append(names, a.Name)
		}
	}
	return names, least
}

// words splits text into runs of letters and runs of digits, each once.
func words(text string) []string {
	all := regexp.MustCompile(`\p{Nd}+|\pL+`).FindAllString(text, -1)
	slices.Sort(all)
	return slices.Compact(all)
}
