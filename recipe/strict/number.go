package strict

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
)

// Here is the place of the table itself.
func (t Table) Here() *Place { return t.at }

// Line is the line of the file on which the table begins, from 1.
func (t Table) Line() int { return t.LineOf("") }

// LineOf is the line on which a key stands, from 1; that of the table if the key
// is not there.
func (t Table) LineOf(key string) int {
	line, _ := t.walk.src.at(t.Place(key).key)
	return line
}

// IsTable tells whether the key holds a table.
func (t Table) IsTable(key string) bool { _, ok := t.content[key].(map[string]any); return ok }

// IsText tells whether the key holds text.
func (t Table) IsText(key string) bool { _, ok := t.content[key].(string); return ok }

// IsFlag tells whether the key holds true or false.
func (t Table) IsFlag(key string) bool { _, ok := t.content[key].(bool); return ok }

// IsWhole tells whether the key holds a whole number.
func (t Table) IsWhole(key string) bool { _, ok := t.content[key].(int64); return ok }

// Keys lists the keys of the table in the order of the file.
func (t Table) Keys() []string {
	keys := slices.Collect(maps.Keys(t.content))
	slices.SortFunc(keys, func(a, b string) int {
		return cmp.Or(cmp.Compare(t.Place(a).key, t.Place(b).key), cmp.Compare(a, b))
	})
	return keys
}

// IsList tells whether the key holds a list.
func (t Table) IsList(key string) bool { _, ok := t.content[key].([]any); return ok }

// Number reads a plain number between low and high, whole or not; its unit is in
// the name of the key. With above, low itself is refused. ok is false where there
// was anything to note, or where the key is not there at all.
func (t Table) Number(key string, low, high float64, above bool) (v float64, ok bool) {
	limits := fmt.Sprintf("from %s to %s", digits(low), digits(high))
	if above {
		limits = fmt.Sprintf("over %s and up to %s", digits(low), digits(high))
	}
	cure := fmt.Sprintf("write a plain number for %s, without quotes or unit: %s", key, limits)
	switch n := t.content[key].(type) {
	case nil:
		return 0, false
	case int64:
		v = float64(n)
	case float64:
		v = n
	default:
		t.Wrong(key, "a number", cure)
		return 0, false
	}
	if !(v >= low && v <= high) || above && v == low {
		t.walk.val(t.Place(key), cure, "%s is not %s", t.label(key), limits)
		return 0, false
	}
	return v, true
}

func digits(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
