package safety

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

const sulfideModel = "Millero 1988 (first ionisation of hydrogen sulfide); Sander 2023 (its solubility); two-film transfer and dilution ventilation, calculated"

// two prints an estimate with two figures: more would say more than is known.
func two(x float64) string {
	if !(x > 0) || math.IsInf(x, 0) {
		return "0"
	}
	places := 1 - int(math.Floor(math.Log10(x)))
	if places < 0 {
		ten := math.Pow(10, float64(-places))
		return strconv.FormatFloat(math.Round(x/ten)*ten, 'f', 0, 64)
	}
	return strconv.FormatFloat(x, 'f', places, 64)
}

// inAir prints a share of the air with its unit. Nearly a million parts are no figure for
// a reader: that is the gas alone.
func inAir(x float64) string {
	if x >= 0.95e6 {
		return "pure gas (nearly 1000000 ppm, no air left)"
	}
	return two(x) + " ppm"
}

// inRoom words the room once.
func (a air) inRoom(given gas.Room) string {
	text := "a room of " + measure.Plain(gas.In("", a.room.VolumeM3, "", "").Value) + " m3"
	if given.VolumeM3 == 0 {
		text = "a closed room of " + measure.Plain(a.room.VolumeM3) + " m3, taken for scale because none was given,"
	}
	changes := measure.Plain(gas.In("", a.room.AirChangesPerHour, "", "").Value) + " air changes an hour"
	if given.AirChangesPerHour == 0 {
		changes += " (assumed: door and window shut)"
	}
	return text + " with " + changes
}

// estimate finds an estimate by its code.
func (a air) estimate(code string) (gas.Estimate, bool) {
	i := slices.IndexFunc(a.estimates, func(e gas.Estimate) bool { return e.Code == code })
	if i < 0 {
		return gas.Estimate{}, false
	}
	return a.estimates[i], true
}

// freed gives the hydrogen sulfide that acid would free from the whole bath, or from each
// liter of it, and what that makes of the room.
func (w work) freed() string {
	e, ok := w.air.estimate("acid-all")
	if !ok || e.FreedG == 0 {
		return ""
	}
	from := "the bath of this batch"
	if _, assumed := w.liters(); assumed {
		from = "each liter of this bath"
	}
	return fmt.Sprintf("Fully acidified, %s would free up to %s g of it. Mixed evenly into %s that would be about %s ppm, and about %s ppm in the nearest cubic metre, %s.",
		from, two(float64(w.air.bath.FreeG)), w.air.inRoom(w.Room), two(e.RoomPPM), two(e.NearPPM), gas.Verify)
}

// told gives a sentence on an estimate of another gas, or nothing.
func (w work) told(code string) string {
	e, ok := w.air.estimate(code)
	if !ok {
		return ""
	}
	return fmt.Sprintf(" Estimate: %s, about %s ppm in the room and %s ppm in the nearest cubic metre, %s.", e.Scenario, two(e.RoomPPM), two(e.NearPPM), gas.Verify)
}

// estimated says what the bath could put into the air of this room.
func (w work) estimated(l *list) {
	plan, ok := w.air.estimate("as-planned")
	if !ok {
		return
	}
	var b strings.Builder
	fmt.Fprintf(&b, "hydrogen sulfide estimated for %s, without capture. %s: about %s ppm in the room (%s to %s), %s ppm in the nearest cubic metre, %s in still air over the bath.",
		w.air.inRoom(w.Room), sentenceHead(plan.Scenario), two(plan.RoomPPM), two(plan.RoomLowPPM), two(plan.RoomHighPPM), two(plan.NearPPM), inAir(*plan.HeadspacePPM))
	if w.PH == 0 {
		b.WriteString(" Measure the pH at working temperature: it decides more than anything else.")
	}
	for _, code := range []string{"acid-all", "acid-expected", "vinegar-spoon", "pickle-1-ml", "lid-lifted", "ph-9", "ph-8", "ph-7"} {
		if e, ok := w.air.estimate(code); ok {
			fmt.Fprintf(&b, " %s: %s ppm in the room, %s ppm in the nearest cubic metre.", sentenceHead(e.Scenario), two(e.RoomPPM), two(e.NearPPM))
		}
	}
	if plan.RoomHighPPM >= w.air.lowest.Value && plan.RoomPPM < w.air.lowest.Value {
		b.WriteString(" The upper end for the bath as planned reaches the limit named next.")
	}
	fmt.Fprintf(&b, " Lowest limit for work listed here: %s. All of it is %s.", w.air.lowest, gas.Verify)
	l.add(Point{Code: "gas-estimate", Level: Caution, Text: b.String(), Source: sulfideModel + "; " + w.air.lowest.Cited()})
	if plan.RoomPPM >= w.air.lowest.Value {
		raise := ", bring the pH to 10 or more"
		if w.selfAlkaline() {
			raise = "" // soda would free ammonia
		}
		cure := "capture the gas at the source" + raise + ", take a vessel with less surface or less bath, and measure"
		text := fmt.Sprintf("the bath as planned is estimated at about %s ppm of hydrogen sulfide in the room, which reaches %s; %s", two(plan.RoomPPM), w.air.lowest, gas.Verify)
		level := CorrectFirst
		switch {
		case w.Room.VolumeM3 == 0 || w.PH == 0:
			level, text = Caution, text+". It rests on figures that nobody gave: give the room and the pH"
		case w.Room.Hood:
			level, text = Caution, text+". That is with the hood off: nothing is open while it does not draw"
		}
		p := Point{Code: "gas-over-limit", Level: level, Text: sentence(text) + " " + sentence(cure), Source: sulfideModel + "; " + w.air.lowest.Cited()}
		if level != Caution {
			p.Cure = cure
		}
		l.add(p)
	}
}

// sentenceHead makes a capital of the first letter.
func sentenceHead(text string) string { return strings.TrimSuffix(sentence(text), ".") }

// roomed turns it round: the grams that bring this room to a limit, the air it would
// take, the time to clear.
func (w work) roomed(l *list) {
	if len(w.air.sulfides) > 0 {
		w.roomedSulfide(l)
	} else if w.Room.VolumeM3 == 0 && len(w.fuming()) > 0 {
		l.add(Point{Code: "gas-room", Level: Caution, Source: practice,
			Text: "no room was given: give its volume and its air changes, so that the amounts that would foul its air can be told. " + sentenceHead(w.air.inRoom(w.Room)) + " is used for scale above."})
	}
	for _, o := range w.Limits {
		w.overridden(l, o)
	}
}

func (w work) roomedSulfide(l *list) {
	var b strings.Builder
	fmt.Fprintf(&b, "acid on so little would foul %s.", strings.TrimSuffix(w.air.inRoom(w.Room), ","))
	sources := []string{w.air.lowest.Cited()}
	for _, d := range w.air.sulfides {
		var list []string
		for _, g := range w.air.grams {
			if g.Substance != d.key() || g.Limit != w.air.lowest.List && g.Limit != "NIOSH REL ceiling" && g.Limit != "NIOSH IDLH" {
				continue
			}
			list = append(list, fmt.Sprintf("%s g to %s, %s ppm (%s)", two(g.Grams), g.Limit, measure.Plain(g.PPM), g.Averaging))
			if cited := g.Limit + ": " + g.Source + ", " + g.Date; !slices.ContainsFunc(sources, func(s string) bool { return strings.HasPrefix(s, cited) }) {
				sources = append(sources, cited)
			}
		}
		if len(list) > 0 {
			fmt.Fprintf(&b, " Of %s: %s.", d.label(), and(list))
		}
		if d.grams > 0 {
			fmt.Fprintf(&b, " The bath holds %s g of it.", two(d.grams))
		}
	}
	if len(w.air.flows) > 0 {
		f := w.air.flows[len(w.air.flows)-1]
		fmt.Fprintf(&b, " Air for %s, kept at the lowest of these, upper end of the band and mixing factor 3: %s m3/h; %s.", f.Scenario, two(f.M3H), f.Answer)
	}
	b.WriteString(" For acid in the bath no flow of air is an answer: the gas is there at once.")
	if e, ok := w.air.estimate("acid-all"); ok && e.ClearMin > 0 {
		fmt.Fprintf(&b, " Were all of it freed, this room would take about %s minutes to come down to the lowest limit, once no more comes off: nobody goes in before a meter has been read from outside.", two(e.ClearMin))
	}
	fmt.Fprintf(&b, " Estimates, %s.", gas.Verify)
	l.add(Point{Code: "gas-room", Level: Caution, Text: b.String(), Source: "dilution and room purge equations (University of Toledo ventilation notes), calculated; " + strings.Join(sources, "; ")})
}

// overridden says that a limit of the user's own is used, beside the shipped one.
func (w work) overridden(l *list, o gas.Override) {
	reason := plain(o.Reason)
	if len(Claims(reason)) > 0 {
		reason = "kept in the record and not repeated here, for it promises too much"
	}
	own, err := gas.With(o.Gas, []gas.Override{o})
	if err != nil {
		return
	}
	name := plain(o.List)
	text := fmt.Sprintf("for %s the limit %s of %s ppm was given in this shop, reason: %s.", o.Gas, name, measure.Plain(o.PPM), strings.TrimRight(reason, ". "))
	for _, old := range gas.Limits(o.Gas) {
		if old.List == name {
			text += fmt.Sprintf(" The list that ships has %s.", old)
			if old.Unit == "ppm" && o.PPM > old.Value {
				text += " The shop's own is higher: whoever set it answers for it."
			}
		}
	}
	if low, ok := gas.Lowest(own); ok {
		text += " The lowest counted with is now " + low.String() + "."
	}
	l.add(Point{Code: "limit-own", Level: Caution, Text: text, Source: "given by the user; " + listed(o.Gas)})
}

// listed cites the lowest shipped limit of a gas.
func listed(name string) string {
	if low, ok := gas.Lowest(gas.Limits(name)); ok {
		return low.Cited()
	}
	return practice
}

// gasesNamed names the gases to be looked out for.
func (w work) gasesNamed() string {
	var list []string
	add := func(yes bool, name string) {
		if yes {
			list = append(list, name)
		}
	}
	add(w.sulfidic() || len(w.air.sulfides) > 0, gas.HydrogenSulfide)
	add(w.any(agent.ammoniacal), gas.Ammonia)
	add(w.any(func(a agent) bool { return a.in(reagent.OxidizingAcid) || a.nitrate() && !a.in(reagent.SilverSalt) }), gas.NitrogenDioxide)
	add(w.any(of(reagent.Hypochlorite)), gas.Chlorine)
	add(w.any(of(reagent.Thiosulfate)), gas.SulfurDioxide)
	return and(list)
}

// meter asks for the meter, with the alarm at the chosen limit.
func (w work) meter(l *list) {
	named := w.gasesNamed()
	if named == "" {
		return
	}
	text := "a direct-reading meter for " + named + " at the height of the mouth and nose, tried with gas that day, alarm set to the limit you work by, heard over the fan."
	var sources []string
	for _, name := range []string{gas.HydrogenSulfide, gas.Ammonia, gas.NitrogenDioxide, gas.Chlorine, gas.SulfurDioxide} {
		if !strings.Contains(named, name) {
			continue
		}
		limits, err := gas.With(name, w.Limits)
		if low, ok := gas.Lowest(limits); ok && err == nil {
			text += " Lowest listed here for " + name + ": " + low.String() + "."
			sources = append(sources, low.Cited())
		}
	}
	l.add(Point{Code: "gas-meter", Level: Caution, Source: strings.Join(sources, "; "),
		Text: text + " After a high reading a sensor can stay blind for a while. A quiet meter is no permission."})
}
