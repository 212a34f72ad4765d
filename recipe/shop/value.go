package shop

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"hepar/recipe/bath"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/strict"
)

// value is how the value of an entry is read, checked, stored and printed.
type value struct {
	read  func(t strict.Table, e entry, s *Shop) bool // stores it; false if it noted a fault
	show  func(s *Shop) string                        // prints a default
	known string                                      // the word for it in the Known of the bath or of the minutes
}

func (v value) knownAs(word string) value             { v.known = word; return v }
func (v value) shownAs(show func(*Shop) string) value { v.show = show; return v }

// stored is a value that get reads and that goes where at says.
func stored[V any](at func(*Shop) *V, get func(t strict.Table, e entry, s *Shop) (V, bool)) value {
	return value{
		read: func(t strict.Table, e entry, s *Shop) bool {
			v, ok := get(t, e, s)
			if ok {
				*at(s) = v
			}
			return ok
		},
		show: func(s *Shop) string { return fmt.Sprint(*at(s)) },
	}
}

// cure says how to write the entry.
func (e entry) cure() string { return fmt.Sprintf("write %s = %s", e.key, e.example) }

// bounds are the least and the most of a figure; above says that it must exceed low.
type bounds struct {
	low, high float64
	above     bool
}

func from(low, high float64) bounds { return bounds{low, high, false} }
func over(low, high float64) bounds { return bounds{low, high, true} }

// figure is a quantity with its unit, stored in that unit.
func figure[V ~float64](at func(*Shop) *V, unit string, b bounds) value {
	return stored(at, func(t strict.Table, e entry, s *Shop) (V, bool) {
		return strict.Figure(t, e.key, strings.Trim(e.example, `"`), func(text string) (V, error) {
			v, err := parse(text, unit)
			if err != nil {
				return 0, err
			}
			return V(v), strict.Within(v, b.low, b.high, b.above, unit)
		})
	}).shownAs(func(s *Shop) string {
		v := float64(*at(s))
		switch unit {
		case "C":
			return s.Units.Temperature(measure.Celsius(v))
		case "min":
			return measure.Metric.Time(measure.Seconds(v * 60))
		}
		return measure.Plain(v) + " " + unit
	})
}

// parse reads a quantity in one of the units of the table.
func parse(text, unit string) (float64, error) {
	switch unit {
	case "g":
		v, err := measure.ParseMass(text)
		return float64(v), err
	case "C":
		v, err := measure.ParseTemperature(text)
		return float64(v), err
	case "min":
		v, err := measure.ParseDuration(text)
		return v.Minutes(), err
	case "mL", "m3":
		if q, err := measure.Parse(text); err == nil && q.Unit.Ambiguous() {
			return 0, fault.Usagef("%s may be of two sizes", strict.Excerpt(text)).Try("write mL, L or m3; or say which, such as US gal or imp gal")
		}
		v, err := measure.ParseVolume(text)
		if unit == "m3" {
			return float64(v) / 1000, err
		}
		return v.Milliliters(), err
	case "W":
		return measure.ParseWatts(text)
	}
	if !strings.Contains(text, "%") { // 0.5 could be a half or half a percent
		return 0, fault.Usagef("%s has no percent sign", strict.Excerpt(text)).Try(`write it like "10 %%"`)
	}
	part, err := measure.ParseRatio(text)
	return part * 100, err
}

// number is a plain number whose unit is in its key.
func number(at func(*Shop) *float64, b bounds) value {
	return stored(at, func(t strict.Table, e entry, _ *Shop) (float64, bool) { return t.Number(e.key, b.low, b.high, b.above) }).
		shownAs(func(s *Shop) string { return measure.Plain(*at(s)) })
}

// flag is true or false.
func flag(at func(*Shop) *bool) value {
	return stored(at, func(t strict.Table, e entry, _ *Shop) (bool, bool) { return t.Flag(e.key), strict.Is[bool](t, e.key) })
}

// words is text of at most so many characters, which parse reads.
func words[V any](at func(*Shop) *V, most int, parse func(string) (V, error)) value {
	return stored(at, func(t strict.Table, e entry, _ *Shop) (v V, ok bool) {
		text := t.Text(e.key, most, false, e.cure())
		if text == "" {
			return v, false
		}
		v, err := parse(text)
		if err != nil {
			t.AtValue(t.Place(e.key), fault.CureOf(err), "%s: %s", e.key, err.Error())
		}
		return v, err == nil
	})
}

func text(s string) (string, error) { return s, nil }

// oneOf reads one of a few words.
func oneOf(choice ...string) func(string) (string, error) {
	return func(text string) (string, error) {
		if slices.Contains(choice, text) {
			return text, nil
		}
		return "", fault.Usagef("%s is unknown", strict.Excerpt(text)).Try("%swrite one of: %s", strict.Meant(text, choice), strings.Join(choice, ", "))
	}
}

func system(text string) (measure.System, error) {
	word, err := oneOf("metric", "us")(text)
	if word == "us" {
		return measure.US, nil
	}
	return measure.Metric, err
}

// day reads a day such as 2025-03-01.
func day(text string) (string, error) {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return "", fault.Usagef("%s is not a day", strict.Excerpt(text)).Try(`write it like "2025-03-01": year, month, day, in quotes`)
	}
	return text, nil
}

func vesselName(text string) (string, error) {
	if _, err := bath.ParseVessel(text); err == nil {
		return "", fault.Usagef("%s reads like a size", text).Try("use a name in words, and put the size under inside")
	}
	return text, nil
}

// habit reads a word for how well pieces drain, or the liquid that clings to them.
func habit(text string) (measure.MillilitersPerSquareM, error) {
	const most = 1000 // mL/m2; cups hold up to about that
	word := strings.ReplaceAll(text, " ", "-")
	if v, err := rinse.Habit(word); err == nil {
		return v, nil
	}
	if !strings.ContainsAny(text, "0123456789") {
		_, err := oneOf(rinse.Habits()...)(word)
		return 0, err
	}
	v, err := measure.ParseSpread(text)
	if err != nil {
		return 0, err
	}
	return v, strict.Within(v, 0, most, true, "mL/m2")
}

// names is the list of the people.
func names() value {
	return value{read: func(t strict.Table, e entry, s *Shop) bool {
		all, where := t.List(e.key, shortText, false, true, e.cure())
		for i, name := range all {
			if s.index(name) >= 0 {
				t.AtValue(where[i], "list each person once", "%s is listed twice", strict.Excerpt(name))
			}
			s.People = append(s.People, name)
		}
		s.listed = len(all) > 0
		return s.listed
	}}
}

// list is a list of words.
func list(at func(*Shop) *[]string) value {
	return stored(at, func(t strict.Table, e entry, _ *Shop) ([]string, bool) {
		all, _ := t.List(e.key, shortText, true, false, e.cure())
		return all, len(all) > 0
	})
}

// whole is a whole number.
func whole(at func(*Shop) *int, low, high int) value {
	return stored(at, func(t strict.Table, e entry, _ *Shop) (int, bool) {
		return t.Whole(e.key, low, high, low, false), strict.Is[int64](t, e.key)
	})
}

// price is a plain decimal, one word or sign for the money or none, and what it pays
// for, h or kg: "38 EUR per h", "38/h", "60.5 EUR/kg". All prices share one currency.
func price(at func(*Shop) *float64, per string) value {
	return stored(at, func(t strict.Table, e entry, s *Shop) (float64, bool) {
		return strict.Figure(t, e.key, strings.Trim(e.example, `"`), func(text string) (float64, error) {
			form := regexp.MustCompile(`^([0-9]{1,6}(?:\.[0-9]{1,6})?) *(\pL{0,12}|\p{Sc}) *(?:/ *| per )(h|hour|kg)$`)
			parts := form.FindStringSubmatch(strings.TrimSpace(text))
			if parts == nil || strings.TrimSuffix(parts[3], "our") != per {
				return 0, fault.Usagef("%s is not a price per %s", strict.Excerpt(text), per).
					Try("write it like \"38 EUR per %s\" or \"38 per %s\", with a decimal point and below a million", per, per)
			}
			if s.rated == "" {
				s.rated, s.Currency = e.key, parts[2]
			}
			if s.Currency != parts[2] {
				return 0, fault.Usagef("in %s, but %s is in %s", cmp.Or(parts[2], "no currency"), s.rated, cmp.Or(s.Currency, "no currency")).
					Try("write all rates in one currency; hepar converts none")
			}
			return strconv.ParseFloat(parts[1], 64)
		})
	})
}

// prices is a table of prices per kg, by substance.
func prices() value {
	return value{read: func(t strict.Table, e entry, s *Shop) bool {
		in, ok := t.Sub(e.key, "[rates."+e.key+"]")
		s.Bath.PricePerKG = map[string]float64{}
		for _, id := range in.Keys() {
			own := slices.ContainsFunc(s.Substances, func(one reagent.Substance) bool { return one.ID == id })
			if _, err := reagent.Find(id); err != nil && !own {
				in.AtKey(in.Place(id), fault.CureOf(err), "%s", err.Error())
				continue
			}
			var v float64
			price(func(*Shop) *float64 { return &v }, "kg").read(in, entry{key: id, example: "60 EUR per kg"}, s)
			s.Bath.PricePerKG[id] = v
		}
		return ok
	}}
}
