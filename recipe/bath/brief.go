package bath

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// Brief is the sheet as a person at the bench reads it: few words, in the order of
// the work. Terminal, paper and tablet show the same.
type Brief struct {
	Title    string
	What     string   // pieces, metal, size
	Capitals []string // the two lines that could save a life
	Bath     string   // how much, how hot
	Pour     []string
	Ready    []string // beside the bath before the first dip
	OneByOne string   // how pieces go in and out by hand; else empty
	Rows     []Row    // loads and actions, in order
	Verdict  string
	Discard  string   // when the bath is waste; empty where no clock tells
	Better   string   // the change that brings most; empty if nothing does
	Moves    []string // assumptions that matter
	Steps    []string
	Warnings []string
}

// Row is a load, several that are alike, or an action between them.
type Row struct {
	Action string // what to do; empty for loads
	Loads  string // "3", "3 to 5"
	Pieces string
	Dip    string // "11 s", large
	At     string // "71 C"
	Band   string // "6 to 20 s"
	Number int    // of the first load
	Count  int    // of the loads
}

// Brief makes the brief sheet of a recipe in the units of the reader.
func (s *Sheet) Brief(r *recipe.Recipe, u measure.System) Brief {
	b := Brief{Title: r.Title, What: s.what(u), Capitals: Capitals(r)}
	if s.Coats == nil {
		b.Bath = fmt.Sprintf("%s at %s", u.Liquid(measure.Liters(s.Bath.VolumeL)), u.Both(s.Start()))
		if s.Bath.DepthMM > 0 {
			b.Bath += ", " + u.Ruler(measure.Millimeters(math.Round(s.Bath.DepthMM))) + " deep"
			if s.Bath.Vessel.Diameter > 0 {
				b.Bath += " in a round vessel"
			}
		}
		if run := s.Run; run != nil {
			b.Bath += map[plan.HeatKind]string{plan.NoHeat: ", no heater", plan.Kettle: ", kettle", plan.Plate: ", hot plate", plan.Thermostat: ", thermostat"}[run.Heat]
			if run.Lid {
				b.Bath += ", lid"
			}
			if run.Transfer == plan.ByHand {
				b.Bath += ", by hand"
			}
		}
	} else {
		b.Bath = u.Liquid(measure.Liters(s.Bath.VolumeL)) + " of solution"
	}
	b.Pour = mapped(s.Bath.Pour, func(p PourLine) string { return p.In(u) })
	b.Ready = mapped(s.Ready, func(n measure.Note) string { return n.In(u) })
	if slices.ContainsFunc(s.Events, func(e EventLine) bool { return len(e.Doses) > 0 }) {
		all := mapped(s.AllAmounts(), func(a reagent.Amount) string { return u.Of(a.Shown, a.Unit()) + " of " + a.Substance.Name })
		b.Ready = append(b.Ready, "have ready in total: "+strings.Join(all, ", "))
	}
	if s.Run != nil && s.Run.Transfer == plan.ByHand {
		b.OneByOne = OneByOne
	}
	b.Rows = s.rows(u)
	if s.Match != nil {
		b.Verdict = s.Sentence().In(u)
		if better := s.Run.Better; better != nil {
			b.Better = fmt.Sprintf("With %s: %d min", better.Words(), int(math.Ceil(better.Minutes)))
			if better.Baths != s.Run.Totals.Baths {
				b.Better += ", " + plural(better.Baths, "bath")
			}
			if better.Verdict != s.Match.Verdict {
				b.Better += ", " + string(better.Verdict)
			}
			b.Better += "."
		}
		b.Moves = mapped(s.Run.Moves, func(m plan.Move) string {
			value := func(x float64) string { return strings.TrimSpace(measure.Figures(x, 2) + " " + m.Unit) }
			text := fmt.Sprintf("%s may be %s, not %s", m.Name, value(m.To), value(m.From))
			switch from, to := math.Round(m.From), math.Round(m.To); {
			case m.Baths != m.Was:
				text += fmt.Sprintf(": then it takes %s, not %d", plural(m.Baths, "bath"), m.Was)
			case m.Unit != "s" || from != float64(m.WasS) || to != float64(m.DipS): // else it is said already
				text += fmt.Sprintf(": then the last dip is %d s, not %d s", m.DipS, m.WasS)
			}
			return text
		})
	}
	if life := s.BathLife(); life > 0 {
		b.Discard = "by the end of the plan, " + u.Time(life) + " after mixing"
	}
	if c := s.Coats; c != nil {
		b.Verdict = plural(c.Number, "coat")
		if c.FromNumber < c.ToNumber {
			b.Verdict += fmt.Sprintf(" (%d to %d)", c.FromNumber, c.ToNumber)
		}
		b.Verdict += ", " + u.Of(c.PerCoatML, "mL") + " a coat for all pieces."
		if c.WaitS > 0 {
			b.Verdict += " " + u.Time(measure.Seconds(c.WaitS)) + " between coats."
		}
	}
	b.Steps = mapped(r.Steps, func(step recipe.Step) string { return ShortStep(step, u) })
	b.Warnings = mapped(s.Warnings, func(w plan.Warning) string { return w.In(u) })
	return b
}

// OneByOne says how the pieces of a load go in and out by hand.
const OneByOne = "One by one: the first in is the first out, in the same order and pace."

// Start is the temperature at which the bath starts.
func (s *Sheet) Start() measure.Celsius {
	if s.Run != nil {
		return measure.Celsius(s.Run.StartC)
	}
	return measure.Celsius(s.Bath.TemperatureC)
}

func (s *Sheet) what(u measure.System) string {
	count := func(pieces, spares int) string {
		text := plural(pieces, "piece")
		if spares > 0 {
			text += " and " + plural(spares, "spare")
		}
		return text
	}
	if len(s.Kinds) == 0 {
		return fmt.Sprintf("%s, %s, %s, %s each", count(s.Pieces, s.Spares), s.Piece.Alloy, s.Piece.Shape, u.Area(measure.SquareCM(s.Piece.AreaCM2)))
	}
	return strings.Join(mapped(s.Kinds, func(k KindLine) string {
		return fmt.Sprintf("%s of %s (%s)", count(k.Pieces, k.Spares), k.Name, k.Piece.Alloy)
	}), "; ")
}

// Knows tells whether the dip times hold in a bath of so many C: by the law, or within half a
// degree of the recipe's temperatures.
func (s *Sheet) Knows(c float64) bool {
	return s.Run == nil || s.Run.Law != nil || c > s.Bath.FromC-0.5 && c < s.Bath.ToC+0.5
}

// rows folds the loads: those alike share a row, and so does a bath that goes as the first.
func (s *Sheet) rows(u measure.System) (all []Row) {
	var first []Row
	loads, events := s.Loads, s.Events
	actions := func(rows []Row, before int) []Row {
		for ; len(events) > 0 && events[0].AfterLoad < before; events = events[1:] {
			rows = append(rows, Row{Action: events[0].In(u), Number: events[0].AfterLoad})
		}
		return rows
	}
	for len(loads) > 0 {
		var rows []Row
		from, bath := loads[0].Number, loads[0].Bath
		all = actions(all, from)
		for len(loads) > 0 && loads[0].Bath == bath {
			rows = actions(rows, loads[0].Number)
			l, n := loads[0], 1
			alike := func(b plan.Load) bool {
				return l.Pieces == b.Pieces && l.Bath == b.Bath && l.DipS == b.DipS && s.Knows(l.TemperatureC) == s.Knows(b.TemperatureC) && math.Abs(l.TemperatureC-b.TemperatureC) < 3
			}
			for n < len(loads) && (len(events) == 0 || events[0].AfterLoad >= loads[n].Number) && alike(loads[n]) {
				n++
			}
			band := ""
			if l.HighS > l.LowS {
				if band = fmt.Sprintf("%d to %d s", l.LowS, l.HighS); l.LowS >= 120 {
					band = fmt.Sprintf("%d to %d min", l.LowS/60, (l.HighS+59)/60)
				}
			}
			if !s.Knows(l.TemperatureC) {
				band = "not known"
			}
			dip := fmt.Sprintf("%d s", l.DipS) // whole seconds up to two minutes: they are what a hand counts
			if l.DipS > 120 {
				dip = u.Time(measure.Seconds(l.DipS))
			}
			rows = append(rows, Row{Loads: fromTo(l.Number, n), Pieces: fmt.Sprint(l.Pieces), Dip: dip, At: wholeDegrees(l.TemperatureC, loads[n-1].TemperatureC, u), Band: band, Number: l.Number, Count: n})
			loads = loads[n:]
		}
		n := s.Loads[len(s.Loads)-len(loads)-1].Number - from + 1
		if bath == 1 {
			first = rows
		} else if n > 2 && len(rows) <= len(first) && slices.EqualFunc(rows, first[:len(rows)], func(a, b Row) bool {
			return a.Action == b.Action && a.Pieces == b.Pieces && a.Dip == b.Dip && a.Count == b.Count
		}) {
			rows = []Row{{Loads: fromTo(from, n), Dip: "as " + fromTo(first[0].Number, n), At: fmt.Sprintf("bath %d", bath), Number: from, Count: n}}
		}
		all = append(all, rows...)
	}
	return actions(all, math.MaxInt)
}

// Each lists the numbers of the loads in a row.
func (r Row) Each() (all []int) {
	for i := range r.Count {
		all = append(all, r.Number+i)
	}
	return all
}

func fromTo(first, n int) string {
	if n == 1 {
		return fmt.Sprint(first)
	}
	return fmt.Sprintf("%d to %d", first, first+n-1)
}

// wholeDegrees is the temperature of loads that share a row: of the first and the last.
func wholeDegrees(first, last float64, u measure.System) string {
	at := func(c float64) string {
		if u == measure.US {
			return u.Temperature(measure.Celsius((math.Round(c*1.8+32) - 32) / 1.8))
		}
		return u.Temperature(measure.Celsius(math.Round(c)))
	}
	if number, _, _ := strings.Cut(at(first), " "); at(first) != at(last) {
		return number + " to " + at(last)
	}
	return at(first)
}

// ShortStep says one step in a few words.
func ShortStep(s recipe.Step, u measure.System) string {
	words := []string{s.Do}
	if s.With != "" {
		name := s.With
		if sub, err := reagent.Find(s.With); err == nil {
			name = sub.Name
		}
		words = append(words, "in", name)
		if c := s.Concentration.At; c.PerL > 0 {
			words = append(words, u.Of(c.PerL, c.Unit()))
		}
	}
	if s.Baths > 1 {
		words = append(words, fmt.Sprintf("in %d tubs", s.Baths))
	}
	if s.Running {
		words = append(words, "in running water")
	}
	if s.HasWater {
		words = append(words, "at", u.Temperature(s.Water.At))
	}
	if s.Time.At > 0 {
		words = append(words, "for", u.Time(s.Time.At))
	}
	text := strings.Join(words, " ")
	if how, _, _ := strings.Cut(s.How, ";"); how != "" && len(text)+len(how) < 74 {
		text += ": " + how
	}
	return text
}

// Capitals returns the two lines that could save a life, by what is in the bath. They
// are the usual cautions, not all of them: the review has the rest.
func Capitals(r *recipe.Recipe) []string {
	has := func(groups ...reagent.Group) bool {
		return slices.ContainsFunc(r.Bath.Reagents, func(line recipe.Reagent) bool {
			sub, err := reagent.Find(line.Substance)
			return err == nil && slices.ContainsFunc(groups, sub.In)
		})
	}
	air := "HOOD ON AND TESTED BEFORE MIXING. SMELL IS NO WARNING. NEVER WORK ALONE."
	switch {
	case has(reagent.Sulfide):
		return []string{"NO ACID NEAR THIS BATH, ITS RINSES OR ITS WASTE: HYDROGEN SULFIDE KILLS.", air}
	case has(reagent.SilverSalt, reagent.Ammonia):
		return []string{"NO BLEACH NEAR AMMONIA. NO SILVER SALT KEPT WITH AMMONIA: IT EXPLODES.", air}
	case has(reagent.OxidizingAcid):
		return []string{"NITRIC FUMES KILL HOURS LATER. NO SULFIDE, NO OIL, NO RAGS NEAR IT.", air}
	case has(reagent.Acid):
		return []string{"ACID INTO WATER, NEVER WATER INTO ACID. NO SULFIDE AND NO BLEACH NEAR IT.", "NO SULFIDE-COLOURED PIECE IN THIS BATH: IT FREES HYDROGEN SULFIDE."}
	case has(reagent.Oxidizer):
		return []string{"NOTHING THAT BURNS NEAR IT: NO OIL, NO RAGS, NO SOLVENT.", air}
	}
	return []string{"GOGGLES AND GLOVES ON BEFORE ANYTHING IS MIXED. EYES: RINSE 30 MINUTES, CALL.", air}
}
