package shop

import (
	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/bath/yield"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
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
	add     func(*Shop) // begins the next table of a list, such as [[vessel]]; nil for a single table
	// done checks what no single entry shows. For a list it returns the name of the row:
	// "tub". It may be nil for a single table.
	done func(strict.Table, *Shop) string
}

// Words for where a value comes from that is not in the file.
const (
	Practice = "default: common practice, no source"
	Assumed  = "default: assumed"
	NotSet   = "not set"
	metric   = "default: metric"
	required = "required"
)

// Lengths of text, in characters.
const (
	shortText = 60
	lineText  = 80
	longText  = 400
)

// groups is the table of all settings, in the order of the template. The ranges are
// bounds of good sense that catch slips of the pen: common practice, no source. Those of
// the room are the ranges of packages heat and gas, that of the minutes is a day.
func groups() []group {
	vessel := func(s *Shop) *Vessel { return &s.vessel }
	worker := func(s *Shop) *Worker { return &s.Workers[len(s.Workers)-1] }
	limit := func(s *Shop) *Limit { return &s.Limits[len(s.Limits)-1] }
	minutes := func(known string, at func(*yield.Minutes) *float64) value {
		return figure(func(s *Shop) *float64 { return at(&s.Bath.Minutes) }, "min", from(0, 24*60)).knownAs(known)
	}
	return []group{
		{"", "", []entry{
			{"name", `"Example Workshop"`, "", NotSet, words(func(s *Shop) *string { return &s.Name }, lineText, text)},
			{"people", `["Ada Sample", "Ben Sample"]`, "all who work at the bench", NotSet, names()},
			{"person", `"Ada Sample"`, "who works at the bench if --by names nobody", NotSet, words(func(s *Shop) *string { return &s.Person }, shortText, text)},
			{"units", `"metric"`, `or "us"`, metric, words(func(s *Shop) *measure.System { return &s.Units }, shortText, system)},
		}, nil, checkPeople},
		{"balance", "", []entry{
			{"readability", `"0.1 g"`, "the smallest step of the balance", Practice, figure(func(s *Shop) *measure.Grams { return &s.Bath.ReadabilityG }, "g", over(0, 100)).knownAs("balance")},
			{"cylinder", `"1 mL"`, "the smallest step of the measuring cylinder", Practice, figure(func(s *Shop) *float64 { return &s.Bath.CylinderML }, "mL", over(0, 1000)).knownAs("cylinder")},
		}, nil, nil},
		{"water", "", []entry{
			{"hot", `"92 C"`, "the hottest water there is, as poured", Practice, figure(func(s *Shop) *measure.Celsius { return &s.Bath.HotWater }, "C", from(0, 100)).knownAs("hot-water")},
			{"cold", `"12 C"`, "", Practice, figure(func(s *Shop) *measure.Celsius { return &s.Bath.ColdWater }, "C", from(0, 100)).knownAs("cold-water")},
		}, nil, checkWater},
		{"room", "", []entry{
			{"temperature", `"19 C"`, "", Practice, figure(func(s *Shop) *measure.Celsius { return &s.Bath.Ambient }, "C", from(-20, 50)).knownAs("ambient")},
			{"humidity", `"50 %"`, "", Practice, figure(func(s *Shop) *float64 { return &s.Bath.HumidityPercent }, "%", from(0, 100)).knownAs("humidity")},
			{"volume", `"32 m3"`, "length x width x height", NotSet, figure(func(s *Shop) *float64 { return &s.Room.VolumeM3 }, "m3", from(2, 100_000))},
			{"air_changes", `2`, "per hour, measured; leave it out if you do not know", NotSet, number(func(s *Shop) *float64 { return &s.Room.AirChangesPerHour }, over(0, 200))},
			{"hood", `false`, "capture at the source, ducted outdoors; a fan in the window is no hood", NotSet, flag(func(s *Shop) *bool { return &s.Room.Hood })},
		}, nil, nil},
		{"vessel", "One for each vessel, by the name that --vessel takes.", []entry{
			{"name", `"tub"`, "", required, words(func(s *Shop) *string { return &s.called }, shortText, vesselName)},
			{"inside", `"200x140x90mm"`, `length, width, height; or diameter, height: "150x180mm"`, required, words(func(s *Shop) *bath.Vessel { return &vessel(s).Vessel }, shortText, bath.ParseVessel)},
			{"material", `"glass"`, "glass, borosilicate, glazed, plastic or steel", NotSet, words(func(s *Shop) *string { return &vessel(s).Material }, shortText, oneOf("glass", "borosilicate", "glazed", "plastic", "steel"))},
			{"lid", `true`, "", NotSet, flag(func(s *Shop) *bool { return &vessel(s).Lid })},
			{"heater", `"300 W"`, "the steady power of a hot plate under it", NotSet, figure(func(s *Shop) *float64 { return &vessel(s).HeaterW }, "W", over(0, 10_000))},
		}, func(s *Shop) { s.vessel, s.called = Vessel{}, "" }, keepVessel},
		{"heat", "", []entry{
			{"bath", `"plate:500W"`, "none, kettle:1.5L, plate:500W or thermostat", Assumed, words(func(s *Shop) *plan.Heat { return &s.Heat }, shortText, plan.ParseHeat).shownAs(func(s *Shop) string { return s.Heat.String() })},
			{"air_speed", `0.4`, "over the bath in m/s; 0.3 to 0.5 before a hood that draws well", Assumed, number(func(s *Shop) *float64 { return &s.Bath.AirSpeed }, from(0, 5))},
		}, nil, nil},
		{"hands", "", []entry{
			{"by_hand", `false`, "pieces go in and out one by one, not in a strainer or on wires", NotSet, flag(func(s *Shop) *bool { return &s.ByHand })},
			{"seconds_per_piece", `2`, "by hand, to put one piece in, and to take it out again", Assumed, number(func(s *Shop) *float64 { return &s.Bath.Hands.In }, over(0, 60))},
			{"rack", `24`, "pieces that one rack holds", NotSet, whole(func(s *Shop) *int { return &s.Rack }, 1, 10_000)},
		}, nil, func(_ strict.Table, s *Shop) string { s.Bath.Hands.Out = s.Bath.Hands.In; return "" }},
		{"piece", "One for each piece that comes again, by the name that --piece takes. Each key is a flag of hepar prepare.", pieceEntries(), func(s *Shop) { s.piece = Piece{Said: map[string]string{}} }, keepPiece},
		{"drain", "", []entry{
			{"habit", `"poor"`, `well, poor or very poor; or the liquid that clings, such as "80 mL/m2"`, Assumed, words(func(s *Shop) *measure.MillilitersPerSquareM { return &s.Bath.Drain }, 40, habit).shownAs(func(s *Shop) string { return "poor, " + s.Units.Spread(s.Bath.Drain) }).knownAs("drain")},
		}, nil, nil},
		{"minutes", "Working time on one piece; setup is for the whole job.", []entry{
			{"cleaning", `"1 min"`, "", Practice, minutes(yield.Clean, func(m *yield.Minutes) *float64 { return &m.Clean })},
			{"relief_by_hand", `"15 min"`, "", Practice, minutes(yield.Relieve, func(m *yield.Minutes) *float64 { return &m.RelieveByHand })},
			{"relief_by_machine", `"30 s"`, "", Practice, minutes(yield.Machine, func(m *yield.Minutes) *float64 { return &m.RelieveMachine })},
			{"coating", `"30 s"`, "a square decimetre, one coat", Practice, minutes(yield.Coat, func(m *yield.Minutes) *float64 { return &m.Coat })},
			{"sealing", `"30 s"`, "", Practice, minutes(yield.Seal, func(m *yield.Minutes) *float64 { return &m.Seal })},
			{"inspection", `"30 s"`, "", Practice, minutes(yield.Inspect, func(m *yield.Minutes) *float64 { return &m.Inspect })},
			{"rework", `"3 min"`, "", Practice, minutes(yield.Rework, func(m *yield.Minutes) *float64 { return &m.Rework })},
			{"setup", `"15 min"`, "from the kettle to the first dip", Assumed, figure(setup, "min", from(0, 24*60))},
		}, nil, nil},
		{"substance", "One for each product that recipes may name and hepar does not know. Copy it from the SDS; hepar cannot check what stands there.", []entry{
			{"name", `"Nordlack 12"`, "as on the label", required, words(func(s *Shop) *string { return &s.product.Name }, shortText, text)},
			{"family", `["solvent"]`, "what it is, sections 3, 7 and 10: sulfide, acid, caustic, oxidizer, solvent, ... or neutral", required, list(func(s *Shop) *[]string { return &s.product.Families })},
			{"state", `"liquid"`, "or solid", required, words(func(s *Shop) *string { return &s.state }, shortText, oneOf("liquid", "solid"))},
			{"sds", `"2025-03-01"`, "date of the SDS: year, month, day, in quotes", required, words(func(s *Shop) *string { return &s.product.SDS }, shortText, day)},
			{"codes", `"H225 H319"`, "section 2", NotSet, words(func(s *Shop) *[]string { return &s.product.Codes }, lineText, reagent.ParseCodes)},
			{"signal", `"Danger"`, "or Warning", NotSet, words(func(s *Shop) *string { return &s.product.Signal }, shortText, oneOf("Danger", "Warning"))},
			{"gas_with_acid", `"hydrogen sulfide"`, "section 10; leave it out if acid frees none", NotSet, words(func(s *Shop) *string { return &s.product.Gas }, shortText, text)},
			{"gloves", `"butyl"`, "section 8", NotSet, words(func(s *Shop) *string { return &s.product.Gloves }, lineText, text)},
			{"storage", `"flammables cabinet"`, "section 7", NotSet, words(func(s *Shop) *string { return &s.product.Storage }, lineText, text)},
		}, func(s *Shop) { s.product, s.state = reagent.Product{}, "" }, keepProduct},
		{"rates", "All money in one currency, whatever you call it.", []entry{
			{"labour", `"38 EUR per h"`, "", NotSet, price(func(s *Shop) *float64 { return &s.Bath.LabourPerHour }, "h")},
			{"reagent", `{ liver-of-sulfur = "60 EUR per kg" }`, "or a line for each substance under [rates.reagent]", NotSet, prices()},
		}, nil, nil},
		{"match", "", []entry{
			{"limit", `"10 %"`, "in place of the windows of the recipes: how much shorter or longer still looks the same", NotSet, figure(func(s *Shop) *float64 { return &s.Bath.MatchPercent }, "%", over(0, 100)).knownAs("match")},
		}, nil, nil},
		{"worker", "What applies to a person; each line adds points to a review. Keep this file to yourself.", []entry{
			{"name", `"Ben Sample"`, "", required, words(func(s *Shop) *string { return &worker(s).Name }, shortText, text)},
			{"no_smell", `false`, "cannot smell rotten eggs, or not reliably", NotSet, flag(func(s *Shop) *bool { return &worker(s).NoSmell })},
			{"pregnant", `false`, "", NotSet, flag(func(s *Shop) *bool { return &worker(s).Pregnant })},
			{"lungs", `false`, "asthma or another disease of the lungs", NotSet, flag(func(s *Shop) *bool { return &worker(s).Lungs })},
			{"alone", `false`, "works with nobody near", NotSet, flag(func(s *Shop) *bool { return &worker(s).Alone })},
			{"new", `true`, "has not done this before", NotSet, flag(func(s *Shop) *bool { return &worker(s).New })},
		}, func(s *Shop) { s.Workers = append(s.Workers, Worker{}) }, checkWorker},
		{"limit", "An exposure limit that you keep to; it is printed with its reason.", []entry{
			{"gas", `"hydrogen sulfide"`, "", required, words(func(s *Shop) *string { return &limit(s).Gas }, shortText, text)},
			{"list", `"our insurer"`, "whose limit it is", required, words(func(s *Shop) *string { return &limit(s).List }, lineText, text)},
			{"ppm", `1`, "", required, number(func(s *Shop) *float64 { return &limit(s).PPM }, over(0, 10_000))},
			{"reason", `"asked for in the contract"`, "why you use it; the review keeps it", required, words(func(s *Shop) *string { return &limit(s).Reason }, longText, text)},
			{"date", `"2025-03-01"`, "year, month, day, in quotes", NotSet, words(func(s *Shop) *string { return &limit(s).Date }, shortText, day)},
		}, func(s *Shop) { s.Limits = append(s.Limits, Limit{}) }, func(_ strict.Table, s *Shop) string { return limit(s).Gas + ", " + limit(s).List }},
	}
}

// setup is where the minutes from the kettle to the first dip go.
func setup(s *Shop) *float64 {
	if s.Bath.SetupMinutes == nil {
		s.Bath.SetupMinutes = new(float64)
	}
	return s.Bath.SetupMinutes
}

// defaults is the shop of which nothing is known: each package's own defaults.
func defaults() Shop {
	s := Shop{Bath: bath.DefaultShop()}
	s.Bath.Minutes, s.Bath.Hands, s.Bath.Drain = yield.DefaultMinutes(), plan.DefaultHands(), rinse.Poor
	*setup(&s) = bath.MixingMinutes
	return s
}
