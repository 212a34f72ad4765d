package recipe

import (
	"fmt"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/strict"
)

// substance reads the id of a substance, and refuses a banned one.
func (t table) substance(key string, required bool) string {
	id := t.Text(key, 60, required, "write "+key+` = "liver-of-sulfur" or another substance hepar knows`)
	if id == "" {
		return ""
	}
	_, err := reagent.Find(id)
	if why, banned := reagent.Refused(id); banned {
		t.AtValue(t.Place(key), "choose a recipe without it; there is no flag that lets it through", "%s must not be in a recipe: %s", strict.Excerpt(id), why).Refused = true
		return ""
	}
	if err != nil {
		t.AtValue(t.Place(key), fault.CureOf(err), "%s", err.Error())
		return ""
	}
	return id
}

func (t table) form(substance string) string {
	name := t.Text("form", 60, false, "write the name of a form in quotes, or remove the key")
	found, err := reagent.Find(substance)
	if name == "" || err != nil {
		return ""
	}
	form, err := found.Form(name)
	if err != nil {
		t.AtValue(t.Place("form"), fault.CureOf(err), "%s", err.Error())
	}
	return form.Name
}

const concentrationExample = "4.5 g/L"

// concentration reads a mass or a volume per volume of bath. substance and form may be empty;
// mol/L cannot be used then. must is as for [span].
func (t table) concentration(substance, form, must string) Range[measure.Concentration] {
	var jar *reagent.Form
	if substance != "" { // else looking for a near name would take time
		if found, err := reagent.Find(substance); err == nil {
			if f, err := found.Form(form); err == nil {
				jar = &f
			}
		}
	}
	var first *measure.Concentration
	r, _ := span(t, "concentration", concentrationExample, must, func(s string) (float64, error) {
		c, err := perLiter(s, jar)
		if err != nil {
			return 0, err
		}
		if first == nil {
			first = &c
		}
		if c.ByVolume != first.ByVolume {
			return 0, fault.Usagef("%s here and %s before it", c.Unit(), first.Unit()).Try("write at, from and to all by mass or all by volume")
		}
		most := float64(mostGramsPerL)
		if c.ByVolume {
			most = mostMillilitersL
		}
		return c.PerL, strict.Within(c.PerL, 0, most, true, c.Unit())
	})
	of := func(x float64) measure.Concentration {
		return measure.Concentration{PerL: x, ByVolume: first != nil && first.ByVolume}
	}
	return Range[measure.Concentration]{At: of(r.At), From: of(r.From), To: of(r.To)}
}

// perLiter reads one concentration of finished bath; jar is what is measured, nil if not
// known.
func perLiter(text string, jar *reagent.Form) (measure.Concentration, error) {
	var none measure.Concentration
	q, err := measure.Parse(text)
	if err != nil {
		return none, err
	}
	if q.Unit.Ambiguous() {
		return none, fault.Usagef("%s may be of two sizes, US and imperial", strict.Excerpt(text)).Try("write which: oz/US gal or oz/imp gal, gr/US pint or gr/imp pint")
	}
	cure := `write g/L or mL/L of finished bath, for instance "4.5 g/L"`
	switch q.Unit.Dimension {
	case measure.MassPerVolume:
		q, err = q.In("g/L")
		return measure.Concentration{PerL: q.Number}, err
	case measure.VolumePerVolume:
		if strings.Contains(q.Unit.Symbol, "%") {
			return none, fault.Usagef("%% v/v leaves open what is measured into what").Try("write mL/L of finished bath: 2 %% v/v is 20 mL/L if it is filled up to the litre")
		}
		if jar != nil && !jar.Liquid {
			cure := fmt.Sprintf("weigh it: write g/L, for instance %q", concentrationExample)
			if ml, err := q.In("mL/L"); err == nil && jar.BulkDensity > 0 {
				cure = fmt.Sprintf("weigh it: poured loose this is about %s g/L, give or take 15 %%; where books differ, write from and to", measure.Figures(ml.Number*float64(jar.BulkDensity), 2))
			}
			return none, fault.Usagef("a solid is not measured by volume here").Try("%s", cure)
		}
		q, err = q.In("mL/L")
		return measure.Concentration{PerL: q.Number, ByVolume: true}, err
	case measure.MassFraction:
		return none, fault.Usagef("%s is by mass of the mixture, and the volume of bath alone does not convert it", strict.Excerpt(text)).
			Try("%s; 1 %% w/v is 10 g/L", cure)
	case measure.Molar:
		if jar == nil || jar.Liquid || reagent.MolarMass(jar.Formula) == 0 {
			return none, fault.Usagef("mol/L needs the molar mass of a pure solid, which is not known here").Try("%s", cure)
		}
		q, err = q.In("mol/L")
		return measure.Concentration{PerL: q.Number * reagent.MolarMass(jar.Formula)}, err
	}
	return none, fault.Usagef("%s is %s, not a concentration", strict.Excerpt(text), q.Unit.Dimension).Try("%s", cure)
}
