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

type row struct {
	vessel  Vessel
	piece   Piece
	product reagent.Product
	worker  safety.Person
	limit   gas.Limit
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
	b, r, hood := &s.Bath, &s.row, false
	celsius := func(at *measure.Celsius, b bounds) value {
		return figure(at, measure.ParseTemperature, b).shownAs(func() string { return s.Units.Temperature(*at) })
	}
	return []group{
		{"", "", []entry{
			{"name", `"Example Workshop"`, "", NotSet, words(&s.Name, 80, text)},
			{"people", `["Ada Sample", "Ben Sample"]`, "all who work at the bench", NotSet, list(&s.People, true)},
			{"person", `"Ada Sample"`, "who works at the bench if --by names nobody", NotSet, words(&s.Person, 60, text)},
			{"units", `"metric"`, `or "us"`, metric, words(&s.Units, 60, oneOf(measure.Metric, measure.US))},
		}, false, func(t strict.Table) { s.member(t, "person", s.Person) }},
		{"balance", "", []entry{
			{"readability", `"0.1 g"`, "the smallest step of the balance", Practice, figure(&b.ReadabilityG, measure.ParseMass, over(0, 100, "g")).knownAs("balance")},
			{"cylinder", `"1 mL"`, "the smallest step of the measuring cylinder", Practice, figure(&b.CylinderML, milliliters, over(0, 1000, "mL")).knownAs("cylinder")},
		}, false, nil},
		{"water", "", []entry{
			{"hot", `"92 C"`, "the hottest water there is, as poured", Practice, celsius(&b.HotWater, from(0, 100, "C")).knownAs("hot-water")},
			{"cold", `"12 C"`, "", Practice, celsius(&b.ColdWater, from(0, 100, "C")).knownAs("cold-water")},
		}, false, func(t strict.Table) {
			if b.Known["hot-water"] && b.Known["cold-water"] && b.HotWater > 0 && b.HotWater <= b.ColdWater {
				t.AtValue(t.Place("hot"), "check whether the two are swapped", "hot is not warmer than cold")
			}
		}},
		{"room", "", []entry{
			{"temperature", `"19 C"`, "", Practice, celsius(&b.Ambient, from(-20, 50, "C")).knownAs("ambient")},
			{"humidity", `"50 %"`, "", Practice, figure(&b.HumidityPercent, percent, from(0, 100, "%")).knownAs("humidity")},
			{"volume", `"32 m3"`, "length x width x height", NotSet, figure(&s.Room.VolumeM3, cubicMeters, from(2, 100_000, "m3"))},
			{"air_changes", `2`, "per hour, measured; leave it out if you do not know", NotSet, number(&s.Room.AirChangesPerHour, over(0, 200, ""))},
			{"hood", `false`, "capture at the source, ducted outdoors; it moves air of 0.4 m/s over the bath, if air_speed is not given", NotSet, flag(&hood)},
		}, false, func(strict.Table) {
			if hood {
				b.AirSpeed = heat.Hood
			}
		}},
		{"vessel", "One for each vessel, by the name that --vessel takes.", []entry{
			{"name", `"tub"`, "", required, words(&r.vessel.Name, 60, vesselName)},
			{"inside", `"200x140x90mm"`, `length, width, height; or diameter, height: "150x180mm"`, required, words(&r.vessel.Vessel, 60, plan.ParseVessel)},
			{"material", `"glass"`, "glass, borosilicate, glazed, plastic or steel", NotSet, words(&r.vessel.Material, 60, oneOf("glass", "borosilicate", "glazed", "plastic", "steel"))},
			{"lid", `true`, "", NotSet, flag(&r.vessel.Lid)},
			{"heater", `"300 W"`, "the steady power of a hot plate under it", NotSet, figure(&r.vessel.HeaterW, measure.ParseWatts, over(0, 10_000, "W"))},
		}, true, func(t strict.Table) {
			if s.Vessels == nil {
				s.Vessels = map[string]Vessel{}
			}
			r.vessel.Name = t.Written("name")
			s.Vessels[r.vessel.Name] = r.vessel
		}},
		{"heat", "", []entry{
			{"bath", `"plate:500W"`, "none, kettle:1.5L, plate:500W or thermostat", Assumed, words(&s.Heat, 60, plan.ParseHeat)},
			{"air_speed", `0.4`, "over the bath in m/s; 0.3 to 0.5 before a hood that draws well", Assumed, number(&b.AirSpeed, from(0, 5, ""))},
		}, false, nil},
		{"hands", "", []entry{
			{"by_hand", `false`, "pieces go in and out one by one, not in a strainer or on wires", NotSet, flag(&s.ByHand)},
			{"seconds_per_piece", `2`, "by hand, to put one piece in, and to take it out again", Assumed, number(&b.Pace, over(0, 60, ""))},
			{"rack", `24`, "pieces that one rack holds", NotSet, stored(&s.Rack, func(t strict.Table, e entry) int { return t.Whole(e.key, 1, 10_000, 0, false) })},
		}, false, nil},
		{"piece", "One for each piece that comes again, by the name that --piece takes. Each key is a flag of hepar prepare.", r.piece.entries(), true, func(strict.Table) { s.Pieces = append(s.Pieces, r.piece) }},
		{"drain", "", []entry{
			{"habit", `"poor"`, `well, poor or very poor; or the liquid that clings, such as "80 mL/m2"`, Assumed, words(&b.Drain, 60, habit).shownAs(func() string { return "poor, " + s.Units.Spread(b.Drain) }).knownAs("drain")},
		}, false, nil},
		{"minutes", "Working time on one piece; setup is for the whole job.", []entry{
			{"cleaning", `"1 min"`, "", Practice, s.minutes(yield.Clean)},
			{"relief_by_hand", `"15 min"`, "", Practice, s.minutes(yield.Relieve)},
			{"relief_by_machine", `"30 s"`, "", Practice, s.minutes(yield.Machine)},
			{"coating", `"30 s"`, "a square decimetre, one coat", Practice, s.minutes(yield.Coat)},
			{"sealing", `"30 s"`, "", Practice, s.minutes(yield.Seal)},
			{"inspection", `"30 s"`, "", Practice, s.minutes(yield.Inspect)},
			{"rework", `"3 min"`, "", Practice, s.minutes(yield.Rework)},
			{"setup", `"15 min"`, "from the kettle to the first dip", Assumed, s.minutes(yield.Setup)},
		}, false, nil},
		{"substance", "One for each product that recipes may name and hepar does not know. Copy it from the SDS; hepar cannot check what stands there.", []entry{
			{"name", `"Nordlack 12"`, "as on the label", required, words(&r.product.Name, 60, text)},
			{"family", `["solvent"]`, "what it is, sections 3, 7 and 10: sulfide, acid, caustic, oxidizer, solvent, ... or neutral", required, list(&r.product.Families, false)},
			{"state", `"liquid"`, "or solid", required, words(&r.product.State, 60, oneOf("liquid", "solid"))},
			{"sds", `"2025-03-01"`, "date of the SDS: year, month, day, in quotes", required, words(&r.product.SDS, 60, day)},
			{"codes", `"H225 H319"`, "section 2", NotSet, words(&r.product.Codes, 80, reagent.ParseCodes)},
			{"signal", `"Danger"`, "or Warning", NotSet, words(&r.product.Signal, 60, oneOf("Danger", "Warning"))},
			{"gas_with_acid", `"hydrogen sulfide"`, "section 10; leave it out if acid frees none", NotSet, words(&r.product.Gas, 60, text)},
			{"gloves", `"butyl"`, "section 8", NotSet, words(&r.product.Gloves, 80, text)},
			{"storage", `"flammables cabinet"`, "section 7", NotSet, words(&r.product.Storage, 80, text)},
		}, true, func(t strict.Table) {
			found, err := r.product.Substance()
			if err != nil {
				t.AtKey(t.Here(), fault.CureOf(err), "[[substance]] %s: %s", strict.Excerpt(r.product.Name), err.Error())
			}
			s.Substances = append(s.Substances, found)
		}},
		{"rates", "All money in one currency, whatever you call it.", []entry{
			{"labour", `"38 EUR per h"`, "", NotSet, s.price(&b.LabourPerHour, "h")},
			{"reagent", `{ liver-of-sulfur = "60 EUR per kg" }`, "or a line for each substance under [rates.reagent]", NotSet, s.prices()},
		}, false, nil},
		{"match", "", []entry{
			{"limit", `"10 %"`, "in place of the windows of the recipes: how much shorter or longer still looks the same", NotSet, figure(&b.MatchPercent, percent, over(0, 100, "%")).knownAs("match")},
		}, false, nil},
		{"worker", "What applies to a person; each line adds points to a review. Keep this file to yourself.", []entry{
			{"name", `"Ben Sample"`, "", required, words(&r.worker.Name, 60, text)},
			{"no_smell", `false`, "cannot smell rotten eggs, or not reliably", NotSet, flag(&r.worker.NoSmell)},
			{"pregnant", `false`, "", NotSet, flag(&r.worker.Pregnant)},
			{"lungs", `false`, "asthma or another disease of the lungs", NotSet, flag(&r.worker.Lungs)},
			{"alone", `false`, "works with nobody near", NotSet, flag(&r.worker.Alone)},
			{"new", `true`, "has not done this before", NotSet, flag(&r.worker.New)},
		}, true, func(t strict.Table) {
			s.Workers = append(s.Workers, r.worker)
			s.member(t, "name", r.worker.Name)
		}},
		{"limit", "An exposure limit that you keep to; it is printed with its reason.", []entry{
			{"gas", `"hydrogen sulfide"`, "", required, words(&r.limit.Gas, 60, text)},
			{"list", `"our insurer"`, "whose limit it is", required, words(&r.limit.List, 80, text)},
			{"ppm", `1`, "", required, number(&r.limit.Value, over(0, 10_000, ""))},
			{"reason", `"asked for in the contract"`, "why you use it; the review keeps it", required, words(&r.limit.Reason, 400, text)},
			{"date", `"2025-03-01"`, "year, month, day, in quotes", NotSet, words(&r.limit.Date, 60, day)},
		}, true, func(strict.Table) { s.Limits = append(s.Limits, r.limit) }},
	}
}

// entries are the settings of a piece, which reading puts into p.
func (p *Piece) entries() []entry {
	list := []entry{
		{"name", `"token-24"`, "", required, words(&p.Name, 60, pieceName)},
		{"recipe", `"silver-black"`, "the usual one", NotSet, words(&p.Recipe, 80, text)},
	}
	for _, f := range PieceFlags {
		list = append(list, entry{f[0], fmt.Sprintf("%q", f[1]), "", NotSet, value{read: func(t strict.Table, e entry) {
			p.Said[e.key] = t.Text(e.key, 60, false, e.cure())
		}}})
	}
	return list
}
