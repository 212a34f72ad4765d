package recipe

import (
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/strict"
)

// substance reads the id of a substance. Banned ones are refused by name.
func (t table) substance(key string) string {
	id := t.Text(key, 60, true, `write the id of a substance, for instance "liver-of-sulfur"`)
	if id == "" {
		return ""
	}
	found, err := reagent.Find(id)
	why, banned := found.Banned, err == nil && found.Banned != ""
	if !banned {
		why, banned = reagent.Refused(id)
	}
	switch {
	case banned:
		f := t.AtValue(t.Place(key), "choose a recipe without it; there is no flag that lets it through", "%s may be in no recipe: %s", strict.Excerpt(id), why)
		f.Refused = true
		return ""
	case err != nil:
		t.AtValue(t.Place(key), fault.CureOf(err), "%s", err.Error())
		return ""
	}
	return found.ID
}

// form reads the form of a substance and gives its name as the table has it.
func (t table) form(substance string) string {
	if !t.Has("form") {
		return ""
	}
	name := t.Text("form", 60, false, "write the name of a form in quotes, or take the key away")
	if name == "" || substance == "" {
		return ""
	}
	found, err := reagent.Find(substance)
	if err != nil {
		return ""
	}
	form, err := found.Form(name)
	if err != nil {
		t.AtValue(t.Place("form"), fault.CureOf(err), "%s", err.Error())
		return ""
	}
	return form.Name
}

const concentrationExample = "4.5 g/L"

// concentration reads a mass or volume per volume of bath. substance and form
// may be empty where they are not known or wrong; mol/L cannot be used then.
func (t table) concentration(substance, form string) (Range[float64], string) {
	var jar *reagent.Form
	if found, err := reagent.Find(substance); err == nil {
		if f, err := found.Form(form); err == nil {
			jar = &f
		}
	}
	unit := ""
	r, _ := span(t, "concentration", concentrationExample, func(s string) (float64, error) {
		v, u, err := perLiter(s, jar)
		if err != nil {
			return 0, err
		}
		if unit != "" && u != unit {
			return 0, fault.Usagef("%s here and %s before it", u, unit).Try("write at, from and to all by mass or all by volume")
		}
		unit = u
		if u == "mL/L" {
			return v, strict.Within(v, 0, mostMillilitersL, true, u)
		}
		return v, strict.Within(v, 0, mostGramsPerL, true, u)
	})
	return r, unit
}

// perLiter reads one concentration as g/L or mL/L of finished bath. jar is what
// is weighed or poured, nil where that is not known.
func perLiter(text string, jar *reagent.Form) (v float64, unit string, err error) {
	q, err := measure.Parse(text)
	if err != nil {
		return 0, "", err
	}
	if q.Unit.Ambiguous() {
		return 0, "", fault.Usagef("%s may be of two sizes, US and imperial", strict.Excerpt(text)).Try("write which: oz/US gal or oz/imp gal, gr/US pint or gr/imp pint")
	}
	cure := `write g/L or mL/L of finished bath, for instance "4.5 g/L"`
	switch q.Unit.Dimension {
	case measure.MassPerVolume:
		q, err = q.In("g/L")
		return q.Number, "g/L", err
	case measure.VolumePerVolume:
		if strings.Contains(q.Unit.Symbol, "%") {
			return 0, "", fault.Usagef("%% v/v leaves open what is measured into what").Try("write mL/L of finished bath: 2 %% v/v is 20 mL/L if it is filled up to the litre")
		}
		if jar != nil && !jar.Liquid {
			return 0, "", fault.Usagef("a volume of something solid").Try("it is weighed: write g/L, for instance %q", concentrationExample)
		}
		q, err = q.In("mL/L")
		return q.Number, "mL/L", err
	case measure.MassFraction:
		return 0, "", fault.Usagef("%s is by mass of the mixture, which no volume of bath tells", strict.Excerpt(text)).
			Try("%s; 1 %% w/v is 10 g/L", cure)
	case measure.Molar:
		if jar == nil || jar.MolarMass <= 0 || jar.Liquid {
			return 0, "", fault.Usagef("mol/L needs the molar mass of a pure solid, which is not known here").Try("%s", cure)
		}
		q, err = q.In("mol/L")
		return q.Number * jar.MolarMass, "g/L", err
	}
	return 0, "", fault.Usagef("%s is %s, not a concentration", strict.Excerpt(text), q.Unit.Dimension).Try("%s", cure)
}
