package strict

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// Table is one table of the file with its places. The zero Table is of no use; the
// first comes from [Kind.Decode], others from [Table.Sub] and [Table.Subs].
type Table struct {
	walk    *walk
	name    string // "[bath]", as a person would say it
	content map[string]any
	at      *Place
}

// Has tells whether the key is there.
func (t Table) Has(key string) bool { _, ok := t.content[key]; return ok }

// Place is where a key stands; the header of the table if the key is not there.
func (t Table) Place(key string) *Place {
	if p := t.at.children[key]; p != nil {
		return p
	}
	return t.at
}

// Only notes every key that is not in the list, in the order of the file.
func (t Table) Only(keys ...string) {
	var unknown []string
	for key := range t.content {
		if !slices.Contains(keys, key) {
			unknown = append(unknown, key)
		}
	}
	slices.SortFunc(unknown, func(a, b string) int { return t.Place(a).key - t.Place(b).key })
	for _, key := range unknown {
		if t.walk.full() {
			return
		}
		cure := "keys that fit here: " + strings.Join(keys, ", ")
		if near := fault.Nearest(key, keys); near != "" {
			cure = fmt.Sprintf("did you mean %s? %s", near, cure)
		}
		if slices.Contains(keys, strings.ToLower(key)) {
			cure = fmt.Sprintf("write %s: keys are in small letters", strings.ToLower(key))
		}
		t.walk.key(t.Place(key), cure, "unknown key %s in %s", Excerpt(key), t.name)
	}
}

// label is how a message calls a key: the figures of a range by the key they are of.
func (t Table) label(key string) string {
	if t.at.inline && !strings.HasPrefix(t.name, "[") {
		return t.name + "." + key
	}
	return key
}

// Missing notes that a required key is not there, at the header of its table.
func (t Table) Missing(key, cure string) {
	note := t.walk.key
	if t.at.inline {
		note = t.walk.val
	}
	f := note(t.at, cure, "%s has no %s", t.name, key)
	if t.at.keyEnd == 0 { // the file as a whole has no header to show
		f.Text = ""
	}
}

// kindOf says in plain words what sort of value was found.
func kindOf(v any) string {
	switch v := v.(type) {
	case string:
		return "text"
	case bool:
		return "true or false"
	case int64:
		return "a whole number"
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return "nan or inf"
		}
		return "a bare number"
	case []any:
		return "a list"
	case []map[string]any:
		return "a list of tables"
	case map[string]any:
		return "a table"
	}
	return "a date or time"
}

// Wrong notes that a key holds another sort of value than wanted.
func (t Table) Wrong(key, wanted, cure string) {
	t.walk.val(t.Place(key), cure, "%s must be %s, not %s", t.label(key), wanted, kindOf(t.content[key]))
}

// Placeholder is what the template puts where a person has to write something.
const Placeholder = "FILL IN"

// words checks one piece of text; it gives "" and notes why where it will not do.
func (t Table) words(at *Place, what, text string, most int) string {
	switch {
	case strings.TrimSpace(text) == "":
		t.walk.val(at, "write it out, or take the key away if it is optional", "%s is empty", what)
	case strings.Contains(text, Placeholder):
		t.walk.val(at, "put your own words or figures in the place of "+Placeholder, "%s is still to be filled in", what)
	case strings.ContainsFunc(text, Hidden) || !utf8.ValidString(text):
		t.walk.val(at, "write plain text on one line, without tabs, line breaks or invisible characters", "%s has a control or invisible character in it", what)
	case utf8.RuneCountInString(text) > most:
		t.walk.val(at, "shorten it; details can go into a note", "%s is longer than %d characters", what, most)
	default:
		return text
	}
	return ""
}

// Text reads a key that holds text of at most so many characters, on one line. It
// gives "" and notes why where it will not do.
func (t Table) Text(key string, most int, required bool, cure string) string {
	v, ok := t.content[key]
	if !ok {
		if required {
			t.Missing(key, cure)
		}
		return ""
	}
	s, ok := v.(string)
	if !ok {
		t.Wrong(key, "text in quotes", cure)
		return ""
	}
	return t.words(t.Place(key), key, s, most)
}

// Whole reads a whole number between low and high; missing is what it gives where
// the key is not there or will not do.
func (t Table) Whole(key string, low, high, missing int, required bool) int {
	v, ok := t.content[key]
	cure := fmt.Sprintf("write %s = %d or another whole number from %d to %d", key, low, low, high)
	if !ok {
		if required {
			t.Missing(key, cure)
		}
		return missing
	}
	n, ok := v.(int64)
	if !ok {
		t.Wrong(key, "a whole number", cure)
		return missing
	}
	if n < int64(low) || n > int64(high) {
		t.walk.val(t.Place(key), cure, "%s is outside %d to %d", t.label(key), low, high)
		return missing
	}
	return int(n)
}

// Flag reads true or false; false where the key is not there.
func (t Table) Flag(key string) bool {
	v, ok := t.content[key]
	if !ok {
		return false
	}
	b, ok := v.(bool)
	if !ok {
		t.Wrong(key, "true or false", fmt.Sprintf("write %s = true or %s = false, without quotes", key, key))
	}
	return b
}

// List reads a list of texts of at most so many characters each; where gives the
// place of each. empty says that the list may hold nothing.
func (t Table) List(key string, most int, required, empty bool, cure string) (texts []string, where []*Place) {
	v, ok := t.content[key]
	if !ok {
		if required {
			t.Missing(key, cure)
		}
		return nil, nil
	}
	items, ok := v.([]any)
	if !ok {
		t.Wrong(key, "a list of texts", cure)
		return nil, nil
	}
	at := t.Place(key)
	if len(items) == 0 && !empty {
		t.walk.val(at, cure, "%s is empty", key)
	}
	if len(items) > MaxList {
		t.walk.val(at, "keep to what a person reads at the bench", "%s has more than %d entries", key, MaxList)
		return nil, nil
	}
	for i, item := range items {
		p := at
		if i < len(at.items) {
			p = at.items[i]
		}
		s, ok := item.(string)
		if !ok {
			t.walk.val(p, cure, "entry %d of %s must be text in quotes, not %s", i+1, key, kindOf(item))
			continue
		}
		if s = t.words(p, fmt.Sprintf("entry %d of %s", i+1, key), s, most); s != "" {
			texts, where = append(texts, s), append(where, p)
		}
	}
	return texts, where
}

// MaxList is how many entries a list, or how many tables an array of tables, may have.
const MaxList = 60

// Sub opens the table under a key; name is how messages call it: "[bath]". ok is
// false where the key is not there or is no table.
func (t Table) Sub(key, name string) (Table, bool) {
	v, ok := t.content[key]
	if !ok {
		return Table{}, false
	}
	m, ok := v.(map[string]any)
	if !ok {
		t.Wrong(key, "a table", fmt.Sprintf("begin it with a line of its own: %s", name))
		return Table{}, false
	}
	return Table{t.walk, name, m, t.Place(key)}, true
}

// Subs opens the tables of a list of tables, in order; name is how messages call
// them: "[[step]]". At least one is required, and no more than [MaxList] are taken.
func (t Table) Subs(key, name string) []Table {
	v, ok := t.content[key]
	if !ok {
		t.Missing(name, fmt.Sprintf("add at least one %s", name))
		return nil
	}
	cure := fmt.Sprintf("begin each with a line of its own: %s, with two brackets", name)
	var contents []map[string]any
	switch v := v.(type) {
	case []map[string]any:
		contents = v
	case []any: // written as a list of inline tables
		for i, item := range v {
			m, ok := item.(map[string]any)
			if !ok {
				t.Wrong(key, "a list of tables", cure)
				return nil
			}
			if i <= MaxList {
				contents = append(contents, m)
			}
		}
	default:
		t.Wrong(key, "a list of tables", cure)
		return nil
	}
	at := t.Place(key)
	if len(contents) == 0 {
		t.walk.val(at, cure, "there is no %s", name)
	}
	var tables []Table
	for i, m := range contents {
		p := at
		if i < len(at.items) {
			p = at.items[i]
		}
		if i == MaxList {
			t.walk.key(p, "split the "+t.walk.src.kind.Name, "more than %d %s", MaxList, name)
			break
		}
		tables = append(tables, Table{t.walk, fmt.Sprintf("%s %d", name, i+1), m, p})
	}
	return tables
}
