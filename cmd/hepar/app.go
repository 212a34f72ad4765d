package main

import (
	"errors"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// commonFlags returns the flags that every command takes. Each command needs its
// own, since the library keeps state in them.
func commonFlags() []cli.Flag {
	return group(commonGroup,
		&cli.BoolFlag{Name: "json", Usage: "print JSON for a program to read: one object, or one on each line"},
		&cli.StringFlag{Name: "color", Value: "auto", Usage: "WHEN: auto, always or never (default auto; NO_COLOR and FORCE_COLOR count too)"},
		&cli.StringFlag{Name: "units", Usage: "SYSTEM: metric or us (default: what the shop file says, or metric)"},
		&cli.StringFlag{Name: "journal", EnvVars: []string{"HEPAR_JOURNAL"}, Usage: "FILE: the journal (or set HEPAR_JOURNAL)"},
		&cli.StringFlag{Name: "recipes", EnvVars: []string{"HEPAR_RECIPES"}, Usage: "FOLDER: your own recipes (or set HEPAR_RECIPES)"},
		&cli.StringFlag{Name: "shop", EnvVars: []string{"HEPAR_SHOP"}, Usage: "FILE: the shop's settings (or set HEPAR_SHOP)"},
	)
}

const appHelp = `The bath book of a small metal-finishing workshop: recipes, batch sheets, safety
steps, and a record of how each batch turned out.

EXAMPLES
   hepar recipe list
   hepar prepare silver-black --pieces 60 --alloy sterling-925 --shape disc \
         --diameter 24mm --thickness 1.6mm --vessel 200x140x90mm \
         --save-piece token-24
   hepar prepare --piece token-24 --pieces 60 --save
   hepar review last
   hepar log last --good 58 --rework 2 --cause spots=2
   hepar journal list

Every command has --help. BATCH is a number (2026-014, or 14 for one of this
year), or the word last: the newest batch that is not withdrawn.`

// commands lists all commands, in the order of the help. Each has a file of its own.
var commands = []struct {
	name string
	make func(*env) *cli.Command
}{
	{"recipe", recipeCommand}, {"prepare", prepareCommand}, {"sheet", sheetCommand}, {"review", reviewCommand}, {"dip", dipCommand}, {"bench", benchCommand}, {"log", logCommand},
	{"journal", journalCommand}, {"coupon", couponCommand}, {"convert", convertCommand}, {"stock", stockCommand}, {"label", labelCommand}, {"shop", shopCommand}, {"demo", demoCommand}, {"version", versionCommand},
}

// wanted returns the command that the first word names, so that a start does not
// build the flags of the others. It returns all of them if the word names none, and
// none for --version alone.
func wanted(args []string) []func(*env) *cli.Command {
	if len(args) == 1 && args[0] == "--version" {
		return nil
	}
	var all []func(*env) *cli.Command
	for _, c := range commands {
		if len(args) > 0 && args[0] == c.name {
			return []func(*env) *cli.Command{c.make}
		}
		all = append(all, c.make)
	}
	return all
}

// newApp returns the command line, as far as args ask for it.
func newApp(e *env, args []string) *cli.App {
	cli.HelpPrinter = printHelpPage
	app := &cli.App{
		Name: "hepar", HelpName: "hepar",
		Usage:                     "the bath book of a small metal-finishing workshop",
		Description:               appHelp,
		HideVersion:               true, // the library's own flag takes -v too
		HideHelpCommand:           true,
		DisableSliceFlagSeparator: true,
		EnableBashCompletion:      false,
		Writer:                    e.out, ErrWriter: e.err,
		ExitErrHandler: func(*cli.Context, error) {}, // run decides the exit code
		Flags:          []cli.Flag{&cli.BoolFlag{Name: "version", Usage: "print the version", DisableDefaultText: true}},
		Action: func(c *cli.Context) error {
			if c.Bool("version") {
				e.say("hepar %s, commit %s\n", versionName(), commit())
				return nil
			}
			return cli.ShowAppHelp(c)
		},
	}
	for _, make := range wanted(args) {
		app.Commands = append(app.Commands, make(e))
	}
	app.OnUsageError = usageError
	for _, c := range app.Commands {
		dress(e, c)
	}
	return app
}

// dress adds to a command, and to those under it, what all have in common: the
// common flags, --json and --color, batches named in short, usage errors as errors.
func dress(e *env, c *cli.Command) {
	c.OnUsageError = usageError
	c.HideHelpCommand = true
	if len(c.Subcommands) > 0 {
		for _, sub := range c.Subcommands {
			dress(e, sub)
		}
		c.Action = func(ctx *cli.Context) error { return cli.ShowSubcommandHelp(ctx) }
		return
	}
	c.Flags = append(c.Flags, commonFlags()...)
	act := c.Action
	c.Action = func(ctx *cli.Context) error {
		e.json = ctx.Bool("json")
		switch when := ctx.String("color"); when {
		case "auto", "always", "never":
			e.decidePaint(when)
		default:
			return fault.Usagef("%q is not a way to colour", measure.Clean(when)).At("--color").Try("write auto, always or never")
		}
		return inNewHome(ctx, act(ctx))
	}
}

// inNewHome says it in the reader's words where a batch or a jar was asked for and
// nothing was kept so far. A journal named by hand has to be there.
func inNewHome(c *cli.Context, err error) error {
	switch {
	case !errors.Is(err, journal.ErrNone) || c.String("journal") != "":
	case strings.Contains(c.Command.ArgsUsage, "JAR"):
		return fault.Failuref("there is no jar on the shelf yet").Try("put one there: hepar stock add SUBSTANCE AMOUNT")
	case strings.Contains(c.Command.ArgsUsage, "BATCH"), c.IsSet("like"):
		return fault.Failuref("there is no batch yet").Try("plan one: hepar prepare RECIPE ... --save")
	}
	return err
}

// usageError replaces the whole help page that the library prints after a slip.
func usageError(_ *cli.Context, err error, _ bool) error {
	return fault.Usagef("%s", strings.ToLower(strings.TrimPrefix(err.Error(), "Incorrect Usage: "))).
		Try("add --help to see what the command takes")
}

// arguments checks how many arguments a command got. most below zero means any
// number. what names them in the error.
func arguments(c *cli.Context, least, most int, what string) error {
	n := c.NArg()
	name := strings.TrimPrefix(c.Command.HelpName, "hepar ")
	switch {
	case n < least:
		return fault.Usagef("%s: %s is missing", name, what).Try("see \"%s --help\"", c.Command.HelpName)
	case most >= 0 && n > most:
		return fault.Usagef("%s: unexpected argument %q", name, measure.Clean(c.Args().Get(most))).
			Try("leave it out, or put text with spaces in quotes; see \"%s --help\"", c.Command.HelpName)
	case slices.ContainsFunc(c.Args().Slice(), func(arg string) bool { return strings.TrimSpace(arg) == "" }):
		return fault.Usagef("%s: an argument is empty", name).Try("see \"%s --help\"", c.Command.HelpName)
	}
	return nil
}

// at returns the action of a command that takes that many arguments and needs a
// place: recipes, shop and journal.
func at(e *env, least, most int, what string, act func(*cli.Context, *place) error) cli.ActionFunc {
	return func(c *cli.Context) error {
		if err := arguments(c, least, most, what); err != nil {
			return err
		}
		p, err := openPlace(e, c)
		if err != nil {
			return err
		}
		defer p.told.end()
		return act(c, p)
	}
}

// units reads --units. Without the flag it returns fallback, the shop's own units.
func units(c *cli.Context, fallback measure.System) (measure.System, error) {
	switch u := c.String("units"); u {
	case "":
		return fallback, nil
	case "metric":
		return measure.Metric, nil
	case "us":
		return measure.US, nil
	default:
		return fallback, fault.Usagef("%q is not a system of units", measure.Clean(u)).At("--units").Try("write metric or us")
	}
}
