package main

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/safety/label"
	"hepar/recipe/safety/waste"
)

func labelCommand(e *env) *cli.Command {
	return family("label", "print labels for baths, jars and waste",
		command("bath RECIPE|BATCH", "print the label of a tank, with mixing and discard time",
			at(e, 1, 1, "a recipe or the number of a batch", runLabelBath),
			labelFlags(
				text("mixed", "time of mixing (default: now)"),
				text("by", "person who mixed it"),
				text("volume", "volume of the bath, \"1.9 L\""),
				text("note", "note to print on the label"),
			)...),
		command("stock SUBSTANCE", "print the label of a jar or bottle",
			at(e, 1, 1, "a substance", runLabelStock),
			labelFlags(text("name", "name to print (default: the name in the table)"), text("form", "form: lump, powder, 28 % solution"), text("lot", "lot of the maker"), text("supplier", "supplier"),
				text("received", "day of receipt"), text("opened", "day of opening"), text("sds", "place of the safety data sheet (SDS)"), text("sds-revised", "revision date of the SDS"),
				many("code", "hazard code of your own SDS, H314; repeat for more"), text("signal", "signal word of your own SDS: Danger or Warning"), text("note", "note to print on the label"))...),
		command("waste RECIPE|BATCH", "print the label of a waste container",
			at(e, 1, 1, "a recipe or the number of a batch", runLabelWaste),
			labelFlags(text("container", "number of the container"), text("started", "first day of collecting (default: today)"), text("volume", "volume in words, \"about 3 L of 5 L\""),
				text("words", "heading that your place asks for (default: "+label.USWords+")"), text("hazards", "more about the hazards"), text("note", "note to print on the label"))...))
}

func labelFlags(more ...cli.Flag) []cli.Flag {
	sheets := mapped(label.Sheets(), func(s label.Sheet) string { return s.Name })
	return append(more,
		text("sheet", "sheet of labels: "+strings.Join(sheets, ", ")+"; or the size of one label, 105x74mm"),
		text("copies", "number of copies (default: 1)"),
		text("used", "number of places already used on the first sheet"),
		text("output", "HTML file to write (default: standard output)"),
	)
}

// labelled finds the recipe that the argument names; of a batch, its sheet and itself too.
func (p *place) labelled() (r *recipe.Recipe, s *bath.Sheet, b journal.Batch) {
	ref := p.Args().First()
	if !isBatch(ref) {
		return fault.Must(p.recipe(ref)), nil, b
	}
	b = fault.Must(p.journal.Get(ref))
	d, r := frozen(b)
	return r, d.Sheet, b
}

func runLabelBath(p *place) error {
	r, sheet, batch := p.labelled()
	b, now := label.BathOf(r), p.now()
	b.Batch, b.By, b.Note, b.Mixed = batch.Number, p.person(p.String("by")), p.String("note"), now
	b.Contents = inBath(r, sheet)
	for _, entry := range batch.Bench { // the newest bath is the one that stands there
		if entry.Do == run.Mixed || entry.Action == plan.FreshBath {
			b.Mixed = entry.At
		}
	}
	if sheet != nil {
		b.Life = sheet.BathLife()
		b.Volume, b.At = measure.Liters(sheet.Bath.VolumeL), measure.Celsius(sheet.Bath.TemperatureC)
	}
	p.tell("note: ", when(!p.IsSet("mixed") && b.Mixed.Equal(now), "the label says that the bath was mixed now; otherwise use --mixed"))
	fault.Check(cmp.Or(p.takeTime("mixed", &b.Mixed), take(p.Context, "volume", positive("bath", measure.ParseVolume), &b.Volume)))
	return printLabel(p, fault.Must(label.Bath(b)), "a4-2x2")
}

// inBath lists the contents of a bath in the forms that the sheet weighed, or those of
// the recipe where there is no sheet.
func inBath(r *recipe.Recipe, s *bath.Sheet) []label.Content {
	out := label.ContentsOf(r)
	if s != nil {
		for i := range min(len(r.Bath.Reagents), len(s.Bath.Reagents)) {
			out[i].Form = s.Bath.Reagents[i].Form
		}
	}
	return out
}

func runLabelStock(p *place) error {
	var known journal.Container // what the journal knows of the jar; flags come first
	substance := p.Args().First()
	if regexp.MustCompile(`^[Ss]-\d+$`).MatchString(substance) {
		known = fault.Must(p.journal.Container(substance))
		substance = known.Substance
	}
	jar := label.ContainerLabel{
		Content: label.Content{Substance: substance, Form: cmp.Or(p.String("form"), known.Form), Name: p.String("name"), Codes: p.StringSlice("code"), Signal: p.String("signal")},
		Lot:     cmp.Or(p.String("lot"), known.Lot), Supplier: cmp.Or(p.String("supplier"), known.Supplier), SDS: cmp.Or(p.String("sds"), known.SDS), Note: p.String("note"),
	}
	fault.Check(cmp.Or(p.takeTime("received", &jar.Received), p.takeTime("opened", &jar.Opened), p.takeTime("sds-revised", &jar.SDSRevised)))
	return printLabel(p, fault.Must(label.Container(jar)), "a4-2x4")
}

func (p *place) takeTime(name string, to *time.Time) error {
	return take(p.Context, name, func(text string) (time.Time, error) { return parseWhen(text, p.now()) }, to)
}

func runLabelWaste(p *place) error {
	r, sheet, b := p.labelled()
	w := label.WasteLabel{Words: p.String("words"), Shop: p.shop.Name, ID: p.String("container"), Contents: inBath(r, sheet), Volume: p.String("volume"),
		Vented:  r.Kind == recipe.Pickle || slices.Contains(r.Hazards.Gas, "hydrogen") || slices.Contains(r.Hazards.Gas, "ammonia"),
		Hazards: p.String("hazards"), Note: p.String("note"), Started: p.now()}
	fault.Check(p.takeTime("started", &w.Started))
	if sheet != nil {
		w.Estimate = wasteOf(p, sheet, run.New(sheet, r, b.Bench)).Lines()
		w.Volume = cmp.Or(w.Volume, bookedInto(p, w.ID))
	}
	return printLabel(p, fault.Must(label.Waste(w)), "a4-2x2")
}

// bookedInto is what all batches together left in a waste container; empty if nothing is booked.
func bookedInto(p *place, container string) string {
	liters, batches := measure.Liters(0), 0
	for b, err := range p.journal.List(journal.Filter{Waste: container}) {
		fault.Check(err)
		batches++
		for _, entry := range b.Waste {
			if strings.EqualFold(entry.Container, container) {
				liters += entry.Liters
			}
		}
	}
	return when(batches > 0, "about "+p.units.Volume(liters)+" of "+measure.Counted(batches, "batch", "batches"))
}

// wasteOf estimates what is in the spent bath of a sheet, from what the bench used.
func wasteOf(p *place, s *bath.Sheet, r *run.Run) waste.Estimate {
	alloy := fault.Must(metal.Find(s.Piece.Alloy))
	return fault.Must(waste.Content(waste.Batch{Alloy: alloy, Volume: measure.Liters(s.Bath.VolumeL), Area: measure.SquareCM(s.MetalAreaDM * 100),
		DragOut: p.shop.Bath.Drain, Reagents: r.Amounts()}))
}

func printLabel(p *place, l label.Label, usual string) error {
	sheet, err := label.FindSheet(cmp.Or(p.String("sheet"), usual))
	fault.Check(atFlag("sheet", err))
	copies := 1
	fault.Check(cmp.Or(take(p.Context, "copies", countUpTo(1, 500), &copies), take(p.Context, "used", countUpTo(0, sheet.Columns*sheet.Rows-1), &sheet.Used)))
	if p.json {
		return p.printJSON(map[string]any{"text": l.Text(), "sheet": sheet.Geometry()})
	}
	page := fault.Must(label.Page([]label.Label{l}, copies, sheet))
	file := p.String("output")
	refuse(file == "" && p.outTTY,
		fault.Usagef("a label is a page to print, and --output is missing").Try("write --output label.html, and open it in a browser"))
	if file == "" {
		p.say("%s", page)
		return nil
	}
	fault.Check(writeHTML(file, "label.html", page))
	p.say("wrote %s: %s; print it at 100 %%, first on plain paper\n", oneLine(file), sheet.Geometry())
	return nil
}
