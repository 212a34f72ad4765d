package main

import (
	"fmt"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
)

// printSheet prints the batch sheet for a person at the bench.
func printSheet(e *env, u measure.System, d document, r *recipe.Recipe) {
	s := d.Sheet
	e.say("%s\n", e.heading(strings.ToUpper(oneLine(r.Title))))
	e.say("%s", wrap("", fmt.Sprintf("%s, revision %d, %s. %s", r.Slug, r.Revision, shortDigest(r.Digest), r.Look)))
	if d.Number != "" {
		e.say("%s\n", e.heading("Batch "+d.Number+" is planned in the journal."))
	}
	e.say("\n%s", wrap("", piecesLine(u, s)))
	printAlarms(e, d.Safety)
	printGuard(e, r)
	printMix(e, u, s, r)
	printHeat(e, u, s)
	printLoads(e, u, s)
	printMatch(e, u, s)
	printSteps(e, u, r)
	printRinses(e, u, s)
	printWork(e, u, s)
	printWarnings(e, u, s)
	if len(d.Working) > 0 {
		printWorking(e, u, d)
	}
	printAssumptions(e, u, s)
	e.say("\n%s", wrap("", "Have the SDS of every reagent at hand: it and your local rules decide over anything printed here. "+
		"Read the safety steps before anything is mixed: hepar review "+orElse(d.Number, r.Slug)+"."))
}

func orElse(text, fallback string) string {
	if text == "" {
		return fallback
	}
	return text
}

func shortDigest(digest string) string {
	if len(digest) < 19 {
		return digest
	}
	return digest[:19]
}

func piecesLine(u measure.System, s *bath.Sheet) string {
	if len(s.Kinds) > 0 {
		var kinds []string
		for _, k := range s.Kinds {
			kinds = append(kinds, fmt.Sprintf("%s of %s (%s, %s, %s each)", andSpares(fmt.Sprint(k.Pieces), k.Spares), k.Name, k.Piece.Alloy, k.Piece.Shape, u.Area(measure.SquareCM(k.Piece.AreaCM2))))
		}
		return fmt.Sprintf("%s of %d kinds: %s; %s in all.", andSpares(plural(s.Pieces, "piece"), s.Spares), len(s.Kinds), strings.Join(kinds, "; "), u.Area(measure.SquareCM(s.MetalAreaDM*100)))
	}
	text := andSpares(plural(s.Pieces, "piece"), s.Spares)
	text += fmt.Sprintf(" of %s, %s: %s each", s.Piece.Alloy, s.Piece.Shape, u.Area(measure.SquareCM(s.Piece.AreaCM2)))
	if s.Piece.MassG > 0 {
		text += ", " + u.Of(s.Piece.MassG, "g")
	}
	text += fmt.Sprintf("; %s in all.", u.Area(measure.SquareCM(s.MetalAreaDM*100)))
	if s.Spares == 0 {
		text += " No spares are planned (3 to 5 % is common practice)."
	}
	return text
}

// andSpares adds the spares to a number of pieces, where there are any.
func andSpares(pieces string, spares int) string {
	if spares == 0 {
		return pieces
	}
	return pieces + " and " + plural(spares, "spare")
}

// printAlarms puts what is graver than a caution at the top of the sheet.
func printAlarms(e *env, points []safety.Point) {
	for _, p := range points {
		if p.Level != safety.Caution {
			e.say("%s", e.alarm(wrap(strings.ToUpper(string(p.Level))+": ", p.Text)))
		}
	}
}

// printGuard is the short of the safety review, where it cannot be overlooked.
func printGuard(e *env, r *recipe.Recipe) {
	e.say("\n%s\n", e.heading("BEFORE YOU START"))
	t := table{}
	if len(r.Hazards.Gas) > 0 {
		t.add("gas", strings.Join(r.Hazards.Gas, ", "))
	}
	t.add("air", r.Hazards.Ventilation)
	t.add("wear", strings.Join(r.Hazards.PPE, "; "))
	t.add("waste", r.Hazards.Disposal)
	t.write(e.out, "  ")
}

func printMix(e *env, u measure.System, s *bath.Sheet, r *recipe.Recipe) {
	e.say("\n%s\n", e.heading("MIX"))
	t := table{right: []bool{false, true}}
	t.add(star(s, "bath", "bath load", "largest bath on a bench"), u.Liquid(measure.Liters(s.Bath.VolumeL)), bathText(u, s))
	t.add("temperature", u.Both(measure.Celsius(s.Bath.TemperatureC)), between(u.Temperature(measure.Celsius(s.Bath.FromC)), u.Temperature(measure.Celsius(s.Bath.ToC))))
	w := s.Bath.Water
	t.add(star(s, "hot water", "hot water", "cold water"), u.Liquid(measure.Liters(w.HotL)), "at "+u.Both(measure.Celsius(w.HotC))+", first into the vessel")
	t.add(star(s, "cold water", "hot water", "cold water"), u.Liquid(measure.Liters(w.ColdL)), "at "+u.Both(measure.Celsius(w.ColdC)))
	for _, line := range s.Bath.Reagents {
		amount, note := reagentText(u, line)
		t.add(star(s, line.Name, "balance readability"), amount, note)
	}
	if r.Dip != nil {
		text := between(u.Time(r.Dip.Time.From), u.Time(r.Dip.Time.To))
		if r.Dip.Dips > 1 {
			text += fmt.Sprintf("; over %d dips together", r.Dip.Dips)
		}
		if r.Dip.StopAt != "" {
			text += "; stop at " + r.Dip.StopAt
		}
		t.add("time in the bath", u.Time(r.Dip.Time.At), strings.TrimPrefix(text, "; "))
	}
	if c := s.Coats; c != nil {
		t.add("coats", fmt.Sprint(c.Number), fmt.Sprintf("(%d to %d), %s each: %s a coat for all pieces", c.FromNumber, c.ToNumber,
			u.Spread(measure.MillilitersPerSquareM(c.SpreadMLM2)), u.Of(c.PerCoatML, "mL")))
		if c.WaitS > 0 {
			t.add("between coats", u.Time(measure.Seconds(c.WaitS)), "")
		}
	}
	t.write(e.out, "  ")
}

// between is a range in brackets, a unit that both ends share at its end only.
func between(from, to string) string {
	if from == to {
		return ""
	}
	number, unit, _ := strings.Cut(from, " ")
	if _, other, _ := strings.Cut(to, " "); other == unit && !strings.ContainsAny(unit, "0123456789(") {
		from = number
	}
	return "(" + from + " to " + to + ")"
}

// given prints a figure as somebody wrote it, and a long one to three figures.
func given(x float64) string { return atMost(x, 3) }

// atMost prints a short figure as it is, and rounds a longer one to so many figures.
func atMost(x float64, figures int) string {
	if text := measure.Plain(x); len(text) <= figures+3 {
		return text
	}
	return measure.Figures(x, figures)
}

var limitWords = map[string]string{
	"volume":  "as asked for",
	"vessel":  "limited by the vessel: a quarter of its height stays free",
	"cover":   "limited by depth: each piece covered by ",
	"load":    "limited by the metal in at once",
	"reagent": "limited by the reagent at hand",
	"bench":   "limited by what a bench carries; give --vessel or --volume",
	"area":    "for the area and the coats",
}

func bathText(u measure.System, s *bath.Sheet) string {
	text := limitWords[s.Bath.LimitedBy]
	if s.Bath.LimitedBy == "cover" {
		text += u.Length(bath.CoverMM)
	}
	if s.Bath.DepthMM > 0 {
		text = u.Length(measure.Millimeters(s.Bath.DepthMM)) + " deep; " + text
	}
	return text
}

func reagentText(u measure.System, line bath.ReagentLine) (amount, note string) {
	switch {
	case line.Grams != nil:
		amount = u.Scale(measure.Grams(*line.Grams))
	case line.Milliliters != nil:
		amount = u.Of(*line.Milliliters, "mL")
	}
	var parts []string
	if line.Form != "" {
		parts = append(parts, line.Form)
	}
	if line.Grams != nil && line.Milliliters != nil {
		parts = append(parts, "that is "+u.Of(*line.Milliliters, "mL"))
	}
	if line.PurityPercent > 0 {
		parts = append(parts, given(line.PurityPercent)+" % pure")
	}
	if made := line.Makes(); made.At.PerL > 0 {
		parts = append(parts, "makes "+rangeText(u, made))
	}
	parts = append(parts, "reading +/- "+measure.Figures(line.ReadingPercent, 1)+" %")
	return amount, strings.Join(parts, ", ")
}
