package shop

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"hepar/recipe/bath"
	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/bath/yield"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety"
	"hepar/recipe/safety/gas"
	"hepar/recipe/strict"
)

// entry is one setting: all that is known of it.
type entry struct {
	key     string
	example string  // its value in the template, as TOML
	help    string  // the remark behind it in the template
	unset   Setting // what counts without it
	read    reader
}

// reader reads and checks the value of an entry and stores it, whatever it notes: a file with
// findings makes no Shop.
type reader func(t strict.Table, e entry)

// group is one table of the file, or each table of a list.
type group struct {
	name    string // "balance"; empty for the top of the file
	help    string // the remark above it in the template
	entries []entry
	row     bool               // each table of a list, such as [[vessel]], is one setting
	done    func(strict.Table) // checks and keeps what no single entry shows; may be nil
}

var notSet, required = Setting{From: "not set"}, Setting{From: "required"}

func practice(value string) Setting { return Setting{"", value, "default: common practice, no source"} }
func assumed(value string) Setting  { return Setting{"", value, "default: assumed"} }

// groups is the table of all settings, in the order of the template. The ranges are bounds of
// good sense: common practice, no source; those of the room are as in heat and gas.
func groups(s *Shop) []group {
	b := &s.Bath
	var vessel Vessel
	var product reagent.Product
	var worker safety.Person
	var limit gas.Limit
	piece := Piece{Said: map[string]string{}}
	usual := bath.DefaultShop()
	usually := func(work string) string { return measure.Metric.Time(measure.Seconds(yield.Default[work] * 60)) }
	pieces := []entry{
		{"name", `"token-24"`, "", required, words(&piece.Name, 60, unless(isLong, "%s holds a space, a quote or an equals sign", `write one word, as in "token-24"`))},
		{"recipe", `"silver-black"`, "the usual one", notSet, words(&piece.Recipe, 80, text)},
	}
	for _, f := range PieceFlags {
		pieces = append(pieces, entry{f[0], fmt.Sprintf("%q", f[1]), "", notSet, func(t strict.Table, e entry) {
			piece.Said[e.key] = t.Text(e.key, 60, false, e.cure())
		}})
	}
	return []group{
		{"", "", []entry{
			{"name", `"Example Workshop"`, "", notSet, words(&s.Name, 80, text)},
			{"people", `["Ada Sample", "Ben Sample"]`, "all who work at the bench", notSet, list(&s.People, true)},
			{"person", `"Ada Sample"`, "who works at the bench if --by is not given", notSet, words(&s.Person, 60, text)},
			{"units", `"metric"`, `or "us"`, Setting{"", "metric", "default: metric"}, words(&s.Units, 60, oneOf(measure.Metric, measure.US))},
		}, false, func(t strict.Table) { s.member(t, "person", s.Person) }},
		{"balance", "", []entry{
			{"readability", `"0.1 g"`, "the smallest step of the balance", practice(measure.Metric.Scale(usual.ReadabilityG)), figure(&b.ReadabilityG, measure.ParseMass, 0, 100, true, "g")},
			{"cylinder", `"1 mL"`, "the smallest step of the measuring cylinder", practice(measure.Plain(usual.CylinderML) + " mL"), figure(&b.CylinderML, milliliters, 0, 1000, true, "mL")},
		}, false, nil},
		{"water", "", []entry{
			{"hot", `"92 C"`, "the hottest water at hand, as poured", practice(s.Units.Temperature(usual.HotWater)), figure(&b.HotWater, measure.ParseTemperature, 0, 100, false, "C")},
			{"cold", `"12 C"`, "", practice(s.Units.Temperature(usual.ColdWater)), figure(&b.ColdWater, measure.ParseTemperature, 0, 100, false, "C")},
		}, false, func(t strict.Table) {
			if b.Known["water.hot"] && b.Known["water.cold"] && b.HotWater > 0 && b.HotWater <= b.ColdWater {
				t.AtValue(t.Place("hot"), "check whether the two are swapped", "hot is not warmer than cold")
			}
		}},
		{"room", "", []entry{
			{"temperature", `"19 C"`, "", practice(s.Units.Temperature(usual.Ambient)), figure(&b.Ambient, measure.ParseTemperature, -20, 50, false, "C")},
			{"humidity", `"50 %"`, "", practice(measure.Plain(usual.HumidityPercent) + " %"), figure(&b.HumidityPercent, percent, 0, 100, false, "%")},
			{"volume", `"32 m3"`, "length x width x height", notSet, figure(&s.Room.VolumeM3, cubicMeters, 2, 100_000, false, "m3")},
			{"air_changes", `2`, "per hour, measured; leave it out if you do not know", notSet, number(&s.Room.AirChangesPerHour, 0, 200, true)},
			{"hood", `false`, "capture at the source, ducted outdoors; it moves air of 0.4 m/s over the bath, if air_speed is not given", notSet, func(t strict.Table, e entry) {
				if t.Flag(e.key) {
					b.SpeedMS = heat.Hood
				}
			}},
		}, false, nil},
		{"vessel", "One for each vessel, by the name that --vessel takes.", []entry{
			{"name", `"tub"`, "", required, words(&vessel.Name, 60, unless(isSize, "%s reads like a size", "use a name in words, and put the size under inside"))},
			{"inside", `"200x140x90mm"`, `length, width, height; or diameter, height: "150x180mm"`, required, words(&vessel.Vessel, 60, plan.ParseVessel)},
			{"material", `"glass"`, "borosilicate, enamel, glass, glazed, plastic or steel", notSet, words(&vessel.Material, 60, oneOf(plan.Materials()...))},
			{"lid", `true`, "", notSet, flag(&vessel.Lid)},
			{"heater", `"300 W"`, "the steady power of a hot plate under it", notSet, figure(&vessel.HeaterW, measure.ParseWatts, 0, 10_000, true, "W")},
		}, true, func(t strict.Table) {
			vessel.Name = t.Written("name")
			s.Vessels[vessel.Name], vessel = vessel, Vessel{}
		}},
		{"heat", "", []entry{
			{"bath", `"plate:500W"`, "none, kettle:1.5L, plate:500W or thermostat", assumed(string(plan.NoHeat)), words(&s.Heat, 60, plan.ParseHeat)},
			{"air_speed", `0.4`, "over the bath in m/s; 0.3 to 0.5 in front of a hood that draws well", assumed("0.4 at a hood"), number(&b.SpeedMS, 0, 5, false)},
		}, false, nil},
		{"hands", "", []entry{
			{"by_hand", `false`, "pieces go in and out one by one, not in a strainer or on wires", notSet, flag(&s.ByHand)},
			{"seconds_per_piece", `2`, "by hand, to put one piece in, and to take it out again", assumed(measure.Plain(plan.DefaultPace)), number(&b.Pace, 0, 60, true)},
			{"rack", `24`, "pieces that one rack holds", notSet, func(t strict.Table, e entry) { s.Rack = t.Whole(e.key, 1, 10_000, 0, false) }},
		}, false, nil},
		{"piece", "One for each piece that comes again, by the name that --piece takes. Each key is a flag of hepar prepare.", pieces, true, func(strict.Table) {
			s.Pieces[piece.Name], piece = piece, Piece{Said: map[string]string{}}
		}},
		{"drain", "", []entry{
			{"habit", `"poor"`, `well, poor or very poor; or the liquid that clings, such as "80 mL/m2"`, assumed("poor, " + s.Units.Spread(usual.Drain)), words(&b.Drain, 60, habit)},
		}, false, nil},
		{"minutes", "Working time on one piece; setup is for the whole job.", []entry{
			{"cleaning", `"1 min"`, "", practice(usually(yield.Clean)), s.minutes(yield.Clean)},
			{"relief_by_hand", `"2 min"`, "of one piece; time ten of them", Setting{"", usually(yield.Relieve), "default: assumed, for each cm2 of a piece"}, s.minutes(yield.Relieve)},
			{"relief_by_machine", `"30 s"`, "", practice(usually(yield.Machine)), s.minutes(yield.Machine)},
			{"coating", `"30 s"`, "a square decimetre, one coat", practice(usually(yield.Coat)), s.minutes(yield.Coat)},
			{"sealing", `"30 s"`, "", practice(usually(yield.Seal)), s.minutes(yield.Seal)},
			{"inspection", `"30 s"`, "", practice(usually(yield.Inspect)), s.minutes(yield.Inspect)},
			{"rework", `"3 min"`, "", practice(usually(yield.Rework)), s.minutes(yield.Rework)},
			{"setup", `"15 min"`, "from the kettle to the first dip", assumed(usually(yield.Setup)), s.minutes(yield.Setup)},
		}, false, nil},
		{"substance", "One for each product that recipes may name and hepar does not know. Copy it from the SDS; hepar cannot check what stands there.", []entry{
			{"name", `"Nordlack 12"`, "as on the label", required, words(&product.Name, 60, text)},
			{"family", `["solvent"]`, "what it is, sections 3, 7 and 10: sulfide, acid, caustic, oxidizer, solvent, ... or neutral", required, list(&product.Families, false)},
			{"state", `"liquid"`, "or solid", required, words(&product.State, 60, oneOf("liquid", "solid"))},
			{"sds", `"2025-03-01"`, "date of the SDS: year, month, day, in quotes", required, words(&product.SDS, 60, unless(isNoDay, "%s is not a day", `write it like "2025-03-01": year, month, day, in quotes`))},
			{"codes", `"H225 H319"`, "section 2", notSet, words(&product.Codes, 80, reagent.ParseCodes)},
			{"signal", `"Danger"`, "or Warning", notSet, words(&product.Signal, 60, oneOf("Danger", "Warning"))},
			{"gas_with_acid", `"hydrogen sulfide"`, "section 10; leave it out if acid frees none", notSet, words(&product.Gas, 60, text)},
			{"gloves", `"butyl"`, "section 8", notSet, words(&product.Gloves, 80, text)},
			{"storage", `"flammables cabinet"`, "section 7", notSet, words(&product.Storage, 80, text)},
		}, true, func(t strict.Table) {
			found, err := product.Substance()
			if err != nil {
				t.AtKey(t.At, fault.CureOf(err), "[[substance]] %s: %s", strict.Excerpt(product.Name), err.Error())
			}
			s.Substances, product = append(s.Substances, found), reagent.Product{}
		}},
		{"rates", "All money in one currency, whatever you call it.", []entry{
			{"labour", `"38 EUR per h"`, "", notSet, figure(&b.LabourPerHour, s.price("h"), 0, 1e6, false, "")},
			{"reagent", `{ liver-of-sulfur = "60 EUR per kg" }`, "or a line for each substance under [rates.reagent]", notSet, s.prices},
		}, false, nil},
		{"match", "", []entry{
			{"limit", `"10 %"`, "the colour tolerance, in place of that of the recipes: how much shorter or longer still looks the same", notSet, figure(&b.MatchPercent, percent, 0, 99, true, "%")},
		}, false, nil},
		{"worker", "What applies to a person; each line adds points to a review. Keep this file to yourself.", []entry{
			{"name", `"Ben Sample"`, "", required, words(&worker.Name, 60, text)},
			{"no_smell", `false`, "cannot smell rotten eggs, or not reliably", notSet, flag(&worker.NoSmell)},
			{"pregnant", `false`, "", notSet, flag(&worker.Pregnant)},
			{"lungs", `false`, "asthma or another disease of the lungs", notSet, flag(&worker.Lungs)},
			{"alone", `false`, "works without a person near", notSet, flag(&worker.Alone)},
			{"new", `true`, "has not done this before", notSet, flag(&worker.New)},
		}, true, func(t strict.Table) {
			s.member(t, "name", worker.Name)
			s.Workers, worker = append(s.Workers, worker), safety.Person{}
		}},
		{"limit", "An exposure limit that you keep to; it is printed with its reason.", []entry{
			{"gas", `"hydrogen sulfide"`, "", required, words(&limit.Gas, 60, text)},
			{"list", `"our insurer"`, "whose limit it is", required, words(&limit.List, 80, text)},
			{"ppm", `1`, "", required, number(&limit.Value, 0, 10_000, true)},
			{"reason", `"asked for in the contract"`, "why you use it; the review keeps it", required, words(&limit.Reason, 400, text)},
			{"date", `"2025-03-01"`, "year, month, day, in quotes", notSet, words(&limit.Date, 60, unless(isNoDay, "%s is not a day", `write it like "2025-03-01": year, month, day, in quotes`))},
		}, true, func(strict.Table) { s.Limits, limit = append(s.Limits, limit), gas.Limit{} }},
	}
}

func (e entry) cure() string { return fmt.Sprintf("write %s = %s", e.key, e.example) }

// figure is text with a unit, which parse reads, within limits as [strict.Between] has them.
func figure[V ~float64](at *V, parse func(string) (V, error), low, high float64, above bool, unit string) reader {
	return func(t strict.Table, e entry) {
		*at, _ = strict.Figure(t, e.key, strings.Trim(e.example, `"`), strict.Between(parse, low, high, above, unit))
	}
}

// minutes is the time that a work takes, in min.
func (s *Shop) minutes(work string) reader {
	return func(t strict.Table, e entry) {
		var took float64
		figure(&took, func(text string) (float64, error) {
			v, err := measure.ParseDuration(text)
			return v.Minutes(), err
		}, 0, 24*60, false, "min")(t, e)
		s.Bath.Minutes[work] = took
	}
}

func milliliters(text string) (float64, error) {
	if q, err := measure.Parse(text); err == nil && q.Unit.Ambiguous() {
		return 0, fault.Usagef("%s may be of two sizes", strict.Excerpt(text)).Try("write mL, L or m3; or say which, such as US gal or imp gal")
	}
	v, err := measure.ParseVolume(text)
	return v.Milliliters(), err
}

func cubicMeters(text string) (float64, error) {
	v, err := milliliters(text)
	return v / 1e6, err
}

func percent(text string) (float64, error) {
	if !strings.Contains(text, "%") { // 0.5 could be a half or half a percent
		return 0, fault.Usagef("%s has no percent sign", strict.Excerpt(text)).Try(`write it like "10 %%"`)
	}
	part, err := measure.ParseRatio(text)
	return part * 100, err
}

func number(at *float64, low, high float64, above bool) reader {
	return func(t strict.Table, e entry) { *at, _ = t.Number(e.key, low, high, above) }
}

func flag(at *bool) reader {
	return func(t strict.Table, e entry) { *at = t.Flag(e.key) }
}

// words is text of at most so many characters, which parse reads.
func words[V any](at *V, most int, parse func(string) (V, error)) reader {
	return func(t strict.Table, e entry) {
		if text := t.Text(e.key, most, false, e.cure()); text != "" {
			v, err := parse(text)
			if err != nil {
				t.AtValue(t.Place(e.key), fault.CureOf(err), "%s: %s", e.key, err.Error())
			}
			*at = v
		}
	}
}

func text(s string) (string, error) { return s, nil }

func oneOf[V any](choice ...V) func(string) (V, error) {
	return func(text string) (none V, err error) {
		var words []string
		for _, v := range choice {
			if words = append(words, fmt.Sprint(v)); fmt.Sprint(v) == text {
				return v, nil
			}
		}
		return none, fault.Usagef("%s is unknown", strict.Excerpt(text)).Try("%swrite one of: %s", strict.Meant(text, words), strings.Join(words, ", "))
	}
}

// unless takes any text but the wrong one, which the message quotes.
func unless(wrong func(string) bool, message, cure string) func(string) (string, error) {
	return func(text string) (string, error) {
		if wrong(text) {
			return "", fault.Usagef(message, strict.Excerpt(text)).Try("%s", cure)
		}
		return text, nil
	}
}

func isNoDay(text string) bool { _, err := time.Parse(time.DateOnly, text); return err != nil }
func isSize(text string) bool  { _, err := plan.ParseVessel(text); return err == nil }
func isLong(text string) bool  { return strings.ContainsAny(text, " \t\"'=") }

// habit reads a word for how well pieces drain, or the liquid that clings to them.
func habit(text string) (measure.MillilitersPerSquareM, error) {
	if strings.ContainsAny(text, "0123456789") {
		return strict.Between(measure.ParseSpread, 0, 1000, true, "mL/m2")(text) // cups hold up to about that
	}
	return rinse.Habit(strings.ReplaceAll(text, " ", "-"))
}

// list is texts, each of which stands once.
func list(at *[]string, empty bool) reader {
	return func(t strict.Table, e entry) {
		all, where := t.List(e.key, 60, true, empty, e.cure())
		for i, one := range all {
			if index(all[:i], one) >= 0 {
				t.AtValue(where[i], "keep it once", "%s is listed twice", strict.Excerpt(one))
			}
		}
		*at = all
	}
}

func index(list []string, name string) int {
	return slices.IndexFunc(list, func(one string) bool { return strings.EqualFold(one, name) })
}

// member notes a name that is not on the list of the people, under which no review would heed
// a flag; without a list it adds the name to the people.
func (s *Shop) member(t strict.Table, key, name string) {
	switch {
	case name == "" || index(s.People, name) >= 0:
	case s.Bath.Known["people"]:
		t.AtValue(t.Place(key), strict.Meant(name, s.People)+"write it as in people, or add it there", "%s is not one of the people", strict.Excerpt(name))
	default:
		s.People = append(s.People, name)
	}
}

// price is a plain decimal, one word or sign for the money or none, and what it pays for: "38
// EUR per h", "38/h", "60.5 EUR/kg". All prices share one currency.
func (s *Shop) price(per string) func(string) (float64, error) {
	return func(text string) (float64, error) {
		form := regexp.MustCompile(`^([0-9]{1,6}(?:\.[0-9]{1,6})?) *(\pL{0,12}|\p{Sc}) *(?:/ *| per )(h|hour|kg)$`)
		parts := form.FindStringSubmatch(strings.TrimSpace(text))
		if parts == nil || strings.TrimSuffix(parts[3], "our") != per {
			return 0, fault.Usagef("%s is not a price per %s", strict.Excerpt(text), per).
				Try("write it like \"38 EUR per %s\" or \"38 per %s\", with a decimal point and below a million", per, per)
		}
		if s.rated == "" {
			s.rated, s.Currency = text, parts[2]
		}
		if s.Currency != parts[2] {
			return 0, fault.Usagef("in %s, but %s is in %s", cmp.Or(parts[2], "no currency"), s.rated, cmp.Or(s.Currency, "no currency")).
				Try("write all rates in one currency; hepar converts none")
		}
		return strconv.ParseFloat(parts[1], 64)
	}
}

func (s *Shop) prices(t strict.Table, e entry) {
	in, _ := t.Sub(e.key, "[rates."+e.key+"]")
	s.Bath.PricePerKG = map[string]float64{}
	for _, id := range in.Keys() {
		own := slices.ContainsFunc(s.Substances, func(one reagent.Substance) bool { return one.ID == id })
		if _, err := reagent.Find(id); err != nil && !own {
			in.AtKey(in.Place(id), fault.CureOf(err), "%s", err.Error())
		}
		s.Bath.PricePerKG[id], _ = strict.Figure(in, id, "60 EUR per kg", s.price("kg"))
	}
}
