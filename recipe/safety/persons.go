package safety

import (
	"strings"

	"hepar/recipe/reagent"
)

// persons adds what follows from who does the work. It asks and arranges; whether
// somebody may or can do it is for that person, a doctor and the law, not for this list.
func (w work) persons(l *list) {
	who := func(is func(Person) bool) string {
		var list []string
		for _, p := range w.Persons {
			if is(p) {
				list = append(list, p.called())
			}
		}
		return and(list)
	}
	fuming := w.fuming()
	point := func(code string, level Level, source, text, cure string) {
		p := Point{Code: code, Level: level, Source: source, Text: sentence(plain(text))}
		if level != Caution {
			p.Cure = cure
		}
		if cure != "" {
			p.Text += " " + sentence(cure)
		}
		l.add(p)
	}
	if s := who(func(p Person) bool { return p.NoSmell }); s != "" {
		level := Caution
		if len(fuming) > 0 || w.sulfidic() {
			level = CorrectFirst
		}
		point("person-no-smell", level, "CCOHS CHEMINFO record of hydrogen sulfide; "+practice,
			s+" has no sense of smell, and so not even the first and untrustworthy sign of gas",
			"have a meter with an alarm that is heard and felt, tested that day, at the bench before starting, and somebody within call")
	}
	if s := who(func(p Person) bool { return p.Pregnant }); s != "" {
		level, text := Caution, s+" is pregnant: before anything is opened ask a doctor or the occupational health service, with the data sheets in hand; nothing here says what is allowed"
		if harm := w.those(agent.harmsUnborn); len(harm) > 0 {
			level, text = CorrectFirst, text+". "+names(harm)+" may harm the unborn by the family default"
		} else if len(fuming) > 0 || w.sulfidic() {
			level = CorrectFirst
		}
		point("person-pregnant", level, "29 CFR 1910.1200 (section 11 of the data sheet); "+practice, text,
			"somebody else mixes, dips and clears up until that is settled; look for H360, H361 and H362 in each data sheet")
	}
	if s := who(func(p Person) bool { return p.Lungs }); s != "" {
		level, text := Caution, s+" has a disease of the lungs: gas and mist act sooner and harder"
		if len(fuming) > 0 || w.sulfidic() {
			level = CorrectFirst
		}
		point("person-lungs", level, "ICSC 0183 and 0215; "+practice, text,
			"ask a doctor first, with the data sheets in hand; somebody else does the steps that give off gas, and "+s+" stays out of that room meanwhile")
	}
	w.alone(point, who(func(p Person) bool { return p.Alone }))
	if s := who(func(p Person) bool { return p.New }); s != "" {
		point("person-new", Caution, "29 CFR 1910.1200(h) (training before the first assignment)",
			s+" is new to this: go through the data sheets, the emergency lines above, the eye wash and the order of the vessels together before starting, and work side by side. Rotten eggs mean gas, and no smell means nothing. Who may be set to what is for the law and the employer, not for this list", "")
	}
}

// alone speaks to somebody who works where nobody sees or hears.
func (w work) alone(point func(code string, level Level, source, text, cure string), s string) {
	if s == "" {
		return
	}
	const source = "NIOSH FACE 89-28; guidance on lone working, from memory"
	switch {
	case w.sulfidic() && w.any(agent.sour):
		point("person-alone", CorrectFirst, source, s+" would be alone with acid and sulfide", "do not start until somebody is there who sees or hears you, and who knows that the answer to a fall is a call and a closed door, never going in")
	case w.sulfidic() || len(w.fuming()) > 0:
		point("person-alone", CorrectFirst, source, s+" would be alone with "+w.gasesNamed()+" as a possible gas", "do not start until somebody is within call, or put the work off; a telephone in the pocket does not help who is down")
	default:
		point("person-alone", Caution, source, s+" works alone: somebody knows where, and until when, and a telephone is within reach", "")
	}
}

// fuming returns the substances that give off a gas by themselves or on the metal.
func (w work) fuming() []agent {
	return w.those(func(a agent) bool {
		return a.sulfide() || a.ammoniacal() || a.nitrate() ||
			a.in(reagent.OxidizingAcid, reagent.Hypochlorite, reagent.Thiosulfate, reagent.Hydrochloric)
	})
}

// harmsUnborn tells whether a code of the family default speaks of the unborn.
func (a agent) harmsUnborn() bool {
	for _, code := range a.sub.HCodes {
		if strings.HasPrefix(code, "H360") || strings.HasPrefix(code, "H361") || code == "H362" {
			return true
		}
	}
	return !a.known
}

// called returns a name to print.
func (p Person) called() string {
	name := short(p.Name)
	if name == "" || len(Claims(name)) > 0 {
		return "one of the persons"
	}
	return name
}
