package safety

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
	"hepar/recipe/strict"
)

const (
	// The pH of a sulfide bath at working temperature. From 10 on it counts as kept (a
	// thousandth of the sulfide is gas, calculated from Millero 1988); below 8 the gas reaches
	// the limits for work, and acid has got in.
	keepAbove = 10.0
	tooSour   = 8.0
	// An ammonium sulfide bath has only its own alkali, pH 8.5 to 10 fresh. From memory.
	keepAmmonium = 8.5
	// The warmest that an ammonium sulfide bath is taken, in C: it gives off more gas than any
	// other sulfide. Common practice, no published source.
	coldSulfide measure.Celsius = 40
	// From here on hot water scalds at once, in C. From memory.
	scalding measure.Celsius = 60
	// From here on a solvent gives off vapour that catches fire: above any workshop. Assumed.
	warm measure.Celsius = 30

	hydrogen = "hydrogen" // of metal in a hot alkali, as a recipe declares it
)

func (w work) keptAbove() float64 {
	if w.selfAlkaline() {
		return keepAmmonium
	}
	return keepAbove
}

func (w work) acidity(l *list) {
	if !w.bathSulfidic() || w.PH == 0 {
		return
	}
	const source = "Millero 1988 (first ionisation of hydrogen sulfide), calculated"
	cure := "bring the bath to pH 10 or more with washing soda, cold, under the capture; warm it up again and read the pH"
	if w.selfAlkaline() {
		cure = "leave the bath under the capture with the lid on, find out where acid came from, and mix a fresh one; alkali in it would free ammonia"
	}
	switch {
	case w.PH < tooSour:
		l.stop("sulfide-ph", fmt.Sprintf("the bath is at pH %s: a large part of its sulfide is hydrogen sulfide already", measure.Plain(w.PH)),
			"do not use this bath: leave it under the capture, go out, find out from the door where the acid came from, and mix a fresh one", source)
	case w.PH < w.keptAbove():
		l.stop("sulfide-ph", fmt.Sprintf("the bath is at pH %s; it must be at %s or more at working temperature", measure.Plain(w.PH), measure.Plain(w.keptAbove())), cure, source)
	}
}

// bathSulfidic tells whether the bath itself holds sulfide, or takes it up.
func (w work) bathSulfidic() bool { return w.bathHas(sulfide) || w.Recipe.Kind == recipe.Stop }

// fuming tells whether a substance wants capture at the source.
func fuming(a agent) bool {
	return sulfide(a) || ammoniacal(a) || nitrate(a) || a.in(reagent.OxidizingAcid, reagent.Hypochlorite, reagent.Hydrochloric)
}

// fumes tells whether the work wants capture at the source: for what is in it, for a declared
// gas, or for the steam of a hot bath that burns skin and lungs.
func (w work) fumes() bool {
	declared := func(name string) bool {
		return slices.Contains([]string{gas.HydrogenSulfide, gas.Ammonia, gas.Chlorine, "nitrogen oxides", hydrogen}, name)
	}
	return w.any(fuming) || slices.ContainsFunc(w.Recipe.Hazards.Gas, declared) || w.any(of(reagent.StrongOxidizer)) && w.Recipe.Bath.Water.To >= scalding
}

func (w work) gasOf() string {
	if w.any(fuming) {
		return w.names(fuming)
	}
	if len(w.Recipe.Hazards.Gas) > 0 {
		return and(w.Recipe.Hazards.Gas)
	}
	return "steam and droplets of the bath"
}

// guarded stops at work without capture, at a warm ammonium sulfide bath, and at work alone.
func (w work) guarded(l *list) {
	if w.fumes() && w.Capture == "none" {
		l.stop("no-capture", w.gasOf()+" without capture at the source", "work under a hood or a slot that leads outdoors, or outdoors with the wind from behind; a window fan is no capture", "ICSC 0183, 0215 and 1047 (local exhaust)")
	}
	if hottest := max(w.Recipe.Bath.Water.To, w.BathC); hottest > coldSulfide && w.bathHas(ammoniumSulfide) {
		l.stop("hot-ammonium-sulfide", fmt.Sprintf("the bath takes ammonium sulfide to %s", measure.Metric.Temperature(hottest)),
			"keep ammonium sulfide cold, or use another sulfide in a hot bath", practice)
	}
	if what, most := w.metered(); w.MeterPPM > most {
		l.stop("meter-late", fmt.Sprintf("the alarm of the meter for %s is set at %s ppm; %s ppm is the most", what, measure.Plain(w.MeterPPM), measure.Plain(most)),
			"set the alarm lower, or use a meter whose alarm can be set that low", "NIOSH and OSHA limits")
	}
	if (w.fumes() || w.any(sour)) && w.Second == "" && slices.ContainsFunc(w.Persons, func(p Person) bool { return p.Alone }) {
		l.stop("alone", "no second person is within sight or call of this work", "name a second person who stays within call and knows what to do", practice)
	}
}

// Shares lists the words of [Subject.Shared]: what acid and sulfide work can have in common.
func Shares() []string { return []string{"rinse", "drain", "waste", "tray", "tongs", "basket"} }

// Captures lists the words for how gas is caught at its source, for [Answers.Capture].
func Captures() []string { return []string{"hood", "slot", "outdoors", "none"} }

// shared stops at what the shop shares: where sulfide or acid is in the work the other stands
// on the same bench, and shared rinses or waste bring together any two that may not meet.
func (w work) shared(l *list) {
	for _, word := range w.Shared {
		what := strings.ToLower(strings.TrimSpace(word))
		cure := "give each its own " + what + ", marked, on its own side of the bench"
		if w.sulfidic() || w.any(sour) || w.any(of(reagent.Hypochlorite)) {
			l.stop("shared-"+what, "acid and sulfide work share the "+what+": what one leaves there meets the other, and hydrogen sulfide comes off unseen",
				cure, appendixV+"; 40 CFR 403.5 (sewers); pulp mill case of 2002 (sulfide drained into an acid sewer)")
		}
		for i, a := range w.agents {
			for _, b := range w.agents[i+1:] {
				if p := reagent.Gravest(a.groups, b.groups); forbids(p) {
					l.stop("shared-"+what, a.name+" and "+b.name+" share the "+what+": "+p.Why, cure, p.Source)
				}
			}
		}
	}
}

// checkWords refuses a word that is not among those known; more is said in the cure.
func checkWords(words, known []string, what, more string) error {
	for _, word := range words {
		if word == "" || slices.Contains(known, singular(word)) {
			continue
		}
		return fault.Usagef("%.40q is not a %s", plain(word), what).Try("%swrite %s%s", strict.Meant(strings.TrimSpace(word), known), strings.Join(known, ", "), more)
	}
	return nil
}
