package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"time"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/bath/yield"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/run"
	"hepar/recipe/safety"
	"hepar/recipe/shop"
)

func prepareCommand(e *env) *verb {
	o := &wanted{}
	return command("prepare [RECIPE]", "make the batch sheet for a number of pieces",
		func(c *call) { runPrepare(openPlace(e, c), o) },
		append(orderFlags(o), group("THE SHEET", append([]option{
			yes("detail", "add losses, rinses, time and all assumptions, and the steps in full"),
			yes("working", "show every formula with its numbers and sources"),
			yes("save", "keep the sheet and the recipe in the journal as a planned batch"),
			text("by", "NAME: person who plans it"),
			text("note", "TEXT: customer, order, anything to find it by"),
		}, pageFlags()...)...)...)...)
}

// document is the batch sheet as it is printed with --json and frozen in the journal.
type document struct {
	*bath.Sheet
	Number   string              `json:"number,omitempty"`
	Order    string              `json:"order,omitempty"`
	Asked    map[string][]string `json:"asked"` // the flags that it was prepared with
	LastTime []string            `json:"last_time,omitempty"`
	Safety   []safety.Point      `json:"safety"`
	Working  []metal.Step        `json:"working,omitempty"`
}

func runPrepare(p *place, o *wanted) {
	refuse(p.Bool("by-hand") && p.IsSet("rack"), fault.Usagef("--by-hand and --rack are both given").Try("leave out one"))
	refuse(p.Bool("letter") && !p.IsSet("output"), fault.Usagef("--letter has no effect without --output").Try("add --output sheet.html"))
	refuse(p.IsSet("note") && !p.Bool("save"), fault.Usagef("--note has no effect without --save").Try("add --save, or leave the note out"))
	slug, then, last := repeat(p)
	r := fault.Must(p.recipe(slug))
	order := orderFrom(p, o)
	order.Recipe, order.Others, order.Measured = r, p.library.For, learnt(p, r, order.Kinds[0].Piece.Alloy)
	sheet := fault.Must(bath.Prepare(order))
	about := subject(r, &order.Kinds[0].Piece.Alloy, sheet)
	about.Held = p.held(about.Vessel)
	review := fault.Must(safety.Assess(about))
	fault.Check(safety.Refused(review.Points))
	if then.Result != nil && order.Yield == 0 && len(order.Kinds) == 1 {
		last = append(last, nonEmpty(yield.TooFew(sheet.Pieces, sheet.Spares, then.Made(), then.Good))...)
	}
	doc := document{Sheet: sheet, Order: p.String("note"), Asked: asked(p.Context), LastTime: last, Safety: review.Points}
	for _, text := range shelfWarnings(p, doc) {
		doc.Warn("shelf", text)
	}
	if i := slices.IndexFunc(review.Points, func(point safety.Point) bool { return point.Code == safety.VesselHeld }); i >= 0 {
		doc.Warnings = slices.Insert(doc.Warnings, 0, plan.Warning{Code: safety.VesselHeld, Note: measure.Say(review.Points[i].Text)})
	}
	if p.Bool("save") {
		fresh, piece := p.newJournal(), order.Kinds[0].Piece
		plan := journal.Plan{Recipe: frozenRecipe(r), Alloy: piece.Alloy.Name, Shape: piece.Shape, Pieces: sheet.Pieces, Spares: sheet.Spares, Order: doc.Order}
		doc.Number = fault.Must(p.journal.Create(plan, fault.Must(json.Marshal(doc)))).Number
		fresh()
	}
	if p.IsSet("save-piece") {
		savePiece(p, slug)
	}
	if p.IsSet("output") {
		if doc.Number != "" && !p.json {
			p.say("saved as batch %s\n", doc.Number)
		}
		p.tell("look out: ", mapped(sheet.Warnings, func(w plan.Warning) string { return w.In(p.units) })...)
		writeSheet(p, doc, r, p.now(), nil)
		return
	}
	whole := p.Bool("working") || p.IsSet("explain")
	if whole {
		doc.Working = sheet.Working
	}
	p.show(doc, func() { printSheet(p.env, p.units, doc, r, whole || p.Bool("detail")) })
}

// subject is what the safety review looks at. There may be no sheet, and no metal.
func subject(r *recipe.Recipe, alloy *metal.Alloy, s *bath.Sheet) safety.Subject {
	out := safety.Subject{Recipe: r, Alloy: alloy}
	if s != nil {
		out.MetalArea = measure.SquareCM(s.MetalAreaDM * 100)
		out.Bath = measure.Liters(s.Bath.VolumeL)
		out.BathC, out.Reagents, out.Plan = measure.Celsius(s.Bath.TemperatureC), s.Amounts(), s.AllAmounts()
		out.Lid = s.Run != nil && s.Run.Lid
		out.Shapes = append(mapped(s.Kinds, func(k bath.KindLine) string { return k.Piece.Shape }), s.Piece.Shape)
		out.SurfaceCM2, out.Vessel = s.Bath.Vessel.FloorCM2(), s.Bath.Vessel
	}
	return out
}

// held is what was in a vessel last, by the newest hundred batches of the journal.
func (p *place) held(v plan.Vessel) (last *safety.Held) {
	if v.Height == 0 || !fault.Must(p.journal.Exists()) {
		return nil
	}
	for b, err := range p.journal.List(journal.Filter{Limit: 100, Frozen: true}) {
		fault.Check(err)
		var used time.Time
		if n := len(b.Bench); n > 0 {
			used = b.Bench[n-1].At
		} else if b.Result != nil {
			used = b.Result.Logged.Time()
		}
		var d struct{ Bath struct{ Vessel plan.Vessel } }
		if !used.IsZero() && (last == nil || used.After(last.At)) && json.Unmarshal(b.Sheet, &d) == nil && v.May(d.Bath.Vessel) {
			_, r := frozen(b)
			last = &safety.Held{Vessel: when(v.Name == d.Bath.Vessel.Name, v.Name), Batch: b.Number, At: used, Recipe: r}
		}
	}
	return last
}

// frozenRecipe is what a batch keeps of its recipe for ever.
func frozenRecipe(r *recipe.Recipe) journal.Recipe {
	return journal.Recipe{Slug: r.Slug, Title: r.Title, Kind: string(r.Kind), Revision: r.Revision, Digest: r.Digest, Text: r.Text}
}

// wanted is what the flags say of an order.
type wanted struct {
	bath.Order
	kind  job.Kind // that flags describe
	alloy metal.Alloy
	size  metal.Dimensions
	shop  shop.Shop
}

func orderFlags(o *wanted) []option {
	length := func(name, usage string, to *measure.Millimeters) option {
		return value(name, "LENGTH: "+usage, positive(name, measure.ParseLength), to)
	}
	return slices.Concat(
		group("THE PIECES",
			text("piece", "NAME: a piece of the shop file, instead of the other flags of this group"),
			text("like", "BATCH: plan as in that batch; flags given here come first"),
			text("save-piece", "NAME: keep this piece in the shop file"),
			value("pieces", "COUNT: good pieces wanted", atLeastOne, &o.kind.Pieces),
			value("spares", "COUNT: extra pieces to start, besides the good pieces wanted (default 0)", countUpTo(0, job.MostPieces), &o.kind.Spares),
			many("kind", "FILE: a file with one or several kinds of piece, instead of the other flags of this group; may be repeated"),
			value("alloy", "METAL: metal of the pieces, for instance sterling-925", metal.Find, &o.alloy),
			text("shape", "SHAPE: "+strings.Join(metal.Shapes(), ", ")),
			length("diameter", "outside diameter, \"32 mm\" or \"1 1/4 in\"", &o.size.Diameter),
			length("thickness", "thickness of a disc or sheet, wall of a tube", &o.size.Thickness),
			length("length", "length of one piece", &o.size.Length),
			length("width", "width of one piece", &o.size.Width),
			length("height", "height of one piece", &o.size.Height),
			length("inside", "inside diameter of a ring, link or tube", &o.size.Inside),
			length("wire", "diameter of round wire, of a wire, chain or jump ring", &o.size.Wire),
			value("area", "AREA: the whole surface of one piece, \"12 cm2\", for --shape custom", positive("area", measure.ParseArea), &o.size.Area),
			value("mass", "MASS: mass of one piece, \"31.1 g\" or \"1 ozt\"", positive("mass", o.mass), &o.size.Mass),
			value("relief", "FACTOR: multiplies the area of stamped or textured pieces, for instance 1.15", positive("relief", measure.ParseRatio), &o.size.Relief),
			value("plate", "LENGTH: thickness of the silver on plated ware, \"5 um\"", positive("plate", measure.ParseLength), &o.Plate),
			value("yield", "SHARE: share of pieces that are good at the first attempt, \"95 %\"; sets the spares", positive("share", measure.ParseRatio), &o.Yield),
			value("confidence", "SHARE: how sure you want to be of enough good pieces, \"95 %\"; with --yield", positive("share", measure.ParseRatio), &o.Confidence),
			yes("anyway", "go on with a metal that the recipe is not for; the sheet is marked"),
		),
		group("BATH AND REAGENTS",
			value("vessel", "VESSEL: its inside, 200x140x90mm or 150x180mm (round), or its name in the shop file", o.vessel, &o.Vessel),
			value("volume", "VOLUME: how much bath, \"1.5 L\"", positive("bath", measure.ParseVolume), &o.Volume),
			value("have", "AMOUNT: how much of the limiting reagent you have, \"12 g\"; sets the volume of the bath", o.have, &o.Have),
			many("purity", "PERCENT: purity of the reagent on the shelf, \"30 %\"; with several reagents SUBSTANCE=PERCENT, once for each"),
			many("form", "FORM: form of the reagent on the shelf, such as gel; with several reagents SUBSTANCE=FORM, once for each"),
			value("balance", "MASS: smallest step of the balance, \"0.01 g\"", positive("balance", measure.ParseMass), &o.Shop.ReadabilityG),
			value("hot", "TEMPERATURE: the hottest water at hand, \"95 C\"", measure.ParseTemperature, &o.Shop.HotWater),
			value("cold", "TEMPERATURE: the coldest water at hand, \"15 C\"", measure.ParseTemperature, &o.Shop.ColdWater),
		),
		group("HEAT AND ROOM",
			value("heat", "HEAT: none, kettle, plate or thermostat, with an amount if known: kettle:1.5L, plate:500W (default none)", plan.ParseHeat, &o.Heat),
			yes("lid", "a lid covers the bath between loads"),
			value("start", "TEMPERATURE: bath temperature at the start (default: hepar chooses it)", measure.ParseTemperature, &o.Start),
			value("air-speed", "SPEED: speed of the air over the bath in m/s, 0.4 in front of a hood that draws well", measure.Number("m/s", 0, 5, "write 0.4 in front of a hood that draws well, 0 in still air"), &o.Shop.SpeedMS),
			value("ambient", "TEMPERATURE: room temperature, \"20 C\"", measure.ParseTemperature, &o.Shop.Ambient),
			value("humidity", "SHARE: humidity of the room, \"50 %\"", percent, &o.Shop.HumidityPercent),
		),
		group("LOADS",
			value("per-load", "COUNT: the most pieces in the bath at once", atLeastOne, &o.PerLoad),
			value("group", "COUNT: pieces that stay together, 2 for pairs", atLeastOne, &o.Group),
			yes("by-hand", "pieces go in and out one by one, not together in a strainer, a basket or on wires"),
			value("rack", "COUNT: pieces that one rack holds", atLeastOne, &o.Rack),
			value("drain", "HABIT: how pieces drain, well, poor or very-poor", rinse.Habit, &o.Shop.Drain),
			value("match", "SHARE: the colour tolerance, the widest spread that still matches, \"10 %\"", percent, &o.Shop.MatchPercent),
			yes("machine", "relief in a tumbler or on a wheel, not by hand"),
			yes("book", "use the recipe's dip time, not the one measured here"),
			value("explain", "NUMBER: show the working of this load", atLeastOne, &o.Explain),
		),
	)
}

// orderFrom reads an order, over what the shop says. The caller sets the recipe.
func orderFrom(p *place, o *wanted) bath.Order {
	c, s := p.Context, p.shop
	*o = wanted{shop: s, Order: bath.Order{Shop: s.Bath, Anyway: c.Bool("anyway"), ByMachine: c.Bool("machine")}}
	o.Heat = s.Heat
	if !c.Bool("by-hand") {
		o.Rack = s.Rack
	}
	o.Shop.Known = map[string]bool{}
	maps.Copy(o.Shop.Known, s.Bath.Known)
	for flag, key := range map[string]string{"hot": "water.hot", "cold": "water.cold", "ambient": "room.temperature", "balance": "balance.readability", "humidity": "room.humidity", "match": "match.limit", "drain": "drain.habit", "air-speed": "heat.air_speed"} {
		o.Shop.Known[key] = o.Shop.Known[key] || c.IsSet(flag)
	}
	if s.ByHand || c.Bool("by-hand") {
		o.Transfer = plan.ByHand
	}
	kinds := c.StringSlice("kind")
	if len(kinds) == 0 {
		checkNeeded(c)
	}
	readFlags(c)
	o.Lid = o.Lid || c.Bool("lid")
	o.Supplies = fault.Must(bath.Supplies(c.StringSlice("form"), c.StringSlice("purity")))
	if len(kinds) > 0 {
		takeKinds(c, kinds, o)
	} else { // custom: its area is all that is said
		o.kind.Piece = fault.Must(metal.New(cmp.Or(c.String("shape"), "custom"), o.alloy, o.size))
		o.Kinds = []job.Kind{o.kind}
	}
	return o.Order
}

func (o *wanted) mass(text string) (measure.Grams, error) { return metal.ParseMass(text, o.alloy) }

// vessel reads a vessel; one of the shop file brings its lid and heater along.
func (o *wanted) vessel(name string) (plan.Vessel, error) {
	if v, ok := o.shop.Vessels[name]; ok {
		o.Lid = v.Lid
		if v.HeaterW > 0 {
			o.Heat = plan.Heat{Kind: plan.Plate, Watts: v.HeaterW}
		}
		return v.Vessel, nil
	}
	v, err := plan.ParseVessel(name)
	if names := keys(o.shop.Vessels); err != nil && len(names) > 0 && !strings.ContainsAny(name, "0123456789") {
		err = fault.Usagef("the shop file has no vessel %q", measure.Clean(name)).Try("it has %s; or write its inside, 200x140x90mm", strings.Join(names, ", "))
	}
	return v, err
}

// have reads a mass or, for a reagent that is measured, a volume.
func (o *wanted) have(text string) (measure.Grams, error) {
	amount, unit, err := amountFrom(text)
	if unit == journal.UnitML {
		o.HaveML, amount = measure.Liters(amount/1000), 0
	}
	return measure.Grams(amount), err
}

func checkNeeded(c *call) {
	missing := nonEmpty(when(!c.IsSet("pieces"), "--pieces"), when(!c.IsSet("alloy"), "--alloy"), when(!c.IsSet("shape") && !c.IsSet("area"), "--shape with its dimensions"))
	if last := len(missing) - 1; last >= 0 {
		list := strings.Join(missing[:last], ", ") + when(last > 0, " and ") + missing[last]
		fault.Check(fault.Usagef("%s %s required", list, either(last > 0, "are", "is")).
			Try("write --pieces 60 --alloy sterling-925 --shape disc --diameter 24mm --thickness 1.6mm; or --piece NAME, --like BATCH, --kind FILE"))
	}
}

// kindFlags are the flags that describe one kind of piece, sizeFlags the sizes among them.
var (
	sizeFlags = []string{"diameter", "thickness", "length", "width", "height", "inside", "wire", "area", "mass"}
	kindFlags = append([]string{"pieces", "spares", "alloy", "shape", "relief"}, sizeFlags...)
)

// takeKinds reads the files of --kind.
func takeKinds(c *call, files []string, o *wanted) {
	for _, flag := range kindFlags {
		refuse(c.IsSet(flag), fault.Usagef("--%s has no effect beside --kind", flag).Try("leave it out, or describe one kind of piece by flags alone"))
	}
	for _, file := range files {
		o.Kinds = append(o.Kinds, fault.Must(job.Read(file))...)
	}
}

// repeat fills in what --like and --piece say, where no flag says otherwise. It
// returns the name of the recipe and how it turned out last time.
func repeat(p *place) (slug string, then journal.Batch, last []string) {
	c, said := p.Context, map[string][]string{}
	slug = c.Args().First()
	switch {
	case c.IsSet("like") && c.IsSet("piece"):
		fault.Check(fault.Usagef("--like and --piece are both given").Try("leave out --piece: the batch already has its piece"))
	case c.IsSet("like"):
		fault.Check(take(c, "like", p.journal.Get, &then))
		if said = askedFor(then); said == nil {
			fault.Check(fault.Failuref("batch %s was logged without a sheet", then.Number).At("--like").Try("name a batch that was saved with hepar prepare --save, or give the flags themselves"))
		}
		slug, last = cmp.Or(slug, then.Slug), lastTime(then)
	case c.IsSet("piece"):
		piece := fault.Must(p.shop.Piece(c.String("piece")))
		for name, value := range piece.Said {
			said[name] = []string{value}
		}
		slug = cmp.Or(slug, piece.Recipe)
		for b, err := range p.journal.List(journal.Filter{Recipe: slug, State: journal.Logged, Limit: 200, Frozen: true}) {
			if err == nil && slices.Equal(askedFor(b)["piece"], []string{piece.Name}) {
				then, last = b, lastTime(b)
				break
			}
		}
	}
	refuse(slug == "",
		fault.Usagef("prepare: the name of a recipe is missing").Try("\"hepar prepare --help\" shows an example; \"hepar recipe list\" lists the recipes"))
	ofRun, kept, gone := []string{"spares", "per-load", "group", "rack", "by-hand", "start", "heat", "lid", "vessel", "volume", "form", "purity"}, []string(nil), displaced(c)
	for _, name := range keys(said) {
		if c.IsSet(name) || slices.Contains(gone, name) || len(said[name]) == 0 || name == "piece" && c.IsSet("save-piece") {
			continue
		}
		err := c.Set(name, asOne(findFlag(c.Command.Flags, name), said[name]))
		refuse(err != nil, fault.Usagef("--%s cannot be %q", name, measure.Clean(said[name][0])).Try("give --%s yourself", name))
		if c.IsSet("like") && slices.Contains(ofRun, name) {
			kept = append(kept, "--"+name+" "+strings.Join(said[name], ", "))
		}
	}
	return slug, then, append(last, nonEmpty(wordsIf("kept from that batch: ", strings.Join(kept, "; ")))...)
}

// displaced lists the flags that do not go with those that are given: what is given wins.
func displaced(c *call) (gone []string) {
	for flag, others := range map[string][]string{"yield": {"spares"}, "spares": {"yield", "confidence"}, "have": {"volume"}, "volume": {"have"},
		"rack": {"by-hand"}, "by-hand": {"rack"}, "area": {"shape"}, "kind": slices.Concat(kindFlags, []string{"piece"})} {
		if c.IsSet(flag) {
			gone = append(gone, others...)
		}
	}
	if shape := cmp.Or(c.String("shape"), when(c.IsSet("area"), "custom")); shape != "" {
		gone = append(gone, slices.DeleteFunc(slices.Clone(sizeFlags), func(size string) bool { return metal.Takes(shape, "--"+size) })...)
	}
	return gone
}

// askedFor is what the sheet of a batch was prepared with; nil if there is none.
func askedFor(b journal.Batch) map[string][]string {
	var d document
	if len(b.Sheet) == 0 || json.Unmarshal(b.Sheet, &d) != nil {
		return nil
	}
	return d.Asked
}

// lastTime says how a batch turned out, and what was changed about it.
func lastTime(b journal.Batch) []string {
	var more []string
	for _, f := range resultFields() {
		if b.Result != nil && (f.Unit != "" || f.Text) {
			more = append(more, nonEmpty(wordsIf(f.Label+" ", f.Get(&b)))...)
		}
	}
	out := nonEmpty(fmt.Sprintf("batch %s, %s: %s", b.Number, b.Created.Day(), resultText(b)), strings.Join(more, "; "))
	for _, e := range b.Events {
		if e.Field != "" && e.Reason != "" {
			out = append(out, fmt.Sprintf("amended %s from %q to %q: %s", e.Field, e.Old, e.New, e.Reason))
		}
	}
	return out
}

func asked(c *call) map[string][]string {
	out := map[string][]string{}
	for _, f := range orderFlags(&wanted{}) {
		name := f.Names()[0]
		switch {
		case !c.IsSet(name) || name == "like" || name == "explain":
		case name == "save-piece":
			out["piece"] = []string{c.String(name)}
		case isMany(f):
			out[name] = c.StringSlice(name)
		default:
			out[name] = []string{fmt.Sprint(c.Value(name))}
		}
	}
	return out
}

// learnt returns the dip time that came out right here, for this recipe and metal.
func learnt(p *place, r *recipe.Recipe, alloy metal.Alloy) *bath.Measured {
	if p.Bool("book") || !fault.Must(p.journal.Exists()) {
		return nil
	}
	var readings []bath.Reading
	for b, err := range p.journal.List(journal.Filter{Recipe: r.Slug, State: journal.Logged, Limit: 500}) {
		fault.Check(err)
		other, err := metal.Find(b.Alloy)
		if err != nil || other.Family != alloy.Family {
			continue
		}
		if dips := cameOutRight(b); len(dips) > 0 {
			reading := bath.Reading{Dips: dips, Day: b.Result.Logged.Time().Format("2 January 2006"), Batch: b.Number}
			if b.Dip != nil && len(dips) < len(b.Dip.Loads) {
				reading.Batch += fmt.Sprintf(" (%d of its %d loads; left out: lifted late, off shade or not timed)", len(dips), len(b.Dip.Loads))
			}
			readings = append(readings, reading)
		}
	}
	m, strange := bath.Learn(r, alloy.Family == "silver", readings)
	p.tell("note: ", strange...)
	return m
}

// cameOutRight returns the dips of a batch whose time was right: what was read of a test strip;
// else those of its result or its loads, if hardly a piece is too light or too dark. Loads that
// are named for such pieces are left out. So are those that nobody lifted on time, unless there
// are no others: a load on time that came out right says that its time was right.
func cameOutRight(b journal.Batch) []bath.Timed {
	off, right := offShade(b.Causes), false
	var onTime, others []bath.Timed
	entries := run.Replay(b.Bench)
	if b.Dip != nil {
		for _, l := range b.Dip.Loads {
			wrong := offShade(l.Causes)
			off -= wrong
			if wrong > 0 || l.Time == nil || l.Note != "" && l.Note != oneFigure { // no time from memory, none of the sheet
				continue
			}
			planned, missed := entries.Planned(l.Number, *l.Time)
			right = right || !missed
			switch at := cmp.Or(amendedTemperature(b), l.Temperature); {
			case at == nil:
			case missed:
				others = append(others, bath.Timed{Time: *l.Time, At: *at})
			default: // what a hand is late teaches nothing, or the time would creep from order to order
				onTime = append(onTime, bath.Timed{Time: min(*l.Time, planned), At: *at})
			}
		}
	}
	if strip := b.Shape == "coupon"; strip && b.Shade != "right" || !strip && off*20 > b.Counted() {
		return nil
	}
	if b.Temperature != nil && b.Time != nil {
		return []bath.Timed{{Time: *b.Time, At: *b.Temperature}}
	}
	if right {
		return onTime
	}
	return others
}

// amendedTemperature is the temperature of a batch that somebody corrected afterwards; nil if nobody did.
func amendedTemperature(b journal.Batch) *measure.Celsius {
	if slices.ContainsFunc(b.Events, func(e *journal.Event) bool { return e.Field == "temperature" }) {
		return b.Temperature
	}
	return nil
}

func offShade(causes map[string]int) (n int) {
	for cause, pieces := range causes {
		if strings.Contains(cause, "light") || strings.Contains(cause, "dark") || strings.Contains(cause, "grey") {
			n += pieces
		}
	}
	return n
}

func savePiece(p *place, slug string) {
	c := p.Context
	name := c.String("save-piece")
	path := shopPath(c)
	_, err := p.shop.Piece(name)
	refuse(err == nil,
		fault.Usagef("the shop file already has a piece %q", measure.Clean(name)).At("--save-piece").Try("choose another name, or change it in %s", measure.Clean(path)))
	refuse(!regexp.MustCompile(`^[\pL\p{Nd}_-]+$`).MatchString(name),
		fault.Usagef("%q is not a name for a piece", measure.Clean(name)).At("--save-piece").Try("use letters, digits and hyphens, as in token-24"))
	piece := shop.Piece{Name: name, Recipe: slug, Said: map[string]string{}}
	for _, f := range shop.PieceFlags {
		if flag := f[0]; c.IsSet(flag) {
			piece.Said[flag] = c.String(flag)
		}
	}
	if p.shop.File == "" { // there is none yet
		ownFolder(path)
		fault.Check(writeNew(path, shop.Template(), ""))
	}
	f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	if err == nil {
		_, err = f.WriteString(piece.Line())
		err = cmp.Or(err, f.Close())
	}
	refuse(err != nil,
		fault.Failuref("the piece cannot be added to %s", measure.Clean(path)).Because(err).Try("check that you may write to the file"))
	p.note("note: the piece %s is in %s: hepar prepare --piece %s --pieces N\n", name, oneLine(path), name)
}
