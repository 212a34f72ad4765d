package recipe

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// table is one table of the file with its places.
type table struct {
	*walk
	name    string // "[bath]", as a person would say it
	content map[string]any
	at      *place
}

func (t table) has(key string) bool { _, ok := t.content[key]; return ok }

// place is where a key stands; the header of the table if the key is not there.
func (t table) place(key string) *place {
	if p := t.at.children[key]; p != nil {
		return p
	}
	return t.at
}

// only notes every key that is not in the list, in the order of the file.
func (t table) only(keys ...string) {
	var unknown []string
	for key := range t.content {
		if !slices.Contains(keys, key) {
			unknown = append(unknown, key)
		}
	}
	slices.SortFunc(unknown, func(a, b string) int { return t.place(a).key - t.place(b).key })
	for _, key := range unknown {
		if t.full() {
			return
		}
		cure := "keys that fit here: " + strings.Join(keys, ", ")
		if near := Nearest(key, keys, 1); len(near) == 1 {
			cure = fmt.Sprintf("did you mean %s? %s", near[0], cure)
		}
		if slices.Contains(keys, strings.ToLower(key)) {
			cure = fmt.Sprintf("write %s: keys are in small letters", strings.ToLower(key))
		}
		t.walk.key(t.place(key), cure, "unknown key %s in %s", excerpt(key), t.name)
	}
}

// label is how a message calls a key: the figures of a range by the key they are of.
func (t table) label(key string) string {
	if t.at.inline && !strings.HasPrefix(t.name, "[") {
		return t.name + "." + key
	}
	return key
}

// missing notes that a required key is not there, at the header of its table.
func (t table) missing(key, cure string) {
	note := t.walk.key
	if t.at.inline {
		note = t.val
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

func (t table) wrong(key, wanted, cure string) {
	t.val(t.place(key), cure, "%s must be %s, not %s", t.label(key), wanted, kindOf(t.content[key]))
}

// placeholder is what the template puts where a person has to write something.
const placeholder = "FILL IN"

// words checks one piece of text; it gives "" and notes why where it will not do.
func (t table) words(at *place, what, text string, most int) string {
	switch {
	case strings.TrimSpace(text) == "":
		t.val(at, "write it out, or take the key away if it is optional", "%s is empty", what)
	case strings.Contains(text, placeholder):
		t.val(at, "put your own words or figures in the place of "+placeholder, "%s is still to be filled in", what)
	case strings.ContainsFunc(text, hidden) || !utf8.ValidString(text):
		t.val(at, "write plain text on one line, without tabs, line breaks or invisible characters", "%s has a control or invisible character in it", what)
	case utf8.RuneCountInString(text) > most:
		t.val(at, "shorten it; details can go into a note", "%s is longer than %d characters", what, most)
	default:
		return text
	}
	return ""
}

// text reads a key that holds text of at most so many characters.
func (t table) text(key string, most int, required bool, cure string) string {
	v, ok := t.content[key]
	if !ok {
		if required {
			t.missing(key, cure)
		}
		return ""
	}
	s, ok := v.(string)
	if !ok {
		t.wrong(key, "text in quotes", cure)
		return ""
	}
	return t.words(t.place(key), key, s, most)
}

// whole reads a whole number between low and high.
func (t table) whole(key string, low, high, missing int, required bool) int {
	v, ok := t.content[key]
	cure := fmt.Sprintf("write %s = %d or another whole number from %d to %d", key, low, low, high)
	if !ok {
		if required {
			t.missing(key, cure)
		}
		return missing
	}
	n, ok := v.(int64)
	if !ok {
		t.wrong(key, "a whole number", cure)
		return missing
	}
	if n < int64(low) || n > int64(high) {
		t.val(t.place(key), cure, "%s is outside %d to %d", t.label(key), low, high)
		return missing
	}
	return int(n)
}

func (t table) flag(key string) bool {
	v, ok := t.content[key]
	if !ok {
		return false
	}
	b, ok := v.(bool)
	if !ok {
		t.wrong(key, "true or false", fmt.Sprintf("write %s = true or %s = false, without quotes", key, key))
	}
	return b
}

// list reads a list of texts; where gives the place of each.
func (t table) list(key string, most int, required, empty bool, cure string) (texts []string, where []*place) {
	v, ok := t.content[key]
	if !ok {
		if required {
			t.missing(key, cure)
		}
		return nil, nil
	}
	items, ok := v.([]any)
	if !ok {
		t.wrong(key, "a list of texts", cure)
		return nil, nil
	}
	at := t.place(key)
	if len(items) == 0 && !empty {
		t.val(at, cure, "%s is empty", key)
	}
	if len(items) > maxList {
		t.val(at, "keep to what a person reads at the bench", "%s has more than %d entries", key, maxList)
		return nil, nil
	}
	for i, item := range items {
		p := at
		if i < len(at.items) {
			p = at.items[i]
		}
		s, ok := item.(string)
		if !ok {
			t.val(p, cure, "entry %d of %s must be text in quotes, not %s", i+1, key, kindOf(item))
			continue
		}
		if s = t.words(p, fmt.Sprintf("entry %d of %s", i+1, key), s, most); s != "" {
			texts, where = append(texts, s), append(where, p)
		}
	}
	return texts, where
}

// maxList is how many entries a list, or how many tables an array of tables, may have.
const maxList = 60

// sub opens the table under a key.
func (t table) sub(key, name string) (table, bool) {
	v, ok := t.content[key]
	if !ok {
		return table{}, false
	}
	m, ok := v.(map[string]any)
	if !ok {
		t.wrong(key, "a table", fmt.Sprintf("begin it with a line of its own: %s", name))
		return table{}, false
	}
	return table{t.walk, name, m, t.place(key)}, true
}

// subs opens the tables of an array of tables, in order.
func (t table) subs(key, name string) []table {
	v, ok := t.content[key]
	if !ok {
		t.missing(name, fmt.Sprintf("add at least one %s", name))
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
				t.wrong(key, "a list of tables", cure)
				return nil
			}
			if i <= maxList {
				contents = append(contents, m)
			}
		}
	default:
		t.wrong(key, "a list of tables", cure)
		return nil
	}
	at := t.place(key)
	if len(contents) == 0 {
		t.val(at, cure, "there is no %s", name)
	}
	var tables []table
	for i, m := range contents {
		p := at
		if i < len(at.items) {
			p = at.items[i]
		}
		if i == maxList {
			t.walk.key(p, "split the recipe", "more than %d %s", maxList, name)
			break
		}
		tables = append(tables, table{t.walk, fmt.Sprintf("%s %d", name, i+1), m, p})
	}
	return tables
}
