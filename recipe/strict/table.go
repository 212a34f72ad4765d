package strict

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Table is one table of the file with its places.
type Table struct {
	src     *source
	name    string // "[bath]", as a person would call it; empty for the whole file
	content map[string]any
	At      *Place // of the table itself
}

// Has reports whether the key exists.
func (t Table) Has(key string) bool { _, ok := t.content[key]; return ok }

// Is reports whether the key holds a type: map[string]any for a table, bool, int64.
func Is[T any](t Table, key string) bool { _, ok := t.content[key].(T); return ok }

// Written returns the value of a key as a person would say it; empty for a missing key.
func (t Table) Written(key string) string { return written(t.content[key]) }

func written(v any) string {
	var parts []string
	switch v := v.(type) {
	case nil:
	case []any:
		for _, item := range v {
			parts = append(parts, written(item))
		}
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(v)) {
			parts = append(parts, key+" "+written(v[key]))
		}
	default:
		return fmt.Sprint(v)
	}
	return strings.Join(parts, ", ")
}

// Keys returns the keys of the table in the order of the file.
func (t Table) Keys() []string {
	return slices.SortedFunc(maps.Keys(t.content), func(a, b string) int {
		return cmp.Or(cmp.Compare(t.Place(a).key, t.Place(b).key), cmp.Compare(a, b))
	})
}

// Place is the place of a key, or of the table if the key is missing.
func (t Table) Place(key string) *Place {
	if p := t.At.children[key]; p != nil {
		return p
	}
	return t.At
}

// LineOf is the line of a key, from 1, or of the table if the key is missing or "".
func (t Table) LineOf(key string) int {
	line, _ := t.src.at(t.Place(key).key)
	return line
}

// Count is the number of findings so far, to see whether a reader noted anything.
func (t Table) Count() int { return len(t.src.findings) }

// Add notes a finding that the caller made. The caller may change it until the next one.
func (t Table) Add(f Finding) *Finding {
	t.src.findings = append(t.src.findings, f)
	return &t.src.findings[len(t.src.findings)-1]
}

// AtKey notes a fault in a key, or in the header of a table, with its cure.
func (t Table) AtKey(p *Place, cure, what string, args ...any) *Finding {
	return t.Add(t.src.finding(p.key, fmt.Sprintf(what, args...), cure))
}

// AtValue notes a fault in a value, with its cure.
func (t Table) AtValue(p *Place, cure, what string, args ...any) *Finding {
	return t.Add(t.src.finding(p.val, fmt.Sprintf(what, args...), cure))
}

// AtText notes a fault in a word of a text value, from bytes or more into it, with its cure.
func (t Table) AtText(p *Place, word string, from int, cure, what string, args ...any) *Finding {
	line, _, _ := bytes.Cut(t.src.data[p.val:], []byte{'\n'})
	from = min(from, len(line))
	i := bytes.Index(line[from:], []byte(word))
	if i < 0 { // written with escapes
		return t.AtValue(p, cure, what, args...)
	}
	f := t.Add(t.src.finding(p.val+from+i, fmt.Sprintf(what, args...), cure))
	f.Text = Excerpt(word)
	return f
}

func (t Table) called() string { return cmp.Or(t.name, "the "+t.src.kind.Name) }

// Missing notes at the header of the table that a required key is missing.
func (t Table) Missing(key, cure string) {
	f := t.AtKey(t.At, cure, "%s has no %s", t.called(), key)
	if t.name == "" { // the whole file has no header to show
		f.Text = ""
	}
}

// Only notes every key that is not in the list, in the order of the file.
func (t Table) Only(keys ...string) {
	for _, key := range t.Keys() {
		if slices.Contains(keys, key) {
			continue
		}
		cure := Meant(key, keys) + "the keys here are: " + strings.Join(keys, ", ")
		if slices.Contains(keys, strings.ToLower(key)) {
			cure = fmt.Sprintf("write %s: keys are in small letters", strings.ToLower(key))
		}
		t.AtKey(t.Place(key), cure, "unknown key %s in %s", Excerpt(key), t.called())
	}
}

// Sub opens the table of a key, which messages call name: "[bath]"; false if it is missing or
// no table.
func (t Table) Sub(key, name string) (in Table, ok bool) {
	content, ok := get[map[string]any](t, key, "a table", false, "begin it with a line of its own: "+name)
	return Table{t.src, name, content, t.Place(key)}, ok
}

// Subs opens the tables of a list, in order; messages call them name: "[[step]]". It requires
// one at least and returns no more than [MaxList].
func (t Table) Subs(key, name string) []Table {
	if !t.Has(key) {
		t.Missing(name, fmt.Sprintf("add at least one %s", name))
		return nil
	}
	cure := fmt.Sprintf("begin each with a line of its own: %s, with two brackets", name)
	list, ok := t.content[key].([]any)
	if headed, is := t.content[key].([]map[string]any); is { // under headings of their own
		for _, item := range headed {
			list, ok = append(list, item), true
		}
	}
	if !ok || slices.ContainsFunc(list, func(item any) bool { return kindOf(item) != "a table" }) {
		t.wrong(key, "a list of tables", cure)
		return nil
	}
	if len(list) == 0 {
		t.AtValue(t.Place(key), cure, "there is no %s", name)
	}
	var tables []Table
	for i, item := range list {
		p := t.Place(key).items[i]
		if i == MaxList {
			t.AtKey(p, "split the "+t.src.kind.Name, "there are more than %d %s", MaxList, name)
			break
		}
		tables = append(tables, Table{t.src, fmt.Sprintf("%s %d", name, i+1), item.(map[string]any), p})
	}
	return tables
}
