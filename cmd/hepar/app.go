package main

import (
	"runtime/debug"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// version is set by the release build; a plain build reads it from the module.
var version = ""

func versionLine() string {
	v := version
	if v == "" {
		v = "(not a release)"
		if info, ok := debug.ReadBuildInfo(); ok {
			for _, s := range info.Settings {
				if s.Key == "vcs.revision" {
					v = s.Value[:min(12, len(s.Value))]
				}
			}
		}
	}
	return "hepar " + v
}

// commonFlags are the flags that every command takes. They are made anew for
// each command, since the library keeps state in them.
func commonFlags() []cli.Flag {
	return []cli.Flag{
		&cli.BoolFlag{Name: "json", Usage: "print one JSON object (or one a line) for a program to read"},
		&cli.StringFlag{Name: "color", Value: "auto", Usage: "auto, always or never; NO_COLOR is honoured"},
		&cli.StringFlag{Name: "units", Usage: "metric or us, for what is printed"},
		&cli.StringFlag{Name: "journal", EnvVars: []string{"HEPAR_JOURNAL"}, Usage: "the journal file"},
		&cli.StringFlag{Name: "recipes", EnvVars: []string{"HEPAR_RECIPES"}, Usage: "a folder of your own recipes"},
		&cli.StringFlag{Name: "shop", EnvVars: []string{"HEPAR_SHOP"}, Usage: "the shop file"},
	}
}

const appHelp = `The bath book of a small metal-finishing workshop: recipes, batch sheets, safety
steps, and how each batch turned out.

EXAMPLES
   hepar recipe list
   hepar prepare silver-black --pieces 200 --alloy sterling-925 --shape disc \
         --diameter 24mm --thickness 1.5mm --vessel 200x140x90mm
   hepar review silver-black
   hepar log 2026-014 --good 196 --rework 3 --reject 1 --cause spots=4
   hepar journal list`

// commands are all there are, in the order of the help. What each does stands in
// its own file.
var commands = []struct {
	name string
	make func(*env) *cli.Command
}{
	{"recipe", recipeCommand}, {"prepare", prepareCommand}, {"review", reviewCommand}, {"dip", dipCommand}, {"log", logCommand},
	{"journal", journalCommand}, {"coupon", couponCommand}, {"convert", convertCommand}, {"stock", stockCommand}, {"label", labelCommand}, {"shop", shopCommand}, {"demo", demoCommand},
}

// wanted picks the command that the first word names, so that a start pays for the
// flags of no other; all of them where it names none.
func wanted(args []string) []func(*env) *cli.Command {
	var all []func(*env) *cli.Command
	for _, c := range commands {
		if len(args) > 0 && args[0] == c.name {
			return []func(*env) *cli.Command{c.make}
		}
		all = append(all, c.make)
	}
	return all
}

// newApp is the command line, as far as args ask for it.
func newApp(e *env, args []string) *cli.App {
	app := &cli.App{
		Name: "hepar", HelpName: "hepar",
		Usage:                     "the bath book of a small metal-finishing workshop",
		Description:               appHelp,
		HideVersion:               true, // the flag below answers; the library's own takes -v
		HideHelpCommand:           true,
		DisableSliceFlagSeparator: true,
		EnableBashCompletion:      false,
		Writer:                    e.out, ErrWriter: e.err,
		ExitErrHandler: func(*cli.Context, error) {}, // exit codes are decided in run
		Flags:          []cli.Flag{&cli.BoolFlag{Name: "version", Usage: "print the version", DisableDefaultText: true}},
		Action: func(c *cli.Context) error {
			if c.Bool("version") {
				e.say("%s\n", versionLine())
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

// dress gives a command, and those under it, what all have in common: the flags,
// the reading of --json and --color, usage errors as errors.
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
	c.Flags = knowNames(append(c.Flags, commonFlags()...))
	if c.Description != "" {
		c.Description += "\n\n" + exitHelp
	}
	act := c.Action
	c.Action = func(ctx *cli.Context) error {
		e.json = ctx.Bool("json")
		switch when := ctx.String("color"); when {
		case "auto", "always", "never":
			e.decidePaint(when)
		default:
			return fault.Usagef("%q is not a way to colour", measure.Clean(when)).At("--color").Try("write auto, always or never")
		}
		return act(ctx)
	}
}

const exitHelp = `EXIT STATUS
   0 done   1 findings or failure   2 wrong usage   3 refused for safety
   4 journal busy   5 journal damaged   130 interrupted`

// usageError keeps the library from printing its whole help over a slip.
func usageError(_ *cli.Context, err error, _ bool) error {
	return fault.Usagef("%s", strings.ToLower(strings.TrimPrefix(err.Error(), "Incorrect Usage: "))).
		Try("add --help to see what the command takes")
}

// arguments checks how many plain words a command was given.
func arguments(c *cli.Context, least, most int, what string) error {
	n := c.NArg()
	name := strings.TrimPrefix(c.Command.HelpName, "hepar ")
	switch {
	case n < least:
		return fault.Usagef("%s: %s is missing", name, what).Try("\"%s --help\" shows an example", c.Command.HelpName)
	case most >= 0 && n > most:
		return fault.Usagef("%s: %q is one word too many", name, measure.Clean(c.Args().Get(most))).
			Try("put words with spaces in quotes; \"%s --help\" shows an example", c.Command.HelpName)
	}
	return nil
}

// at makes the action of a command that takes so many plain words and works in a
// place: its recipes, shop and journal.
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

// units reads --units; fallback is what the shop file says.
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
