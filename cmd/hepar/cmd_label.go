package main

import (
	"regexp"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

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
	return &cli.Command{
		Name: "label", Usage: "print labels for baths, jars and waste",
		Subcommands: []*cli.Command{labelBath(e), labelStock(e), labelWaste(e)},
	}
}

// labelFlags say how a label is set.
func labelFlags(more ...cli.Flag) []cli.Flag {
	var sheets []string
	for _, s := range label.Sheets() {
		sheets = append(sheets, s.Name)
	}
	text := func(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
	return append(more,
		text("sheet", "sheet of labels: "+strings.Join(sheets, ", ")+"; or the size of one label, 105x74mm"),
		text("copies", "number of copies (default: 1)"),
		text("used", "number of places already used on the first sheet"),
		text("output", "HTML file to write (default: standard output)"),
	)
}

func labelBath(e *env) *cli.Command {
	return &cli.Command{
		Name: "bath", Usage: "print the label of a tank, with mixing and discard time", ArgsUsage: "RECIPE|BATCH",
		Description: "EXAMPLES\n   hepar label bath last --by \"Ilse Tamm\" --output bath.html",
		Flags: labelFlags(
			&cli.StringFlag{Name: "mixed", Usage: "time of mixing (default: now)"},
			&cli.StringFlag{Name: "by", Usage: "person who mixed it"},
			&cli.StringFlag{Name: "volume", Usage: "volume of the bath, \"1.9 L\""},
			&cli.StringFlag{Name: "note", Usage: "note to print on the label"},
		),
		Action: func(c *cli.Context) error {
			if err := arguments(c, 1, 1, "a recipe or the number of a batch"); err != nil {
				return err
			}
			return runLabelBath(e, c)
		},
	}
}

// subjectOf finds the recipe of a batch or of a name, and the batch's sheet.
func subjectOf(p *place, ref string) (r *recipe.Recipe, s *bath.Sheet, number string, err error) {
	if !isBatch(ref) {
		r, err = p.recipe(ref)
		return r, nil, "", err
	}
	b, err := p.journal.Get(ref)
	if err != nil {
		return nil, nil, "", err
	}
	sub, sheet, err := frozen(b)
	if err != nil {
		return nil, nil, "", err
	}
	return sub.Recipe, sheet, b.Number, nil
}

func runLabelBath(e *env, c *cli.Context) error {
	p, err := openPlace(e, c)
	if err != nil {
		return err
	}
	r, sheet, number, err := subjectOf(p, c.Args().First())
	if err != nil {
		return err
	}
	b := label.BathOf(r)
	now := e.now()
	b.Batch, b.By, b.Note, b.Mixed = number, orElse(c.String("by"), p.shop.Person), c.String("note"), now
	b.Contents = append(onShelf(r, sheet), label.CarriedIn(r)...)
	if number != "" {
		batch, err := p.journal.Get(number)
		if err != nil {
			return err
		}
		for _, entry := range batch.Bench { // the newest bath is the one that stands there
			if entry.Do == run.Mixed || entry.Action == plan.FreshBath {
				b.Mixed = entry.At
			}
		}
	}
	if sheet != nil {
		b.Life = sheet.BathLife()
		b.Volume, b.At = measure.Liters(sheet.Bath.VolumeL), measure.Celsius(sheet.Bath.TemperatureC)
	}
	if !c.IsSet("mixed") && b.Mixed.Equal(now) {
		e.note("note: the label says that the bath was mixed now; otherwise use --mixed\n")
	}
	if c.IsSet("mixed") {
		if b.Mixed, err = parseWhen(c.String("mixed"), e.now()); err != nil {
			return atFlag("mixed", err)
		}
	}
	if err := take(c, "volume", positive("bath", measure.ParseVolume), &b.Volume); err != nil {
		return err
	}
	l, err := label.Bath(b)
	if err != nil {
		return err
	}
	return printLabel(e, c, l, "a4-2x2")
}

// onShelf lists the contents of a bath in the forms that the sheet weighed, or those of
// the recipe where there is no sheet.
func onShelf(r *recipe.Recipe, s *bath.Sheet) []label.Content {
	out := label.ContentsOf(r)
	if s != nil {
		for i := range min(len(out), len(s.Bath.Reagents)) {
			out[i].Form = s.Bath.Reagents[i].Form
		}
	}
	return out
}

func labelStock(e *env) *cli.Command {
	text := func(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
	return &cli.Command{
		Name: "stock", Usage: "print the label of a jar or bottle", ArgsUsage: "SUBSTANCE",
		Description: "EXAMPLES\n   hepar label stock liver-of-sulfur --lot 4711 --opened 2026-03-02 --sds \"green folder\" --output jar.html",
		Flags: labelFlags(text("name", "name to print (default: the name in the table)"), text("form", "form: lump, powder, 28 % solution"), text("lot", "lot of the maker"), text("supplier", "supplier"),
			text("received", "day of receipt"), text("opened", "day of opening"), text("sds", "place of the safety data sheet (SDS)"), text("sds-revised", "revision date of the SDS"),
			&cli.StringSliceFlag{Name: "code", Usage: "hazard code of your own SDS, H314; repeat for more"}, text("signal", "signal word of your own SDS: Danger or Warning"), text("note", "note to print on the label")),
		Action: func(c *cli.Context) error {
			if err := arguments(c, 1, 1, "a substance"); err != nil {
				return err
			}
			jar := label.ContainerLabel{Content: label.Content{Substance: c.Args().First(), Form: c.String("form"), Name: c.String("name"), Codes: c.StringSlice("code"), Signal: c.String("signal")},
				Lot: c.String("lot"), Supplier: c.String("supplier"), SDS: c.String("sds"), Note: c.String("note")}
			if jarNumber.MatchString(c.Args().First()) {
				if err := fromShelf(e, c, &jar); err != nil {
					return err
				}
			}
			if err := days(c, e.now(), map[string]*time.Time{"received": &jar.Received, "opened": &jar.Opened, "sds-revised": &jar.SDSRevised}); err != nil {
				return err
			}
			l, err := label.Container(jar)
			if err != nil {
				return err
			}
			return printLabel(e, c, l, "a4-2x4")
		},
	}
}

// jarNumber is the number of a jar on the shelf.
var jarNumber = regexp.MustCompile(`^[Ss]-\d+$`)

// fromShelf fills in what the journal knows of a jar. Flags come first.
func fromShelf(e *env, c *cli.Context, jar *label.ContainerLabel) error {
	p, err := openPlace(e, c)
	if err != nil {
		return err
	}
	known, err := p.journal.Container(c.Args().First())
	if err != nil {
		return err
	}
	jar.Substance, jar.Form = known.Substance, orElse(jar.Form, known.Form)
	jar.Lot, jar.Supplier, jar.SDS = orElse(jar.Lot, known.Lot), orElse(jar.Supplier, known.Supplier), orElse(jar.SDS, known.SDS)
	return nil
}

// days reads flags that hold a day.
func days(c *cli.Context, now time.Time, to map[string]*time.Time) error {
	for _, name := range keys(to) {
		if !c.IsSet(name) {
			continue
		}
		t, err := parseWhen(c.String(name), now)
		if err != nil {
			return atFlag(name, err)
		}
		*to[name] = t
	}
	return nil
}

func labelWaste(e *env) *cli.Command {
	text := func(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
	return &cli.Command{
		Name: "waste", Usage: "print the label of a waste container", ArgsUsage: "RECIPE|BATCH",
		Description: `For a batch the label also estimates what is in the spent bath. It is marked as an
estimate: analysis and your local authority decide.

EXAMPLES
   hepar label waste 2026-014 --container W-3 --started 2026-03-02 --output waste.html`,
		Flags: labelFlags(text("container", "number of the container"), text("started", "first day of collecting (default: today)"), text("volume", "volume in words, \"about 3 L of 5 L\""),
			text("words", "heading that your place asks for (default: "+label.USWords+")"), text("hazards", "more about the hazards"), text("note", "note to print on the label")),
		Action: func(c *cli.Context) error {
			if err := arguments(c, 1, 1, "a recipe or the number of a batch"); err != nil {
				return err
			}
			return runLabelWaste(e, c)
		},
	}
}

func runLabelWaste(e *env, c *cli.Context) error {
	p, err := openPlace(e, c)
	if err != nil {
		return err
	}
	r, sheet, number, err := subjectOf(p, c.Args().First())
	if err != nil {
		return err
	}
	w := label.WasteLabel{Words: c.String("words"), Shop: p.shop.Name, ID: c.String("container"), Contents: append(onShelf(r, sheet), label.CarriedIn(r)...), Volume: c.String("volume"),
		Hazards: c.String("hazards"), Note: c.String("note"), Started: e.now()}
	if err := days(c, e.now(), map[string]*time.Time{"started": &w.Started}); err != nil {
		return err
	}
	if sheet != nil {
		b, err := p.journal.Get(number)
		if err != nil {
			return err
		}
		estimate, err := wasteOf(p, sheet, run.New(sheet, r, b.Bench))
		if err != nil {
			return err
		}
		w.Estimate = estimate.Lines()
		for _, entry := range b.Waste { // what was booked for this container
			if w.Volume == "" && entry.Container == w.ID {
				w.Volume = "about " + p.units.Volume(entry.Liters)
			}
		}
	}
	l, err := label.Waste(w)
	if err != nil {
		return err
	}
	return printLabel(e, c, l, "a4-2x2")
}

// wasteOf estimates what is in the spent bath of a sheet, from what the bench used.
func wasteOf(p *place, s *bath.Sheet, r *run.Run) (waste.Estimate, error) {
	b := waste.Batch{Volume: measure.Liters(s.Bath.VolumeL), Area: measure.SquareCM(s.MetalAreaDM * 100), DragOut: p.shop.Bath.Drain, Reagents: r.Amounts()}
	var err error
	if b.Alloy, err = metal.Find(s.Piece.Alloy); err != nil {
		return waste.Estimate{}, err
	}
	return waste.Content(b)
}

// printLabel prints a label on a sheet.
func printLabel(e *env, c *cli.Context, l label.Label, usual string) error {
	sheet, err := label.FindSheet(orElse(c.String("sheet"), usual))
	if err != nil {
		return atFlag("sheet", err)
	}
	copies := 1
	if err := take(c, "copies", func(s string) (int, error) { return measure.ParseCount(s, 1, 500) }, &copies); err != nil {
		return err
	}
	if err := take(c, "used", countUpTo(sheet.Columns*sheet.Rows-1), &sheet.Used); err != nil {
		return err
	}
	if e.json {
		return e.printJSON(map[string]any{"text": l.Text(), "sheet": sheet.Geometry()})
	}
	file := c.String("output")
	if file != "" && !strings.HasSuffix(strings.ToLower(file), ".html") {
		return fault.Usagef("%q is not an .html file", measure.Clean(file)).At("--output").Try("name the file label.html; a browser prints it")
	}
	page, err := label.Page([]label.Label{l}, copies, sheet)
	if err != nil {
		return err
	}
	if file == "" {
		e.say("%s", page)
		return nil
	}
	if err := writeNew(file, page); err != nil {
		return err
	}
	e.say("wrote %s: %s; print it at 100 %%, first on plain paper\n", oneLine(file), sheet.Geometry())
	return nil
}
