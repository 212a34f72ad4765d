package shop

import (
	"fmt"

	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/plan"
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
	example string // its value in the template, as TOML
	help    string // the remark behind it in the template
	unset   string // what counts without it: Practice, Assumed, NotSet, metric or required
	value   value
}

// group is one table of the file, or each table of a list.
type group struct {
	name    string // "balance"; empty for the top of the file
	help    string // the remark above it in the template
	entries []entry
	row     bool               // each table of a list, such as [[vessel]], is one setting
	done    func(strict.Table) // checks and keeps what no single entry shows; may be nil
}

// Words for where a value comes from that is not in the file.
const (
	Practice = "default: common practice, no source"
	Assumed  = "default: assumed"
	NotSet   = "not set"
	metric   = "default: metric"
	required = "required"
)

// groups is the table of all settings, in the order of the template. The ranges are bounds of
// good sense: common practice, no source; those of the room are as in heat and gas.
func groups(s *Shop) []group {
	b := &s.Bath
	var vessel Vessel
	var product reagent.Product
	var worker safety.Person
	var limit gas.Limit
	piece := Piece{Said: map[string]string{}}
	celsius := func(at *measure.Celsius, low, high float64) value {
		return figure(at, measure.ParseTemperature, low, high, false, "C").shownAs(func() string { return s.Units.Temperature(*at) })
	}
	pieces := []entry{
		{"name", `"token-24"`, "", required, words(&piece.Name, 60, unless(isLong, "%s holds a space, a quote or an equals sign", `write one word, as in "token-24"`))},
		{"recipe", `"silver-black"`, "the usual one", NotSet, words(&piece.Recipe, 80, text)},
	}
	for _, f := range PieceFlags {
		pieces = append(pieces, entry{f[0], fmt.Sprintf("%q", f[1]), "", NotSet, value{read: func(t strict.Table, e entry) {
			piece.Said[e.key] = t.Text(e.key, 60, false, e.cure())
		}}})
	}
	return []group{
		{"", "", []entry{
			{"name", `"Example Workshop"`, "", NotSet, words(&s.Name, 80, text)},
			{"people", `["Ada Sample", "Ben Sample"]`, "all who work at the bench", NotSet, list(&s.People, true)},
			{"person", `"Ada Sample"`, "who works at the bench if --by names nobody", NotSet, words(&s.Person, 60, text)},
			{"units", `"metric"`, `or "us"`, metric, words(&s.Units, 60, oneOf(measure.Metric, measure.US))},
		}, false, func(t strict.Table) { s.member(t, "person", s.Person) }},
		{"balance", "", []entry{
			{"readability", `"0.1 g"`, "the smallest step of the balance", Practice, figure(&b.ReadabilityG, measure.ParseMass, 0, 100, true, "g")},
			{"cylinder", `"1 mL"`, "the smallest step of the measuring cylinder", Practice, figure(&b.CylinderML, milliliters, 0, 1000, true, "mL")},
		}, false, nil},
		{"water", "", []entry{
			{"hot", `"92 C"`, "the hottest water there is, as poured", Practice, celsius(&b.HotWater, 0, 100)},
			{"cold", `"12 C"`, "", Practice, celsius(&b.ColdWater, 0, 100)},
		}, false, func(t strict.Table) {
			if b.Known["water.hot"] && b.Known["water.cold"] && b.HotWater > 0 && b.HotWater <= b.ColdWater {
				t.AtValue(t.Place("hot"), "check whether the two are swapped", "hot is not warmer than cold")
			}
		}},
		{"room", "", []entry{
			{"temperature", `"19 C"`, "", Practice, celsius(&b.Ambient, -20, 50)},
			{"humidity", `"50 %"`, "", Practice, figure(&b.HumidityPercent, percent, 0, 100, false, "%")},
			{"volume", `"32 m3"`, "length x width x height", NotSet, figure(&s.Room.VolumeM3, cubicMeters, 2, 100_000, false, "m3")},
			{"air_changes", `2`, "per hour, measured; leave it out if you do not know", NotSet, number(&s.Room.AirChangesPerHour, 0, 200, true)},
			{"hood", `false`, "capture at the source, ducted outdoors; it moves air of 0.4 m/s over the bath, if air_speed is not given", NotSet, value{read: func(t strict.Table, e entry) {
				if t.Flag(e.key) {
					b.SpeedMS = heat.Hood
				}
			}}},
		}, false, nil},
		{"vessel", "One for each vessel, by the name that --vessel takes.", []entry{
			{"name", `"tub"`, "", required, words(&vessel.Name, 60, unless(isSize, "%s reads like a size", "use a name in words, and put the size under inside"))},
			{"inside", `"200x140x90mm"`, `length, width, height; or diameter, height: "150x180mm"`, required, words(&vessel.Vessel, 60, plan.ParseVessel)},
			{"material", `"glass"`, "borosilicate, enamel, glass, glazed, plastic or steel", NotSet, words(&vessel.Material, 60, oneOf(plan.Materials()...))},
			{"lid", `true`, "", NotSet, flag(&vessel.Lid)},
			{"heater", `"300 W"`, "the steady power of a hot plate under it", NotSet, figure(&vessel.HeaterW, measure.ParseWatts, 0, 10_000, true, "W")},
		}, true, func(t strict.Table) {
			vessel.Name = t.Written("name")
			s.Vessels[vessel.Name], vessel = vessel, Vessel{}
		}},
		{"heat", "", []entry{
			{"bath", `"plate:500W"`, "none, kettle:1.5L, plate:500W or thermostat", Assumed, words(&s.Heat, 60, plan.ParseHeat).shownAs(func() string { return string(plan.NoHeat) })},
			{"air_speed", `0.4`, "over the bath in m/s; 0.3 to 0.5 before a hood that draws well", Assumed, number(&b.SpeedMS, 0, 5, false)},
		}, false, nil},
		{"hands", "", []entry{
			{"by_hand", `false`, "pieces go in and out one by one, not in a strainer or on wires", NotSet, flag(&s.ByHand)},
			{"seconds_per_piece", `2`, "by hand, to put one piece in, and to take it out again", Assumed, number(&b.Pace, 0, 60, true)},
			{"rack", `24`, "pieces that one rack holds", NotSet, stored(&s.Rack, func(t strict.Table, e entry) int { return t.Whole(e.key, 1, 10_000, 0, false) })},
		}, false, nil},
		{"piece", "One for each piece that comes again, by the name that --piece takes. Each key is a flag of hepar prepare.", pieces, true, func(strict.Table) {
			s.Pieces, piece = append(s.Pieces, piece), Piece{Said: map[string]string{}}
		}},
		{"drain", "", []entry{
			{"habit", `"poor"`, `well, poor or very poor; or the liquid that clings, such as "80 mL/m2"`, Assumed, words(&b.Drain, 60, habit).shownAs(func() string { return "poor, " + s.Units.Spread(b.Drain) })},
		}, false, nil},
		{"minutes", "Working time on one piece; setup is for the whole job.", []entry{
			{"cleaning", `"1 min"`, "", Practice, s.minutes(yield.Clean)},
			{"relief_by_hand", `"2 min"`, "of one piece; time ten of them", "default: assumed, for each cm2 of a piece", s.minutes(yield.Relieve)},
			{"relief_by_machine", `"30 s"`, "", Practice, s.minutes(yield.Machine)},
			{"coating", `"30 s"`, "a square decimetre, one coat", Practice, s.minutes(yield.Coat)},
			{"sealing", `"30 s"`, "", Practice, s.minutes(yield.Seal)},
			{"inspection", `"30 s"`, "", Practice, s.minutes(yield.Inspect)},
			{"rework", `"3 min"`, "", Practice, s.minutes(yield.Rework)},
			{"setup", `"15 min"`, "from the kettle to the first dip", Assumed, s.minutes(yield.Setup)},
		}, false, nil},
		{"substance", "One for each product that recipes may name and hepar does not know. Copy it from the SDS; hepar cannot check what stands there.", []entry{
			{"name", `"Nordlack 12"`, "as on the label", required, words(&product.Name, 60, text)},
			{"family", `["solvent"]`, "what it is, sections 3, 7 and 10: sulfide, acid, caustic, oxidizer, solvent, ... or neutral", required, list(&product.Families, false)},
			{"state", `"liquid"`, "or solid", required, words(&product.State, 60, oneOf("liquid", "solid"))},
			{"sds", `"2025-03-01"`, "date of the SDS: year, month, day, in quotes", required, words(&product.SDS, 60, unless(isNoDay, "%s is not a day", `write it like "2025-03-01": year, month, day, in quotes`))},
			{"codes", `"H225 H319"`, "section 2", NotSet, words(&product.Codes, 80, reagent.ParseCodes)},
			{"signal", `"Danger"`, "or Warning", NotSet, words(&product.Signal, 60, oneOf("Danger", "Warning"))},
			{"gas_with_acid", `"hydrogen sulfide"`, "section 10; leave it out if acid frees none", NotSet, words(&product.Gas, 60, text)},
			{"gloves", `"butyl"`, "section 8", NotSet, words(&product.Gloves, 80, text)},
			{"storage", `"flammables cabinet"`, "section 7", NotSet, words(&product.Storage, 80, text)},
		}, true, func(t strict.Table) {
			found, err := product.Substance()
			if err != nil {
				t.AtKey(t.Here(), fault.CureOf(err), "[[substance]] %s: %s", strict.Excerpt(product.Name), err.Error())
			}
			s.Substances, product = append(s.Substances, found), reagent.Product{}
		}},
		{"rates", "All money in one currency, whatever you call it.", []entry{
			{"labour", `"38 EUR per h"`, "", NotSet, quantity(&b.LabourPerHour, s.price("h"))},
			{"reagent", `{ liver-of-sulfur = "60 EUR per kg" }`, "or a line for each substance under [rates.reagent]", NotSet, value{read: s.prices}},
		}, false, nil},
		{"match", "", []entry{
			{"limit", `"10 %"`, "in place of the windows of the recipes: how much shorter or longer still looks the same", NotSet, figure(&b.MatchPercent, percent, 0, 100, true, "%")},
		}, false, nil},
		{"worker", "What applies to a person; each line adds points to a review. Keep this file to yourself.", []entry{
			{"name", `"Ben Sample"`, "", required, words(&worker.Name, 60, text)},
			{"no_smell", `false`, "cannot smell rotten eggs, or not reliably", NotSet, flag(&worker.NoSmell)},
			{"pregnant", `false`, "", NotSet, flag(&worker.Pregnant)},
			{"lungs", `false`, "asthma or another disease of the lungs", NotSet, flag(&worker.Lungs)},
			{"alone", `false`, "works with nobody near", NotSet, flag(&worker.Alone)},
			{"new", `true`, "has not done this before", NotSet, flag(&worker.New)},
		}, true, func(t strict.Table) {
			s.member(t, "name", worker.Name)
			s.Workers, worker = append(s.Workers, worker), safety.Person{}
		}},
		{"limit", "An exposure limit that you keep to; it is printed with its reason.", []entry{
			{"gas", `"hydrogen sulfide"`, "", required, words(&limit.Gas, 60, text)},
			{"list", `"our insurer"`, "whose limit it is", required, words(&limit.List, 80, text)},
			{"ppm", `1`, "", required, number(&limit.Value, 0, 10_000, true)},
			{"reason", `"asked for in the contract"`, "why you use it; the review keeps it", required, words(&limit.Reason, 400, text)},
			{"date", `"2025-03-01"`, "year, month, day, in quotes", NotSet, words(&limit.Date, 60, unless(isNoDay, "%s is not a day", `write it like "2025-03-01": year, month, day, in quotes`))},
		}, true, func(strict.Table) { s.Limits, limit = append(s.Limits, limit), gas.Limit{} }},
	}
}
