package shop

import (
	"cmp"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/bath/yield"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/strict"
)

func (s *Shop) read(root strict.Table) {
	s.Bath.Known, s.Bath.Minutes, s.Vessels = map[string]bool{}, yield.Minutes{}, map[string]Vessel{}
	all := groups(s)
	var tables []string
	for _, g := range all[1:] {
		tables = append(tables, g.name)
	}
	s.table(all[0], root, tables...)
	for _, g := range all[1:] {
		if !g.row {
			in, _ := root.Sub(g.name, "["+g.name+"]")
			s.table(g, in)
		} else if root.Has(g.name) {
			for _, in := range root.Subs(g.name, "[["+g.name+"]]") {
				s.table(g, in)
			}
		}
	}
}

// table reads one table. Each key is a setting, "balance.readability"; a row is one: "vessel
// tub". There may be tables inside it.
func (s *Shop) table(g group, t strict.Table, tables ...string) {
	before := t.Count()
	var keys, parts []string
	for _, e := range g.entries {
		keys = append(keys, e.key)
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
	t.Only(append(keys, tables...)...)
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

// value is how the value of an entry is read, checked, stored and printed.
type value struct {
	read func(t strict.Table, e entry) // stores it, whatever it notes: a file with findings makes no Shop
	show func() string                 // prints a default
}

func (v value) shownAs(show func() string) value { v.show = show; return v }

func stored[V any](at *V, get func(t strict.Table, e entry) V) value {
	return value{read: func(t strict.Table, e entry) { *at = get(t, e) }, show: func() string { return fmt.Sprint(*at) }}
}

func (e entry) cure() string { return fmt.Sprintf("write %s = %s", e.key, e.example) }

// quantity is text with a unit, which parse reads.
func quantity[V ~float64](at *V, parse func(string) (V, error)) value {
	return stored(at, func(t strict.Table, e entry) V {
		v, _ := strict.Figure(t, e.key, strings.Trim(e.example, `"`), parse)
		return v
	})
}

// figure is a quantity within limits, as [strict.Between] has them, stored in their unit.
func figure[V ~float64](at *V, parse func(string) (V, error), low, high float64, above bool, unit string) value {
	return quantity(at, strict.Between(parse, low, high, above, unit)).shownAs(func() string { return measure.Plain(float64(*at)) + " " + unit })
}

// minutes is the time that a work takes, in min.
func (s *Shop) minutes(work string) value {
	parse := func(text string) (float64, error) {
		v, err := measure.ParseDuration(text)
		return v.Minutes(), err
	}
	return value{read: func(t strict.Table, e entry) {
		v, _ := strict.Figure(t, e.key, strings.Trim(e.example, `"`), strict.Between(parse, 0, 24*60, false, "min"))
		s.Bath.Minutes[work] = v
	}, show: func() string { return measure.Metric.Time(measure.Seconds(yield.Default[work] * 60)) }}
}

func milliliters(text string) (float64, error) {
	if q, err := measure.Parse(text); err == nil && q.Unit.Ambiguous() {
		return 0, fault.Usagef("%s may be of two sizes", strict.Excerpt(text)).Try("write mL, L or m3; or say which, such as US gal or imp gal")
	}
	v, err := measure.ParseVolume(text)
	return v.Milliliters(), err
}

func cubicMeters(text string) (float64, error) {
	v, err := milliliters(text)
	return v / 1e6, err
}

func percent(text string) (float64, error) {
	if !strings.Contains(text, "%") { // 0.5 could be a half or half a percent
		return 0, fault.Usagef("%s has no percent sign", strict.Excerpt(text)).Try(`write it like "10 %%"`)
	}
	part, err := measure.ParseRatio(text)
	return part * 100, err
}

func number(at *float64, low, high float64, above bool) value {
	return stored(at, func(t strict.Table, e entry) float64 {
		v, _ := t.Number(e.key, low, high, above)
		return v
	}).shownAs(func() string { return measure.Plain(*at) })
}

func flag(at *bool) value {
	return stored(at, func(t strict.Table, e entry) bool { return t.Flag(e.key) })
}

// words is text of at most so many characters, which parse reads.
func words[V any](at *V, most int, parse func(string) (V, error)) value {
	return stored(at, func(t strict.Table, e entry) (v V) {
		text := t.Text(e.key, most, false, e.cure())
		if text == "" {
			return v
		}
		v, err := parse(text)
		if err != nil {
			t.AtValue(t.Place(e.key), fault.CureOf(err), "%s: %s", e.key, err.Error())
		}
		return v
	})
}

func text(s string) (string, error) { return s, nil }

func oneOf[V any](choice ...V) func(string) (V, error) {
	return func(text string) (none V, err error) {
		var words []string
		for _, v := range choice {
			if words = append(words, fmt.Sprint(v)); fmt.Sprint(v) == text {
				return v, nil
			}
		}
		return none, fault.Usagef("%s is unknown", strict.Excerpt(text)).Try("%swrite one of: %s", strict.Meant(text, words), strings.Join(words, ", "))
	}
}

// unless takes any text but the wrong one, which the message quotes.
func unless(wrong func(string) bool, message, cure string) func(string) (string, error) {
	return func(text string) (string, error) {
		if wrong(text) {
			return "", fault.Usagef(message, strict.Excerpt(text)).Try("%s", cure)
		}
		return text, nil
	}
}

func isNoDay(text string) bool { _, err := time.Parse(time.DateOnly, text); return err != nil }
func isSize(text string) bool  { _, err := plan.ParseVessel(text); return err == nil }
func isLong(text string) bool  { return strings.ContainsAny(text, " \t\"'=") }

// habit reads a word for how well pieces drain, or the liquid that clings to them.
func habit(text string) (measure.MillilitersPerSquareM, error) {
	if strings.ContainsAny(text, "0123456789") {
		return strict.Between(measure.ParseSpread, 0, 1000, true, "mL/m2")(text) // cups hold up to about that
	}
	return rinse.Habit(strings.ReplaceAll(text, " ", "-"))
}

// list is texts, each of which stands once.
func list(at *[]string, empty bool) value {
	return stored(at, func(t strict.Table, e entry) []string {
		all, where := t.List(e.key, 60, true, empty, e.cure())
		for i, one := range all {
			if index(all[:i], one) >= 0 {
				t.AtValue(where[i], "keep it once", "%s is listed twice", strict.Excerpt(one))
			}
		}
		return all
	})
}

func index(list []string, name string) int {
	return slices.IndexFunc(list, func(one string) bool { return strings.EqualFold(one, name) })
}

// member notes a name that is not on the list of the people, under which no review would heed
// a flag; without a list it adds the name to the people.
func (s *Shop) member(t strict.Table, key, name string) {
	switch {
	case name == "" || index(s.People, name) >= 0:
	case s.set("people") >= 0:
		t.AtValue(t.Place(key), strict.Meant(name, s.People)+"write it as in people, or add it there", "%s is not one of the people", strict.Excerpt(name))
	default:
		s.People = append(s.People, name)
	}
}

// price is a plain decimal, one word or sign for the money or none, and what it pays for: "38
// EUR per h", "38/h", "60.5 EUR/kg". All prices share one currency.
func (s *Shop) price(per string) func(string) (float64, error) {
	return func(text string) (float64, error) {
		form := regexp.MustCompile(`^([0-9]{1,6}(?:\.[0-9]{1,6})?) *(\pL{0,12}|\p{Sc}) *(?:/ *| per )(h|hour|kg)$`)
		parts := form.FindStringSubmatch(strings.TrimSpace(text))
		if parts == nil || strings.TrimSuffix(parts[3], "our") != per {
			return 0, fault.Usagef("%s is not a price per %s", strict.Excerpt(text), per).
				Try("write it like \"38 EUR per %s\" or \"38 per %s\", with a decimal point and below a million", per, per)
		}
		if s.rated == "" {
			s.rated, s.Currency = text, parts[2]
		}
		if s.Currency != parts[2] {
			return 0, fault.Usagef("in %s, but %s is in %s", cmp.Or(parts[2], "no currency"), s.rated, cmp.Or(s.Currency, "no currency")).
				Try("write all rates in one currency; hepar converts none")
		}
		return strconv.ParseFloat(parts[1], 64)
	}
}

func (s *Shop) prices(t strict.Table, e entry) {
	in, _ := t.Sub(e.key, "[rates."+e.key+"]")
	s.Bath.PricePerKG = map[string]float64{}
	for _, id := range in.Keys() {
		own := slices.ContainsFunc(s.Substances, func(one reagent.Substance) bool { return one.ID == id })
		if _, err := reagent.Find(id); err != nil && !own {
			in.AtKey(in.Place(id), fault.CureOf(err), "%s", err.Error())
		}
		s.Bath.PricePerKG[id], _ = strict.Figure(in, id, "60 EUR per kg", s.price("kg"))
	}
}
