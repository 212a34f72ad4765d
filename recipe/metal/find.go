package metal

import (
	"regexp"
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

var spoken = map[string]string{
	"sterling": "sterling-925", "sterling silver": "sterling-925", "925": "sterling-925",
	"fine": "fine-999", "fine silver": "fine-999", "999": "fine-999",
}

// Find returns the alloy of that name, written in full or one of the few short names
// that mean one alloy: sterling, 925, fine, 999, and the family of which there is one, such as
// copper. Any other is refused with an error of
// kind [fault.Usage] whose cure names what was probably meant, because an alloy taken by
// guess would put a wrong density on a sheet without anybody noticing.
func Find(name string) (Alloy, error) {
	full := name
	if meant, ok := spoken[strings.ToLower(strings.TrimSpace(name))]; ok {
		full = meant
	}
	if at := slices.IndexFunc(table(), func(a Alloy) bool { return a.Name == full }); at >= 0 {
		return table()[at], nil
	}
	family := slices.DeleteFunc(slices.Clone(table()), func(a Alloy) bool { return !strings.EqualFold(a.Family, strings.TrimSpace(name)) })
	if len(family) == 1 {
		return family[0], nil
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
	case more > 0:
		return Alloy{}, err.Try("write the full name: %s or %d more", strings.Join(near[:most], ", "), more)
	}
	return Alloy{}, err.Try("write the full name: %s", orList(near))
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

// nearest returns the names that share most words with text ("925", "silver 925"), or
// have but a slip in them, in the order of the table.
func nearest(text string) (names []string) {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "" || len(text) > 60 {
		return nil
	}
	best := 1
	for _, a := range table() {
		points := max(0, min(slip, len(text)/4)+1-fault.Changes(text, a.Name))
		known := words(a.Name + " " + strings.ToLower(a.Title))
		for _, word := range words(text) {
			if slices.Contains(known, word) {
				points += slip + 1
			}
		}
		if points > best {
			names, best = nil, points
		}
		if points == best {
			names = append(names, a.Name)
		}
	}
	return names
}

// words splits text into runs of letters and runs of digits, each once.
func words(text string) []string {
	all := regexp.MustCompile(`\p{Nd}+|\pL+`).FindAllString(text, -1)
	slices.Sort(all)
	return slices.Compact(all)
}
