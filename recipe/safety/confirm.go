package safety

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// MostConfirmations is how many there are at the most: a longer list is not read.
const MostConfirmations = 10

const hazcom = "29 CFR 1910.1200 (hazard communication)"

// confirm lists what is done, measured or named before the work, as far as it applies.
func (w work) confirm(points []Point) []Confirmation {
	var out []Confirmation
	add := func(when bool, code, ask, answer, source, format string, args ...any) {
		if when {
			out = append(out, Confirmation{Code: code, Text: sentence(fmt.Sprintf(format, args...)), Ask: ask, Answer: answer, Source: source})
		}
	}
	gasy, meters := w.fumes(), w.sulfidic() || w.any(ammoniacal) || w.any(of(reagent.OxidizingAcid, reagent.Hypochlorite))
	add(true, "enemy", "", "", appendixV+"; "+chemistry, "%s", w.enemy())
	for _, p := range points {
		if p.Level == Do {
			add(true, p.Code, "", "", p.Source, "%s", p.Cure)
		}
	}
	given := func(x float64) string {
		if x > 0 {
			return measure.Plain(x)
		}
		return ""
	}
	add(gasy, "capture", "capture", w.Capture, "ICSC 0183, 0215 and 1047 (local exhaust)", "capture at the source is on, and was seen to draw with smoke or tissue. Which: %s", strings.Join(Captures()[:3], ", "))
	what, most := w.metered()
	add(meters, "meter", "meter", given(w.MeterPPM), "NIOSH and OSHA limits, see --air", "the meter for %s was tested today. Its alarm setting in ppm, at most %s", what, measure.Plain(most))
	add(true, "wear", "", "", "ICSC 1047, 0183, 0215; 29 CFR 1910.133 and 138", "splash goggles, the gloves that the SDS names, apron and closed shoes are on, a face shield for pouring; contact lenses are out")
	add(gasy || w.any(of(reagent.Acid, reagent.OxidizingAcid, reagent.Caustic)), "eye-wash", "", "", "29 CFR 1910.151(c)", "the eye wash was run today and is within ten seconds' reach")
	add(gasy || w.any(sour), "second", "second", w.Second, practice, "a second person stays within call and knows what to do. Name")
	add(true, "papers", "sds", w.SDS, hazcom, "vessels and waste are labelled, whoever takes the waste has agreed, and the safety data sheet (SDS) of each reagent was read. Its date")
	burns := w.sulfidic() || w.any(of(reagent.Solvent, reagent.Fuel, reagent.Nitrate, reagent.StrongOxidizer)) // hydrogen sulfide burns as well
	heats := step("heat")(w)
	add(heats, "fire", "", "", chemistry, "no solvent and no drying-oil rag is near; flame only for the step that heats; an extinguisher is at hand")
	add(burns && !heats, "fire", "", "", chemistry, "no flame, spark, solvent or drying-oil rag is near; an extinguisher is at hand")
	// The cupful is mixed last: capture, goggles and eye wash come first.
	add(w.bathSulfidic(), "ph", "ph", given(w.PH), "Millero 1988, calculated", "last, with all this on: the pH of a cupful mixed under capture, as hot as the bath, by strip or meter: %s or more", measure.Plain(w.keptAbove()))
	eyeWash := slices.IndexFunc(out, func(c Confirmation) bool { return c.Code == "eye-wash" })
	if len(out) > MostConfirmations && eyeWash > 0 { // the least: it stands beside what is worn
		out[eyeWash-1].Text += " The eye wash runs."
		out = slices.Delete(out, eyeWash, eyeWash+1)
	}
	if len(out) > MostConfirmations {
		out = append(out[:MostConfirmations-1], out[len(out)-1])
	}
	return out
}

func (w work) enemy() string {
	const where = " is near: rinse, drain, waste; vessel, tongs and basket held none since they were scrubbed"
	if w.sulfidic() && w.any(sour) {
		return "acid and sulfide stand apart: own rinses, tongs, basket, vessel, drain and waste, never lent to the other; rework never goes to acid"
	}
	if w.sulfidic() {
		return "no acid, vinegar or pickle" + where + "; rework never goes to acid"
	}
	var foes []string
	for _, x := range []struct {
		when bool
		foes string
	}{
		{w.any(of(reagent.SilverSalt)), "ammonia, bleach, alcohol"},
		{w.any(ammoniacal), "bleach, silver salt"},
		{w.any(of(reagent.OxidizingAcid)), "sulfide, solvent, oil, rag"},
		{w.any(of(reagent.StrongOxidizer)), "acid, sulfide, solvent, oil, rag"},
		{w.any(sour), "sulfide, bleach"},
		{w.any(acid), "sulfide-coloured piece"},
		{w.any(of(reagent.Oxidizer)) && !w.any(nitrate), "sulfide, acid, oil, rag"},
	} {
		for foe := range strings.SplitSeq(x.foes, ", ") {
			if x.when && !slices.Contains(foes, foe) {
				foes = append(foes, foe)
			}
		}
	}
	if len(foes) == 0 {
		return "nothing else stands on the bench; each bath has its own rinse, tongs and waste"
	}
	return "no " + strings.Replace(and(foes), " and ", " or ", 1) + where
}

// metered names the gas to measure and the highest alarm, in ppm: see [gas.Alarm].
func (w work) metered() (what string, most float64) {
	switch {
	case w.sulfidic():
		what = gas.HydrogenSulfide
	case w.any(of(reagent.OxidizingAcid)):
		what = gas.NitrogenDioxide
	case w.any(of(reagent.Hypochlorite)):
		what = gas.Chlorine
	default:
		what = gas.Ammonia
	}
	alarm, _ := gas.Alarm(what)
	return what, alarm.Value
}

// oldSheet is from which age on, in years, a data sheet is said to be old. A choice of ours, no source:
// a supplier changes a sheet when something new is known, at no fixed age.
const oldSheet = 3

// OldSheet says that the data sheet that was read is an old one; "" where it is not.
func (a Answers) OldSheet(today time.Time) string {
	day, err := time.Parse(time.DateOnly, a.SDS)
	if err != nil || day.AddDate(oldSheet, 0, 0).After(today) {
		return ""
	}
	return fmt.Sprintf("the data sheet of %s is more than %d years old; ask the supplier for the present one and read that", a.SDS, oldSheet)
}

// mostPPM is all of the air, in ppm: nothing alarms above it.
const mostPPM = 1_000_000

// Lacking returns, by what is asked, the confirmations whose value is not given.
func (r Review) Lacking() []string {
	var out []string
	for _, c := range r.Confirm {
		if c.Ask != "" && c.Answer == "" {
			out = append(out, c.Ask)
		}
	}
	return out
}

// Answer sets one answer from a text. An error of kind Usage says what it has to be. [Assess]
// looks at it: a pH may be a stop.
func (a *Answers) Answer(ask, text string, today time.Time) error {
	text = plain(text)
	number := func(high float64, to *float64, like string) error {
		x, err := measure.ParseRatio(strings.Replace(strings.TrimSuffix(strings.TrimSuffix(text, "ppm"), " "), ",", ".", 1))
		if err != nil || strings.ContainsAny(text, "%:") || !(x > 0 && x <= high) {
			return fault.Usagef("%.40q must be a number that is more than 0 and at most %s", text, measure.Plain(high)).Try("write a plain number such as %s", like)
		}
		*to = x
		return nil
	}
	switch ask {
	case "ph":
		return number(14, &a.PH, "10.5")
	case "meter":
		return number(mostPPM, &a.MeterPPM, "5") // an alarm that is too high is a stop, which says how high it may be
	case "capture":
		if err := checkWords([]string{text}, Captures(), "word for a capture", ""); err != nil || text == "" {
			return cmp.Or(err, error(fault.Usagef("no capture is named").Try("write %s", strings.Join(Captures(), ", "))))
		}
		a.Capture = strings.ToLower(text)
	case "second":
		if err := named(text, "write the name of a person who stays within call; without one this work waits"); err != nil {
			return err
		}
		a.Second = text
	case "sds":
		day, err := time.Parse(time.DateOnly, text)
		if err != nil || day.Year() < 1990 || day.After(today) {
			return fault.Usagef("%.40q must be the day of a data sheet, from 1990 to today", text).Try("write it as 2025-04-30, as on the sheet")
		}
		a.SDS = text
	}
	return nil
}
