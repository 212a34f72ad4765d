package shop

import (
	"cmp"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/bath/yield"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

func (s *Shop) read(root strict.Table) {
	s.Bath.Known, s.Bath.Minutes = map[string]bool{}, yield.Minutes{}
	all := groups(s)
	for _, g := range all {
		var keys []string
		for _, e := range g.entries {
			keys = append(keys, e.key)
		}
		tables := []strict.Table{root}
		switch {
		case g.name == "":
			for _, other := range all[1:] {
				keys = append(keys, other.name)
			}
		case !g.row:
			tables[0], _ = root.Sub(g.name, "["+g.name+"]")
		case root.Has(g.name):
			tables = root.Subs(g.name, "[["+g.name+"]]")
		default:
			continue
		}
		for _, t := range tables {
			t.Only(keys...)
			s.table(g, t)
		}
	}
}

// table reads one table. Each key is a setting, "balance.readability"; a row is one: "vessel
// tub".
func (s *Shop) table(g group, t strict.Table) {
	before := t.Count()
	var parts []string
	for _, e := range g.entries {
		if t.Has(e.key) {
			e.value.read(t, e)
		} else if e.unset == required {
			t.Missing(e.key, e.cure())
		}
		switch written := t.Written(e.key); {
		case written == "":
		case !g.row:
			s.keep(g.path(e), written, t.LineOf(e.key))
			s.Bath.Known[g.path(e)] = true
		case written == "true":
			parts = append(parts, strings.ReplaceAll(e.key, "_", " "))
		case e.key != "name" && written != "false":
			parts = append(parts, e.key+" "+written)
		}
	}
	if g.row && t.Count() > before {
		return
	}
	if g.done != nil {
		g.done(t)
	}
	if g.row {
		name := cmp.Or(t.Written("name"), t.Written("gas")+", "+t.Written("list")) // a limit has no name
		if s.set(g.name+" "+name) >= 0 {
			t.AtKey(t.Here(), "keep one of the two, or change its name", "there are two [[%s]] %s", g.name, strict.Excerpt(name))
		}
		s.keep(g.name+" "+name, strings.Join(parts, ", "), t.LineOf(""))
	}
}

// path is the name of a setting: "balance.readability".
func (g group) path(e entry) string { return strings.TrimPrefix(g.name+"."+e.key, ".") }

func (s *Shop) keep(key, written string, line int) {
	s.given = append(s.given, Setting{measure.Clean(key), measure.Clean(written), fmt.Sprintf("%s:%d", measure.Clean(filepath.Base(s.File)), line)})
}

func (s *Shop) set(key string) int {
	return slices.IndexFunc(s.given, func(one Setting) bool { return strings.EqualFold(one.Key, measure.Clean(key)) })
}

// Setting is one thing that the shop file can set, and what counts if it does not.
type Setting struct {
	Key   string `json:"key"`   // "balance.readability", "vessel tub"
	Value string `json:"value"` // with its unit; empty where nothing is set
	From  string `json:"from"`  // "shop.toml:12", or a word such as [Practice]
}

// Settings lists every setting in the order of [Template], also of an empty Shop, with the
// value that counts and where it comes from: as the file has it, or a default in the shop's
// units.
func (s Shop) Settings() []Setting {
	var list []Setting
	unset := Shop{Bath: bath.DefaultShop(), Units: s.Units}
	unset.Bath.Pace, unset.Bath.Drain = plan.DefaultPace, rinse.Poor
	for _, g := range groups(&unset) {
		if g.row { // those that the file has
			list = append(list, slices.DeleteFunc(slices.Clone(s.given), func(one Setting) bool { return !strings.HasPrefix(one.Key, g.name+" ") })...)
			continue
		}
		for _, e := range g.entries {
			one := Setting{Key: g.path(e), From: e.unset}
			if i := s.set(one.Key); i >= 0 {
				one = s.given[i]
			} else if strings.HasPrefix(e.unset, "default") {
				one.Value = e.value.show()
			}
			list = append(list, one)
		}
	}
	return list
}

const templateHead = `# The settings of your workshop, for hepar. All of them are optional.
# To set one, remove the # right in front of it and put in your own value; the values
# here are examples, not advice. A setting that you leave out takes a default, and every
# sheet lists that default among its assumptions. "hepar shop" shows what counts.
# A quantity is text with a unit: "19 C", "0.1 g", "1 min 30 s".
`

// Template returns a commented shop file that sets nothing. A # with no blank after it marks a
// setting; without these marks the file sets everything.
func Template() []byte {
	var b strings.Builder
	b.WriteString(templateHead)
	for _, g := range groups(&Shop{}) {
		b.WriteString("\n")
		if g.help != "" {
			fmt.Fprintf(&b, "# %s\n", g.help)
		}
		switch {
		case g.row:
			fmt.Fprintf(&b, "#[[%s]]\n", g.name)
		case g.name != "":
			fmt.Fprintf(&b, "[%s]\n", g.name)
		}
		rows := tabwriter.NewWriter(&b, 0, 0, 1, ' ', 0)
		for _, e := range g.entries {
			fmt.Fprintf(rows, "#%s\t= %s", e.key, e.example)
			if e.help != "" {
				fmt.Fprintf(rows, "\t  # %s", e.help)
			}
			fmt.Fprintln(rows)
		}
		rows.Flush()
	}
	return []byte(b.String())
}
