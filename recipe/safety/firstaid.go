package safety

import (
	"hepar/recipe"
	"hepar/recipe/reagent"
)

// FirstAid returns the emergency lines for the substances of a recipe: what to do before
// anything else when gas comes off, and for eyes, skin, lungs and mouth. They are meant
// to stand on the first screen and to stay in sight. They say no more than to get out,
// rinse and call; the data sheet and the people you call know more. Nil returns the lines
// for a sulfide bath and acids together. Sources: ICSC 1038, 1047, 0183; NIOSH FACE
// 89-28 and the chemical safety board's mill case of 2002 (helpers who went in died);
// New Jersey fact sheets 1728 and 0115 (eyes: 30 minutes).
func FirstAid(r *recipe.Recipe) []string {
	if r == nil {
		return firstAid([]agent{lookup("liver-of-sulfur", ""), lookup("sodium-sulfide", ""), lookup("nitric-acid", "")}, nil)
	}
	return firstAid(everything(line(r)), r)
}

// scalding is the water temperature from which a splash burns: 50 C, at which a deep
// burn takes minutes and not seconds. From memory.
const scalding = 50

func firstAid(as []agent, r *recipe.Recipe) []string {
	hot := r == nil || r.Bath.Water.To >= scalding
	sulfide := r != nil && r.Kind == recipe.Stop
	var fumes, corrosive, solvent bool
	minutes := "15 minutes"
	for _, a := range as {
		sulfide = sulfide || a.sulfide() || !a.known && len(a.groups) == 0
		fumes = fumes || a.in(reagent.OxidizingAcid, reagent.Hypochlorite, reagent.Ammonia) || a.nitrate()
		corrosive = corrosive || a.sour() || a.in(reagent.Caustic, reagent.Ammonia, reagent.Hypochlorite, reagent.Oxidizer)
		solvent = solvent || a.in(reagent.Solvent)
		if a.sub.FlushMinutes > 15 || !a.known {
			minutes = "30 minutes"
		}
	}
	var lines []string
	acidBath := r != nil && r.Kind == recipe.Pickle && !sulfide
	if acidBath {
		lines = append(lines, "Acid that meets a sulfide, or a piece coloured by one, frees hydrogen sulfide at once.")
	}
	switch {
	case sulfide || acidBath:
		lines = append(lines,
			"Gas, a sudden strong smell, or a smell that is suddenly gone: get out at once and take everybody with you.",
			"Close the door behind you. Call the emergency number from outside and say: hydrogen sulfide.",
			"Do not go back in, not even for somebody who is lying there: helpers who went in have died. Wait for people with air of their own.",
			"Breathed it: into fresh air, keep warm and still, call for help. No mouth-to-mouth: the gas comes back out of the lungs.",
		)
	case fumes || corrosive || solvent:
		lines = append(lines,
			"Fumes that bite or make you cough: get out, close the door, call for help from outside, and do not go back in.",
			"Breathed it: into fresh air, half sitting, keep still, call for help. Harm to the lungs can show hours later.",
		)
	default:
		lines = append(lines, "Anything unexpected, fumes or heat: step back, get out, call for help from outside.")
	}
	if acidBath || sulfide && fumes {
		lines = append(lines, "Brown or biting fumes: the lungs can fail hours later; see a doctor the same day.")
	}
	lines = append(lines,
		"Eyes: rinse at the eye wash at once, lids held open, at least "+minutes+" or as long as the data sheet says if that is longer; then to a doctor.",
	)
	if hot {
		lines = append(lines, "Skin: splashed clothes off at once, rinse with much cool running water for at least 15 minutes; the bath is hot as well. Call for help.")
	} else {
		lines = append(lines, "Skin: splashed clothes off at once, rinse with much running water for at least 15 minutes. Call for help.")
	}
	swallowed := "Swallowed: rinse the mouth, bring up nothing, call the poison centre."
	if sulfide {
		swallowed = "Swallowed: rinse the mouth, bring up nothing, call the poison centre: stomach acid frees the same gas. No mouth-to-mouth."
	}
	return append(lines, swallowed, "Have the data sheet in your hand when you call.")
}
