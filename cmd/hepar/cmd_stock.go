package main

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"hepar/journal"
	"hepar/recipe/bath"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

func stockCommand(e *env) *verb {
	var plan journal.ContainerPlan
	var filter journal.ContainerFilter
	filters := func() []option {
		return []option{text("substance", "SUBSTANCE: only this substance", &filter.Substance), text("lot", "LOT: only this lot", &filter.Lot)}
	}
	past := func(text string) (journal.Date, error) {
		day, err := journal.ParseDate(text)
		if err == nil && string(day) > e.now().Format(time.DateOnly) {
			err = fault.Usagef("%s is in the future", day).Try("write a day up to today, such as 2026-03-02")
		}
		return day, err
	}
	done := func(p *place, jar journal.Container, err error) {
		fault.Check(err)
		p.show(jar, func() { p.say("%s", jarText(p, jar)) })
	}
	return &verb{Name: "stock", Usage: "the reagents on the shelf, their lots and data sheets", Subcommands: []*verb{
		command("list", "what is on the shelf", at(e, func(p *place) { listJars(p, filter) }),
			append(filters(), yes("empty", "list empty jars as well", &filter.Empty))...),
		command("add SUBSTANCE AMOUNT", "put a jar on the shelf", at(e, func(p *place) { runStockAdd(p, plan) }),
			text("form", "FORM: lump, powder, 28 % solution", &plan.Form), text("purity", "PERCENT: strength of what is in the jar, \"30 %\""), text("lot", "LOT: the maker's lot", &plan.Lot), text("supplier", "NAME: the supplier", &plan.Supplier),
			value("received", "DATE: day it was received, 2026-03 or 2026-03-02", past, &plan.Received), value("opened", "DATE: day it was opened", past, &plan.Opened), value("expires", "DATE: day it expires", journal.ParseDate, &plan.Expires),
			text("observed", "TEXT: what it looks like, \"bright yellow lumps\"", &plan.Observed), text("sds", "PLACE: where the safety data sheet (SDS) is", &plan.SDS),
			value("sds-revised", "DATE: revision date of the SDS", past, &plan.SDSRevised), text("place", "PLACE: shelf or cupboard", &plan.Place), text("note", "TEXT: anything else", &plan.Note), text("by", "NAME: person who adds it")),
		command("show JAR", "one jar with all its changes", at(e, func(p *place) {
			jar := fault.Must(p.journal.Container(p.Args().First()))
			p.show(jar, func() { printJar(p, jar) })
		})),
		command("change JAR FIELD=VALUE", "correct a field of a jar", at(e, func(p *place) {
			field, value := fieldValue(p.Args().Get(1), "observed=\"white, spent\"")
			if field == "substance" && value != "" {
				forShelf(p.env, value)
			}
			jar, err := p.journal.ChangeContainer(p.Args().First(), field, value, p.String("reason"), "")
			done(p, jar, err)
		}), text("reason", "REASON: why; required for some fields"), text("by", "NAME: person who corrects it")),
		command("use JAR AMOUNT", "book what was taken from a jar", at(e, func(p *place) {
			amount, unit := fault.Must2(amountFrom(p.Args().Get(1)))
			jar, err := p.journal.Use(journal.Use{Number: p.Args().First(), Amount: amount, Unit: unit}, p.String("batch"), "")
			done(p, jar, err)
		}), text("batch", "BATCH: the batch that used it"), text("by", "NAME: person who took it")),
		command("empty JAR", "take an empty or spent jar off the shelf", at(e, func(p *place) {
			jar, err := p.journal.Empty(p.Args().First(), p.String("reason"), "")
			done(p, jar, err)
		}), text("reason", "REASON: used up, spent, given away"), text("by", "NAME: person who takes it off")),
		exportCommand(e, "write the shelf as CSV or JSON Lines", journal.ContainerSchema, noJarsYet, func(p *place, format string) {
			filter.Empty = true
			n := fault.Must(p.journal.ExportContainers(p.out, format, filter))
			p.note("%s written\n", plural(n, "jar"))
		}, filters()...),
	}}
}

const noJarsYet = "nothing on the shelf yet; add the first jar: hepar stock add SUBSTANCE AMOUNT\n"

func listJars(p *place, f journal.ContainerFilter) {
	p.ifKept(noJarsYet)
	t := table{head: []string{"jar", "substance", "form", "left", "opened", "lot"}, right: []bool{false, false, false, true}, mark: "    ! "}
	list(p.env, fault.Must(p.journal.ListContainers(f)), "nothing on the shelf, or nothing that matches\n", t, func(t *table, jar journal.Container) {
		t.add(jar.Number, cut(substanceName(jar.Substance), 28), cut(jar.Form, 16), leftText(p.units, jar), string(jar.Opened), cut(jar.Lot, 16))
		t.remark(strings.Join(jarTroubles(jar, p.now()), "; "))
	})
}

func leftText(u measure.System, jar journal.Container) string {
	return either(jar.Empty(), "empty", amountText(u, jar.Left, jar.Unit))
}

// jarTroubles says what is to be looked at in a jar. Bright yellow lumps of a sulfide are
// good, pale or white ones are spent (common practice, no source).
func jarTroubles(jar journal.Container, now time.Time) []string {
	if jar.Empty() {
		return nil
	}
	sds := ""
	if place := jar.SDS; place == "" {
		sds = "no SDS on file: get it before use"
	} else if strings.ContainsAny(place, "/\\") || strings.HasSuffix(strings.ToLower(place), ".pdf") {
		_, err := os.Stat(place)
		sds = when(err != nil, "its SDS file cannot be found: "+place)
	}
	spent := slices.ContainsFunc([]string{"spent", "white", "pale", "dead"}, func(word string) bool { return strings.Contains(strings.ToLower(jar.Observed), word) })
	return nonEmpty(when(jar.Expired(journal.Date(now.Format(time.DateOnly))), "expired ("+string(jar.Expires)+")"), when(spent, "looks spent: "+jar.Observed), sds)
}

func runStockAdd(p *place, jar journal.ContainerPlan) {
	jar.Substance = p.Args().First()
	_, _, err := amountFrom(jar.Substance)
	refuse(err == nil, fault.Usagef("%q is an amount, and the substance comes first", measure.Clean(jar.Substance)).
		Try("write hepar stock add %s %s", quoted(p.Args().Get(1)), quoted(jar.Substance)))
	if id, err := reagent.Called(jar.Substance); err == nil {
		jar.Substance = id
	}
	jar.Amount, jar.Unit = fault.Must2(amountFrom(p.Args().Get(1)))
	if pure := fault.Must(bath.Supplies(nil, nonEmpty(p.String("purity"))))[""].Percent; pure > 0 {
		jar.Form = strings.TrimSpace(jar.Form + " " + measure.Plain(pure) + " %")
	}
	forShelf(p.env, jar.Substance)
	p.tell("note: ", bath.DoubtJar(jar.Substance, jar.Form, jar.Unit == journal.UnitML))
	fresh := p.newJournal()
	added := fault.Must(p.journal.AddContainer(jar, ""))
	fresh()
	p.show(added, func() {
		p.say("%s", jarText(p, added))
		p.tell("note: ", jarTroubles(added, p.now())...)
	})
}

func jarText(p *place, jar journal.Container) string {
	return fmt.Sprintf("%s: %s of %s\n", jar.Number, leftText(p.units, jar), substanceName(jar.Substance))
}

// forShelf refuses a substance that has no place on a shelf, and says so of one that
// is not in the table.
func forShelf(e *env, substance string) {
	what, err := reagent.Find(substance)
	e.tell("note: ", when(err != nil, fmt.Sprintf("%s is not in the table of substances, so no recipe can use it; %s", oneLine(substance), fault.CureOf(err))))
	refuse(what.Banned != "",
		fault.Safetyf("%s must not be kept: %s", what.Name, what.Banned).
			Try("hand it to a licensed collector; hepar keeps no stock of it"))
}

// amountFrom reads a mass in g or a volume in mL.
func amountFrom(text string) (amount float64, unit string, err error) {
	g, err := positive("mass", measure.ParseMass)(text)
	if err == nil {
		return float64(g), journal.UnitGrams, nil
	}
	l, errVolume := positive("volume", measure.ParseVolume)(text)
	if errVolume != nil {
		return 0, "", err
	}
	return l.Milliliters(), journal.UnitML, nil
}

func printJar(p *place, jar journal.Container) {
	p.say("%s\n", p.heading("JAR "+jar.Number))
	t := table{}
	t.facts("substance", substanceName(jar.Substance), "form", jar.Form, "left", leftText(p.units, jar), "lot", jar.Lot, "from", jar.Supplier,
		"received", string(jar.Received), "opened", string(jar.Opened), "expires", string(jar.Expires), "looks", jar.Observed,
		"SDS", strings.Join(nonEmpty(jar.SDS, string(jar.SDSRevised), string(jar.SDSLooked)), ", "), "place", jar.Place, "note", jar.Note)
	t.write(p.out, "  ")
	p.putIn(p.amber, "  ! ", jarTroubles(jar, p.now())...)
	printEvents(p.env, jar.Events)
}

func fieldValue(text, example string) (field, value string) {
	field, value, ok := strings.Cut(text, "=")
	refuse(!ok, fault.Usagef("%q is not FIELD=VALUE", measure.Clean(text)).Try("write %s", example))
	return field, value
}

// shelfWarnings says where the shelf is short, spent or without a data sheet for
// what a sheet wants weighed. A shelf of which nothing is kept is not warned about.
func shelfWarnings(p *place, d document) (out []string) {
	if !fault.Must(p.journal.Exists()) { // --save makes it
		return nil
	}
	all := fault.Must(p.journal.ListContainers(journal.ContainerFilter{}))
	if len(all) == 0 {
		return nil
	}
	for _, line := range d.Bath.Reagents {
		wanted, known := line.Amount().Mass()
		wanted *= measure.Grams(d.Baths())
		var jars []journal.Container
		var grams measure.Grams
		weighed := true
		for _, jar := range all {
			if strings.EqualFold(jar.Substance, line.Substance) {
				jars, grams, weighed = append(jars, jar), grams+measure.Grams(jar.Left), weighed && jar.Unit == journal.UnitGrams
			}
		}
		switch {
		case len(jars) == 0:
			out = append(out, fmt.Sprintf("There is no %s on the shelf.", line.Name))
		case known && grams < wanted && weighed:
			out = append(out, fmt.Sprintf("The shelf has too little %s: %s are left, and %s are needed.", line.Name, p.units.Mass(grams), p.units.Mass(wanted)))
		}
		same := func(jar journal.Container) bool { // "gel", or "gel 30 %" for a gel of 30 %
			rest, is := strings.CutPrefix(strings.ToLower(jar.Form), strings.ToLower(line.Form))
			return jar.Form == "" || is && (rest == "" || strings.Contains(rest, measure.Plain(line.PurityPercent)))
		}
		if len(jars) > 0 && line.Form != "" && !slices.ContainsFunc(jars, same) {
			refuse(!p.IsSet("form"), fault.Usagef("the recipe weighs %s as %s, and the shelf has it as %s (%s)", line.Name, line.Form, oneLine(jars[0].Form), jars[0].Number).
				At("--form").Try("name the form that you weigh, as in --form gel --purity 30%%, or --form %s", line.Form))
			out = append(out, fmt.Sprintf("The sheet weighs %s, and the shelf has it as %s (%s): check that you weigh from the right jar.", strings.Join(nonEmpty(line.Name, line.Form, when(line.PurityPercent > 0, measure.Plain(line.PurityPercent)+" %")), ", "), jars[0].Form, jars[0].Number))
		}
		for _, jar := range jars {
			if troubles := jarTroubles(jar, p.now()); len(troubles) > 0 {
				out = append(out, fmt.Sprintf("%s of %s: %s.", jar.Number, line.Name, strings.Join(troubles, "; ")))
			}
		}
	}
	return out
}
