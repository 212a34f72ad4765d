package main

import (
	"fmt"
	"os"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

func stockCommand(e *env) *cli.Command {
	return &cli.Command{
		Name: "stock", Usage: "the reagents on the shelf, their lots and data sheets",
		Subcommands: []*cli.Command{stockList(e), stockAdd(e), stockShow(e), stockChange(e), stockUse(e), stockEmpty(e), stockExport(e)},
	}
}

func stockList(e *env) *cli.Command {
	return &cli.Command{
		Name: "list", Usage: "what is on the shelf",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "substance", Usage: "only this one"},
			&cli.StringFlag{Name: "lot", Usage: "only this lot"},
			&cli.BoolFlag{Name: "empty", Usage: "those that are empty as well"},
		},
		Action: at(e, 0, 0, "", func(c *cli.Context, p *place) error {
			return runStockList(e, p, c)
		}),
	}
}

const noJarsYet = "nothing on the shelf yet: hepar stock add SUBSTANCE AMOUNT puts the first jar there\n"

func runStockList(e *env, p *place, c *cli.Context) error {
	if none, err := noJournalYet(c, p); none || err != nil {
		e.note(noJarsYet)
		return err
	}
	list, err := p.journal.ListContainers(journal.ContainerFilter{Substance: c.String("substance"), Lot: c.String("lot"), Empty: c.Bool("empty")})
	if err != nil {
		return err
	}
	t := table{head: []string{"jar", "substance", "form", "left", "opened", "lot"}, right: []bool{false, false, false, true}, mark: "! "}
	for _, jar := range list {
		if e.json {
			if err := e.printJSON(jar); err != nil {
				return err
			}
			continue
		}
		t.add(jar.Number, cut(substanceName(jar.Substance), 28), cut(jar.Form, 16), leftText(p.units, jar), string(jar.Opened), cut(jar.Lot, 16))
		t.remark(strings.Join(jarTroubles(jar, e.now()), "; "))
	}
	if e.json {
		return nil
	}
	if len(t.rows) == 0 {
		e.note("nothing on the shelf, or nothing that fits\n")
		return nil
	}
	t.write(e.out, "")
	return nil
}

func leftText(u measure.System, jar journal.Container) string {
	if jar.Empty() {
		return "empty"
	}
	return amountText(u, jar.Left, jar.Unit)
}

// jarTroubles says what is to be looked at in a jar.
func jarTroubles(jar journal.Container, now time.Time) []string {
	var out []string
	if jar.Empty() {
		return nil
	}
	if jar.Expired(journal.Date(now.Format(time.DateOnly))) {
		out = append(out, "its date is over ("+string(jar.Expires)+")")
	}
	if spent(jar.Observed) {
		out = append(out, "looks spent: "+jar.Observed)
	}
	switch place := jar.SDS; {
	case place == "":
		out = append(out, "no SDS on file: get it before use")
	case strings.ContainsAny(place, "/\\") || strings.HasSuffix(strings.ToLower(place), ".pdf"):
		if _, err := os.Stat(place); err != nil {
			out = append(out, "its SDS file is not where it should be: "+place)
		}
	}
	return out
}

// spent tells whether somebody wrote that a sulfide has gone pale or white: bright
// yellow lumps are good, white ones are spent (common practice, no source).
func spent(observed string) bool {
	text := strings.ToLower(observed)
	for _, word := range []string{"spent", "white", "pale", "dead"} {
		if strings.Contains(text, word) {
			return true
		}
	}
	return false
}

func stockAdd(e *env) *cli.Command {
	text := func(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
	return &cli.Command{
		Name: "add", Usage: "put a jar on the shelf", ArgsUsage: "SUBSTANCE AMOUNT",
		Description: "EXAMPLES\n   hepar stock add liver-of-sulfur 500g --form lump --lot 4711 --opened 2026-03-02 \\\n         --observed \"bright yellow lumps\" --sds \"green folder\" --sds-revised 2024-05",
		Flags: []cli.Flag{text("form", "lump, powder, 28 % solution"), text("lot", "the maker's lot"), text("supplier", "where it is from"), text("received", "2026-03 or 2026-03-02"),
			text("opened", "day"), text("expires", "day"), text("observed", "what it looks like, \"bright yellow lumps\""), text("sds", "where the data sheet is"),
			text("sds-revised", "its revision date"), text("place", "shelf or cupboard"), text("note", "anything else"), text("by", "who")},
		Action: func(c *cli.Context) error {
			if err := arguments(c, 2, 2, "a substance or an amount"); err != nil {
				return err
			}
			return runStockAdd(e, c)
		},
	}
}

func runStockAdd(e *env, c *cli.Context) error {
	p, err := openPlace(e, c)
	if err != nil {
		return err
	}
	jar := journal.ContainerPlan{Substance: c.Args().First(), Form: c.String("form"), Lot: c.String("lot"), Supplier: c.String("supplier"),
		Observed: c.String("observed"), Place: c.String("place"), Note: c.String("note"), SDS: c.String("sds")}
	if err := forShelf(e, jar.Substance); err != nil {
		return err
	}
	if jar.Amount, jar.Unit, err = amountFrom(c.Args().Get(1)); err != nil {
		return err
	}
	for name, to := range map[string]*journal.Date{"received": &jar.Received, "opened": &jar.Opened, "expires": &jar.Expires, "sds-revised": &jar.SDSRevised} {
		if err := take(c, name, journal.ParseDate, to); err != nil {
			return err
		}
	}
	fresh, err := p.newJournal()
	if err != nil {
		return err
	}
	added, err := p.journal.AddContainer(jar, c.String("by"))
	if err != nil {
		return err
	}
	fresh(e)
	if e.json {
		return e.printJSON(added)
	}
	e.say("%s: %s of %s\n", added.Number, leftText(p.units, added), substanceName(added.Substance))
	for _, trouble := range jarTroubles(added, e.now()) {
		e.note("%s", wrap("note: ", trouble))
	}
	return nil
}

// forShelf refuses a substance that has no place on a shelf, and says so of one that
// is not in the table.
func forShelf(e *env, substance string) error {
	what, err := reagent.Find(substance)
	if err != nil {
		e.note("%s", wrap("note: ", fmt.Sprintf("%s is not in the table of substances and is treated as the worst of its family; %s", oneLine(substance), fault.CureOf(err))))
		return nil
	}
	if what.Banned != "" {
		return fault.Safetyf("%s has no place on this shelf: %s", what.Name, what.Banned).Try("have it taken away by those who may; the program keeps no stock of it")
	}
	return nil
}

// amountFrom reads a mass in g or a volume in mL.
func amountFrom(text string) (amount float64, unit string, err error) {
	g, err := positive("stock", measure.ParseMass)(text)
	if err == nil {
		return float64(g), journal.UnitGrams, nil
	}
	l, errVolume := positive("stock", measure.ParseVolume)(text)
	if errVolume != nil {
		return 0, "", err
	}
	return l.Milliliters(), journal.UnitML, nil
}

func stockShow(e *env) *cli.Command {
	return &cli.Command{
		Name: "show", Usage: "one jar with all its changes", ArgsUsage: "JAR",
		Action: at(e, 1, 1, "the number of a jar", func(c *cli.Context, p *place) error {
			jar, err := p.journal.Container(c.Args().First())
			if err != nil {
				return err
			}
			if e.json {
				return e.printJSON(jar)
			}
			e.say("%s\n", e.heading("JAR "+jar.Number))
			t := table{}
			for _, row := range [][2]string{{"substance", substanceName(jar.Substance)}, {"form", jar.Form}, {"left", leftText(p.units, jar)}, {"lot", jar.Lot},
				{"from", jar.Supplier}, {"received", string(jar.Received)}, {"opened", string(jar.Opened)}, {"expires", string(jar.Expires)}, {"looks", jar.Observed},
				{"SDS", strings.Join(nonEmpty(jar.SDS, string(jar.SDSRevised), string(jar.SDSLooked)), ", ")}, {"place", jar.Place}, {"note", jar.Note}} {
				if row[1] != "" {
					t.add(row[0], row[1])
				}
			}
			t.write(e.out, "  ")
			for _, trouble := range jarTroubles(jar, e.now()) {
				e.say("%s", e.amber(wrap("  ! ", trouble)))
			}
			printEvents(e, jar.Events)
			return nil
		}),
	}
}

func stockChange(e *env) *cli.Command {
	return &cli.Command{
		Name: "change", Usage: "put a field of a jar right", ArgsUsage: "JAR FIELD=VALUE",
		Description: "Fields: " + strings.Join(journal.StockFieldNames(), ", ") + ".",
		Flags:       []cli.Flag{&cli.StringFlag{Name: "reason", Usage: "why"}, &cli.StringFlag{Name: "by", Usage: "who"}},
		Action: func(c *cli.Context) error {
			if err := arguments(c, 2, 2, "a jar or FIELD=VALUE"); err != nil {
				return err
			}
			field, value, ok := strings.Cut(c.Args().Get(1), "=")
			if !ok {
				return fault.Usagef("%q is not FIELD=VALUE", measure.Clean(c.Args().Get(1))).Try("write observed=\"white, spent\"")
			}
			p, err := openPlace(e, c)
			if err != nil {
				return err
			}
			if field == "substance" && value != "" {
				if err := forShelf(e, value); err != nil {
					return err
				}
			}
			jar, err := p.journal.ChangeContainer(c.Args().First(), field, value, c.String("reason"), c.String("by"))
			return jarDone(e, p, jar, err)
		},
	}
}

func stockUse(e *env) *cli.Command {
	return &cli.Command{
		Name: "use", Usage: "book what was taken from a jar", ArgsUsage: "JAR AMOUNT",
		Flags: []cli.Flag{&cli.StringFlag{Name: "batch", Usage: "for which batch"}, &cli.StringFlag{Name: "by", Usage: "who"}},
		Action: at(e, 2, 2, "a jar or an amount", func(c *cli.Context, p *place) error {
			use := journal.Use{Number: c.Args().First()}
			var err error
			if use.Amount, use.Unit, err = amountFrom(c.Args().Get(1)); err != nil {
				return err
			}
			jar, err := p.journal.Use(use, c.String("batch"), c.String("by"))
			return jarDone(e, p, jar, err)
		}),
	}
}

func stockEmpty(e *env) *cli.Command {
	return &cli.Command{
		Name: "empty", Usage: "take an empty or spent jar off the shelf", ArgsUsage: "JAR",
		Flags: []cli.Flag{&cli.StringFlag{Name: "reason", Usage: "used up, spent, given away"}, &cli.StringFlag{Name: "by", Usage: "who"}},
		Action: at(e, 1, 1, "the number of a jar", func(c *cli.Context, p *place) error {
			jar, err := p.journal.Empty(c.Args().First(), c.String("reason"), c.String("by"))
			return jarDone(e, p, jar, err)
		}),
	}
}

// jarDone prints a jar after a change.
func jarDone(e *env, p *place, jar journal.Container, err error) error {
	if err != nil {
		return err
	}
	if e.json {
		return e.printJSON(jar)
	}
	e.say("%s: %s of %s\n", jar.Number, leftText(p.units, jar), substanceName(jar.Substance))
	return nil
}

// shelfWarnings says where the shelf is short, spent or without a data sheet for
// what a sheet wants weighed. A shelf of which nothing is kept is not warned about.
func shelfWarnings(e *env, c *cli.Context, p *place, d document) ([]string, error) {
	if there, err := p.journal.Exists(); !there || err != nil { // --save makes it
		return nil, err
	}
	all, err := p.journal.ListContainers(journal.ContainerFilter{})
	if err != nil || len(all) == 0 {
		return nil, err
	}
	var out []string
	for _, line := range d.Bath.Reagents {
		wanted, known := line.Amount().Mass()
		wanted *= measure.Grams(d.Baths())
		shelf, err := p.journal.Shelf(line.Substance)
		if err != nil {
			return nil, err
		}
		switch {
		case len(shelf.Containers) == 0:
			out = append(out, fmt.Sprintf("There is no %s on the shelf.", line.Name))
		case known && shelf.Grams < wanted && shelf.ML == 0:
			out = append(out, fmt.Sprintf("The shelf is short of %s: %s are left, and %s are wanted.", line.Name, p.units.Mass(shelf.Grams), p.units.Mass(wanted)))
		}
		for _, jar := range shelf.Containers {
			if troubles := jarTroubles(jar, e.now()); len(troubles) > 0 {
				out = append(out, fmt.Sprintf("%s of %s: %s.", jar.Number, line.Name, strings.Join(troubles, "; ")))
			}
		}
	}
	return out, nil
}
