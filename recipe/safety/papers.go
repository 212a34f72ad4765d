package safety

import (
	"fmt"
	"strings"

	"hepar/recipe"
	"hepar/recipe/reagent"
)

// papers returns the data sheets.
func (w work) papers(l *list) {
	l.add(Point{
		Code: "sds", Level: Caution, Source: "29 CFR 1910.1200(g); REACH Article 31",
		Text: "have the safety data sheet of your own supplier at hand, and write down its revision date, for " + names(w.agents) + ". Take the hazard codes from it, and look for H330, H331, EUH031 and EUH032; a code that is missing is UNKNOWN - treat as the worst known family.",
	})
}

// waste returns the route of what is left over. The default is never the drain.
func (w work) waste(l *list) {
	text := "collect what is left over, rinses with it, in closed, labelled containers with the date. Nothing of it goes down the drain unless the data sheet and the local authority both allow it; thinning it to get there is not allowed either. Agree the route before you mix."
	if as := w.those(agent.sulfide); len(as) == 0 && w.Recipe.Kind == recipe.Stop {
		text += " What has stood behind a sulfide bath is sulfide waste: alkaline, in a container of its own, where no acid can get to it."
	} else if len(as) > 0 {
		text += " Spent " + names(as) + " in a container of its own, alkaline, where no acid can get to it, and away from a sink or floor drain that takes acid."
	}
	if as := w.those(agent.sour); len(as) > 0 {
		text += " Spent " + names(as) + " in another container, never the one that held sulfide."
	}
	if as := w.those(agent.acid); len(as) > 0 {
		text += " Acid that metal has been in carries that metal."
	}
	metal := w.those(of(reagent.HeavyMetal))
	if len(metal) > 0 {
		text += " " + sentence(names(metal)+": metal that poisons water; ask for the collection that takes it")
	}
	if as := w.those(func(a agent) bool { return a.in(reagent.Oxidizer, reagent.Hypochlorite) }); len(as) > 0 {
		text += " No rags, solvents or sulfide into the waste of " + names(as) + ", and a vented cap where it may give off gas."
	}
	l.add(Point{Code: "waste-route", Level: Caution, Text: text, Source: "40 CFR 261.23 and 403.5; WM3 (HP 12); local rules and the data sheet decide"})
}

// substances returns each substance that has hazard codes its own line, and one to the rest.
func (w work) substances(l *list) {
	var mild []string
	for _, a := range w.agents {
		if !a.known || a.sub.ID == "" {
			continue
		}
		if len(a.sub.HCodes) == 0 {
			mild = append(mild, strings.TrimSuffix(a.name+": "+strings.Join(a.sub.Hazards, ", "), ": "))
			continue
		}
		codes := strings.TrimSpace(a.sub.Signal + " " + strings.Join(a.sub.HCodes, " "))
		text := fmt.Sprintf("%s (%s): %s", a.name, where(w.vessels, a), strings.Join(a.sub.Hazards, "; "))
		text = strings.TrimRight(text, ". :") + fmt.Sprintf(". Family default: %s; take the codes from your own SDS.", codes)
		if a.sub.Evidence != reagent.Opened {
			text += " Not verified here (" + a.sub.Evidence + ")."
		}
		if a.sub.Storage != "" {
			text += " Store: " + strings.TrimSuffix(a.sub.Storage, ".") + "."
		}
		source := a.sub.Source
		if source == "" {
			source = practice
		}
		l.add(Point{Code: "substance-" + a.id, Level: Caution, Text: text, Source: plain(source)})
	}
	if len(mild) > 0 {
		l.add(Point{Code: "substances-without-code", Level: Caution, Source: practice,
			Text: "no code in the family default, which is no reason to skip the data sheet: " + strings.Join(mild, "; ") + ". Take the codes from your own SDS."})
	}
}

// close ends every review.
func (w work) close(l *list) {
	l.add(Point{
		Code: "review-again", Level: Caution, Source: hazcom + "; REACH Article 31(9)",
		Text: "review again when a data sheet, a substance, the bath or the order of the steps changes, after a meter alarm, and after anything that went wrong.",
	})
	l.add(Point{
		Code: "who-decides", Level: Caution, Source: practice,
		Text: "this list can leave things out. It is no permit and takes the place of no licensed practice: your own data sheets and your local authority decide.",
	})
}
