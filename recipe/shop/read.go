package shop

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"hepar/recipe/bath/yield"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// read reads the whole file, group by group.
func read(root strict.Table) Shop {
	s := Shop{given: map[string]given{}}
	s.Bath.Known, s.Bath.Minutes = map[string]bool{}, yield.DefaultMinutes()
	s.Bath.Minutes.Known = map[string]bool{}
	all := groups()
	top := all[0].keys()
	for _, g := range all[1:] {
		top = append(top, g.name)
	}
	root.Only(top...)
	for _, g := range all {
		t, ok := root, true
		switch {
		case g.add != nil:
			s.rows(root, g)
			continue
		case g.name != "":
			if t, ok = root.Sub(g.name, "["+g.name+"]"); !ok {
				continue
			}
			t.Only(g.keys()...)
		}
		for _, e := range g.entries {
			if s.entry(t, e) {
				s.keep(path(g.name, e.key), t.Written(e.key), t.LineOf(e.key))
				switch {
				case e.value.known == "":
				case g.name == "minutes":
					s.Bath.Minutes.Known[e.value.known] = true
				default:
					s.Bath.Known[e.value.known] = true
				}
			}
		}
		if g.done != nil {
			g.done(t, &s)
		}
	}
	return s
}

func (g group) keys() (keys []string) {
	for _, e := range g.entries {
		keys = append(keys, e.key)
	}
	return keys
}

// path is the name of a setting: "balance.readability".
func path(group, key string) string { return strings.TrimPrefix(group+"."+key, ".") }

// entry reads one entry; it returns false where the entry is missing or at fault.
func (s *Shop) entry(t strict.Table, e entry) bool {
	switch {
	case t.Has(e.key):
		return e.value.read(t, e, s)
	case e.unset == required:
		t.Missing(e.key, e.cure())
	}
	return false
}

// rows reads the tables of a list, each as one setting: "vessel tub".
func (s *Shop) rows(root strict.Table, g group) {
	if !root.Has(g.name) {
		return
	}
	for _, t := range root.Subs(g.name, "[["+g.name+"]]") {
		if t.Full() {
			return
		}
		t.Only(g.keys()...)
		g.add(s)
		before := t.Count()
		var parts []string
		for _, e := range g.entries {
			written := t.Written(e.key)
			switch {
			case !s.entry(t, e) || e.key == "name" || written == "false":
			case written == "true":
				parts = append(parts, strings.ReplaceAll(e.key, "_", " "))
			default:
				parts = append(parts, e.key+" "+written)
			}
		}
		name := g.done(t, s)
		if t.Count() > before {
			continue
		}
		key := g.name + " " + name
		if slices.ContainsFunc(s.order, func(k string) bool { return strings.EqualFold(k, key) }) {
			t.AtKey(t.Here(), "keep one of the two, or change its name", "there are two [[%s]] %s", g.name, strict.Excerpt(name))
			continue
		}
		s.keep(key, strings.Join(parts, ", "), t.Line())
	}
}

func (s *Shop) keep(key, written string, line int) {
	s.given[key] = given{measure.Clean(written), line}
	s.order = append(s.order, key)
}

// checkWater compares the two temperatures.
func checkWater(t strict.Table, s *Shop) string {
	if s.Given("water.hot") && s.Given("water.cold") && s.Bath.HotWater <= s.Bath.ColdWater {
		t.AtValue(t.Place("hot"), "check whether the two are swapped", "hot is not warmer than cold")
	}
	return ""
}

// keepVessel puts the vessel that was read among the others.
func keepVessel(_ strict.Table, s *Shop) string {
	if s.Vessels == nil {
		s.Vessels = map[string]Vessel{}
	}
	s.vessel.Name = s.called
	s.Vessels[s.called] = s.vessel
	return s.called
}

// keepProduct checks the product that was read as a substance and puts it among the others.
func keepProduct(t strict.Table, s *Shop) string {
	if s.product.Name == "" || len(s.product.Families) == 0 {
		return s.product.Name
	}
	s.product.Liquid = s.state == "liquid"
	found, err := s.product.Substance()
	if err != nil {
		t.AtKey(t.Here(), fault.CureOf(err), "[[substance]] %s: %s", strict.Excerpt(s.product.Name), err.Error())
	}
	s.Substances = append(s.Substances, found)
	return s.product.Name
}

func checkPeople(t strict.Table, s *Shop) string {
	s.member(t, "person", s.Person)
	return ""
}

func checkWorker(t strict.Table, s *Shop) string {
	name := s.Workers[len(s.Workers)-1].Name
	s.member(t, "name", name)
	return name
}

// member notes a name that is not on the list of the people: no review would heed a flag
// under it. If the file has no such list, it adds the name to the people.
func (s *Shop) member(t strict.Table, key, name string) {
	switch {
	case name == "" || s.index(name) >= 0:
	case s.listed:
		t.AtValue(t.Place(key), strict.Meant(name, s.People)+"write it as in people, or add it there", "%s is not one of the people", strict.Excerpt(name))
	default:
		s.People = append(s.People, name)
	}
}

func (s *Shop) index(name string) int {
	return slices.IndexFunc(s.People, func(p string) bool { return strings.EqualFold(p, name) })
}

// Setting is one thing that the shop file can set, and what counts if it does not.
type Setting struct {
	Key   string `json:"key"`   // "balance.readability", "vessel tub"
	Value string `json:"value"` // with its unit; empty where nothing is set
	From  string `json:"from"`  // "shop.toml:12", or a word such as [Practice]
}

// Settings lists every setting in the order of [Template], with the value that counts
// and where it comes from. It works on an empty Shop too. Values of the file are printed
// as they stand there, defaults in the units of the shop.
func (s Shop) Settings() []Setting {
	var list []Setting
	unset := defaults()
	unset.Units = s.Units
	add := func(key string, e entry) {
		one := Setting{Key: measure.Clean(key), From: e.unset}
		if g, ok := s.given[key]; ok {
			one.Value, one.From = g.text, fmt.Sprintf("%s:%d", measure.Clean(filepath.Base(s.File)), g.line)
		} else if strings.HasPrefix(e.unset, "default") {
			one.Value = e.value.show(&unset)
		}
		list = append(list, one)
	}
	for _, g := range groups() {
		if g.add == nil {
			for _, e := range g.entries {
				add(path(g.name, e.key), e)
			}
			continue
		}
		for _, key := range s.order { // the rows that the file has
			if strings.HasPrefix(key, g.name+" ") {
				add(key, entry{})
			}
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

// Template returns a commented shop file that sets nothing. A # with no blank after it
// marks a setting; without these marks the file sets everything.
func Template() []byte {
	var b strings.Builder
	b.WriteString(templateHead)
	for _, g := range groups() {
		b.WriteString("\n")
		if g.help != "" {
			fmt.Fprintf(&b, "# %s\n", g.help)
		}
		switch {
		case g.add != nil:
			fmt.Fprintf(&b, "#[[%s]]\n", g.name)
		case g.name != "":
			fmt.Fprintf(&b, "[%s]\n", g.name)
		}
		wide, long := 0, 0
		for _, e := range g.entries {
			wide, long = max(wide, len(e.key)), max(long, len(e.example))
		}
		for _, e := range g.entries {
			line := fmt.Sprintf("#%-*s = %-*s", wide, e.key, long, e.example)
			if e.help != "" {
				line += "   # " + e.help
			}
			b.WriteString(strings.TrimRight(line, " ") + "\n")
		}
	}
	return []byte(b.String())
}
