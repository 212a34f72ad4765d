package main

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/run"
	"hepar/recipe/safety/label"
	"hepar/recipe/safety/waste"
)

func labelCommand(e *env) *verb {
	var b label.BathLabel
	var jar label.ContainerLabel
	var w label.WasteLabel
	return &verb{Name: "label", Usage: "print labels for baths, jars and waste", Subcommands: []*verb{
		command("bath RECIPE|BATCH", "print the label of a tank, with mixing and discard time", at(e, func(p *place) { labelBath(p, b) }),
			labelFlags(&b.Note,
				value("mixed", "TIME: time of mixing (default: now)", e.when, &b.Mixed),
				text("by", "NAME: person who mixed it", &b.By),
				value("volume", "VOLUME: volume of the bath, \"1.9 L\"", positive("bath", measure.ParseVolume), &b.Volume))...),
		command("stock SUBSTANCE", "print the label of a jar or bottle", at(e, func(p *place) { labelStock(p, jar) }),
			labelFlags(&jar.Note,
				text("name", "NAME: name to print (default: the name in the table)", &jar.Name), text("form", "FORM: lump, powder, 28 % solution", &jar.Form),
				text("lot", "LOT: the maker's lot", &jar.Lot), text("supplier", "NAME: the supplier", &jar.Supplier),
				value("received", "DATE: day it was received", e.when, &jar.Received), value("opened", "DATE: day it was opened", e.when, &jar.Opened),
				text("sds", "PLACE: where the safety data sheet (SDS) is", &jar.SDS), value("sds-revised", "DATE: revision date of the SDS", e.when, &jar.SDSRevised),
				many("code", "CODE: hazard code of your own SDS, H314; may be repeated"), text("signal", "WORD: signal word of your own SDS: Danger or Warning", &jar.Signal))...),
		command("waste RECIPE|BATCH", "print the label of a waste container", at(e, func(p *place) { labelWaste(p, w) }),
			labelFlags(&w.Note,
				text("container", "NAME: name of the container, W-1", &w.ID), value("started", "DATE: first day of collecting (default: of the first entry, or today)", e.when, &w.Started),
				text("volume", "TEXT: volume in words, \"about 3 L of 5 L\"", &w.Volume),
				text("words", "TEXT: heading that your local rules ask for (default: "+label.USWords+")", &w.Words), text("hazards", "TEXT: more about the hazards", &w.Hazards))...),
	}}
}

func labelFlags(note *string, more ...option) []option {
	sheets := mapped(label.Sheets(), func(s label.Sheet) string { return s.Name })
	return append(more,
		text("note", "TEXT: note to print on the label", note),
		text("sheet", "SHEET: a sheet of labels: "+strings.Join(sheets, ", ")+"; or the size of one label, 105x74mm"),
		text("copies", "COUNT: number of copies (default: 1)"),
		text("used", "COUNT: number of places already used on the first sheet"),
		pageFlag("label.html", " (default: standard output)"),
	)
}

// named finds the recipe that the argument names; of a batch, its sheet and itself too.
func (p *place) named() (r *recipe.Recipe, s *bath.Sheet, b journal.Batch) {
	ref := p.Args().First()
	if !isBatch(ref) {
		return fault.Must(p.recipe(ref)), nil, b
	}
	b = fault.Must(p.journal.Get(ref))
	d, r := frozen(b)
	return r, d.Sheet, b
}

func labelBath(p *place, said label.BathLabel) {
	r, sheet, batch := p.named()
	b, now := label.BathOf(r), p.now()
	b.Batch, b.By, b.Note, b.Mixed = batch.Number, p.person(said.By), said.Note, cmp.Or(run.Replay(batch.Bench).MixedAt(), now)
	b.Contents = label.ContentsOf(r, sheet.Forms()...)
	if sheet != nil {
		b.Life = sheet.BathLife()
		b.Volume, b.At = measure.Liters(sheet.Bath.VolumeL), sheet.Start()
		if sheet.Run != nil {
			b.To = measure.Celsius(sheet.Run.LowestC)
		}
	}
	p.tell("note: ", when(said.Mixed.IsZero() && b.Mixed.Equal(now), "the label says that the bath was mixed now; if not, give --mixed"))
	b.Mixed, b.Volume = cmp.Or(said.Mixed, b.Mixed), cmp.Or(said.Volume, b.Volume)
	printLabel(p, fault.Must(label.Bath(b)), "a4-2x2")
}

func labelStock(p *place, jar label.ContainerLabel) {
	jar.Substance, jar.Codes = p.Args().First(), p.StringSlice("code")
	if regexp.MustCompile(`^[Ss]-\d+$`).MatchString(jar.Substance) { // what the journal knows of the jar; flags come first
		known := fault.Must(p.journal.Container(jar.Substance))
		jar.Substance, jar.Form, jar.Lot = known.Substance, cmp.Or(jar.Form, known.Form), cmp.Or(jar.Lot, known.Lot)
		jar.Supplier, jar.SDS = cmp.Or(jar.Supplier, known.Supplier), cmp.Or(jar.SDS, known.SDS)
		day := func(d journal.Date) time.Time { // the first of a month or of a year where no more is known would be false
			on, _ := time.Parse(time.DateOnly, string(d))
			return on
		}
		jar.Opened, jar.Received, jar.SDSRevised = cmp.Or(jar.Opened, day(known.Opened)), cmp.Or(jar.Received, day(known.Received)), cmp.Or(jar.SDSRevised, day(known.SDSRevised))
	}
	printLabel(p, fault.Must(label.Container(jar)), "a4-2x4")
}

// labelWaste prints what the journal knows of all that is in a container, not of one batch alone.
func labelWaste(p *place, w label.WasteLabel) {
	r, sheet, b := p.named()
	d := drum{place: p, WasteLabel: w}
	d.ID, d.Shop = wasteContainer(b, w.ID), p.shop.Name
	d.fill()
	if d.Of = "batch " + strings.Join(d.numbers, ", "); len(d.numbers) > 4 {
		d.Of = fmt.Sprintf("%d batches, %s to %s", len(d.numbers), d.numbers[0], d.numbers[len(d.numbers)-1])
	}
	if sheet == nil || !slices.Contains(d.numbers, b.Number) {
		d.add(r, sheet, b.Bench)
		d.Of = either(len(d.numbers) > 0, d.Of+", and more", "nothing recorded yet")
	}
	d.Volume, d.Started = cmp.Or(d.Volume, when(d.liters > 0, "about "+p.units.Volume(d.liters))), cmp.Or(d.Started, p.now())
	if len(d.estimates) > 0 {
		d.Estimate = waste.Strongest(d.estimates...).Lines()
	}
	made := fault.Must(label.Waste(d.WasteLabel))
	p.tell("note: ", when(sheet != nil && !slices.Contains(d.numbers, b.Number), fmt.Sprintf("no waste of batch %s is recorded in %s yet, so its volume is not on the label: hepar journal waste %s --container %s", b.Number, d.ID, b.Number, d.ID)))
	printLabel(p, made, "a4-2x2")
}

// drum is a waste container with all that is in it.
type drum struct {
	*place
	label.WasteLabel
	liters    measure.Liters
	estimates []waste.Estimate
	numbers   []string
	ever      bool // with what has gone from it
}

// fill adds what the journal has in the container.
func (d *drum) fill() {
	for _, x := range inContainer(d.place, d.ID, d.ever) {
		for _, entry := range x.Waste {
			if lies(entry, d.ID) {
				d.liters += entry.Liters
				if first := entry.At.Time(); !d.IsSet("started") && (d.Started.IsZero() || first.Before(d.Started)) {
					d.Started = first
				}
			}
		}
		d.numbers = append(d.numbers, x.Number)
		d.batch(x)
	}
}

// batch adds the bath of a batch.
func (d *drum) batch(x journal.Batch) {
	if known, err := d.library.Get(x.Slug); len(x.Sheet) > 0 && x.Recipe.Text != "" {
		planned, r := frozen(x)
		d.add(r, planned.Sheet, x.Bench)
	} else if err == nil {
		d.add(known, nil, nil)
	} else {
		d.Contents = append(d.Contents, label.Content{Name: "waste of " + x.Slug})
	}
}

func (d *drum) add(r *recipe.Recipe, s *bath.Sheet, bench []run.Entry) {
	d.Contents = append(d.Contents, label.WasteOf(r, s.Forms()...)...)
	d.Vented = d.Vented || r.Kind == recipe.Pickle || slices.Contains(r.Hazards.Gas, "hydrogen") || slices.Contains(r.Hazards.Gas, "ammonia")
	if s != nil {
		d.estimates = append(d.estimates, wasteOf(d.place, s, run.New(s, r, d.units, bench)))
	}
}

// wasteContainer is the container that is said, or the one that a batch has its waste in. The
// label of another would be false.
func wasteContainer(b journal.Batch, said string) string {
	if b.Number == "" {
		return said
	}
	var has []string
	for _, entry := range b.Waste {
		refuse(entry.Went != "" && (said == "" || entry.In(said)) && !holds(b, said), fault.Failuref("the waste of batch %s has gone to %s", b.Number, measure.Clean(entry.Went)).
			Try("print a label for what is still in a container"))
		if lies(entry, "") && !slices.ContainsFunc(has, func(c string) bool { return entry.In(c) }) {
			has = append(has, entry.Container)
		}
	}
	in, clean := strings.Join(has, ", "), measure.Clean(said)
	refuse(said == "" && in == "", fault.Failuref("no container is recorded for the waste of batch %s", b.Number).At("--container").
		Try("write --container W-1, the name on the container; record its content with hepar journal waste"))
	refuse(said == "" && len(has) > 1, fault.Failuref("the waste of batch %s is in more than one container: %s", b.Number, in).At("--container").
		Try("name one container: each has its own label"))
	refuse(said != "" && in != "" && !holds(b, said), fault.Failuref("no waste of batch %s is recorded in %s: its waste is in %s", b.Number, clean, in).At("--container").
		Try("name the container of its waste"))
	return cmp.Or(said, append(has, "")[0])
}

// lies reports whether a waste is in a container, or in any, and has not gone from there.
func lies(w journal.Waste, container string) bool {
	return w.Went == "" && (container == "" || w.In(container))
}

func holds(b journal.Batch, container string) bool {
	return slices.ContainsFunc(b.Waste, func(w journal.Waste) bool { return lies(w, container) })
}

// inContainer lists the batches with waste in a container, or that ever had some there, the oldest first.
func inContainer(p *place, container string, ever bool) (all []journal.Batch) {
	if container == "" || !fault.Must(p.journal.Exists()) {
		return nil
	}
	for b, err := range p.journal.List(journal.Filter{Waste: container, Reverse: true, Frozen: true}) {
		if fault.Check(err); ever || holds(b, container) {
			all = append(all, b)
		}
	}
	return all
}

// wasteOf estimates what is in the spent bath of a sheet, from what the bench used.
func wasteOf(p *place, s *bath.Sheet, r *run.Run) waste.Estimate {
	alloy := fault.Must(metal.Find(s.Piece.Alloy))
	return fault.Must(waste.Content(waste.Batch{Alloy: alloy, Volume: measure.Liters(s.Bath.VolumeL), Area: measure.SquareCM(s.MetalAreaDM * 100),
		DragOut: p.shop.Bath.Drain, Reagents: r.Amounts()}))
}

func printLabel(p *place, l label.Label, usual string) {
	sheet, err := label.FindSheet(cmp.Or(p.String("sheet"), usual))
	fault.Check(atFlag("sheet", err))
	copies := 1
	fault.Check(cmp.Or(take(p.Context, "copies", countUpTo(1, 500), &copies), take(p.Context, "used", countUpTo(0, sheet.Columns*sheet.Rows-1), &sheet.Used)))
	if p.json {
		fault.Check(p.printJSON(map[string]any{"text": l.Text(), "sheet": sheet.Geometry()}))
		return
	}
	page := fault.Must(label.Page([]label.Label{l}, copies, sheet))
	file := p.String("output")
	refuse(file == "" && p.outTTY,
		fault.Usagef("--output is required: a label is a page to print").Try("write --output label.html, and open it in a browser"))
	if file == "" {
		p.out.Write(page)
		return
	}
	fault.Check(writeNew(file, page, elsewhere))
	p.tell("note: ", when(!l.Borne(sheet), fmt.Sprintf("this text may not fit: open the page, and if it says THIS LABEL DOES NOT FIT, choose a larger --sheet. Known to fit a %s label: %s", l.Kind, strings.Join(label.Bears(l.Kind), ", "))))
	p.say("wrote %s: %s; print it at 100 %%, first on plain paper\n", oneLine(file), sheet.Geometry())
}
