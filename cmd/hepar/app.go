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

type named struct {
	name string
	make func(*env) *cli.Command
}

// commands are all commands, each of which has a file of its own, in the order of the help.
var commands = []named{
	{"recipe", recipeCommand}, {"prepare", prepareCommand}, {"sheet", sheetCommand}, {"review", reviewCommand}, {"dip", dipCommand},
	{"bench", benchCommand}, {"log", logCommand}, {"journal", journalCommand}, {"coupon", couponCommand}, {"convert", convertCommand},
	{"stock", stockCommand}, {"label", labelCommand}, {"shop", shopCommand}, {"demo", demoCommand}, {"version", versionCommand},
}

// newApp returns the program. If args begin with the name of a command, it makes only that one:
// to make all of them takes longer than most commands run.
func newApp(e *env, args []string) *cli.App {
	cli.HelpPrinter = printHelpPage
	app := &cli.App{
		Name: "hepar", HelpName: "hepar",
		Usage:                     "the bath book of a small metal-finishing workshop",
		Description:               appHelp,
		OnUsageError:              usageError,
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
	all := commands
	if i := slices.IndexFunc(all, func(c named) bool { return len(args) > 0 && c.name == args[0] }); i >= 0 {
		all = all[i : i+1]
	} else if slices.Equal(args, []string{"--version"}) {
		all = nil
	}
	for _, c := range all {
		made := c.make(e)
		dress(e, made)
		app.Commands = append(app.Commands, made)
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
		return inNewHome(ctx, fault.Caught(func() {
			fault.Check(oneOf(ctx, "color", "a way to colour", "auto", "always", "never"))
			e.decidePaint(ctx.String("color"))
			fault.Check(act(ctx))
		}))
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

// bare returns the action of a command that takes that many arguments and needs neither
// recipes nor journal.
func bare(least, most int, what string, act func(*cli.Context) error) cli.ActionFunc {
	return func(c *cli.Context) error {
		fault.Check(arguments(c, least, most, what))
		return act(c)
	}
}

// at returns the action of a command that takes that many arguments and needs a
// place: recipes, shop and journal.
func at(e *env, least, most int, what string, act func(*place) error) cli.ActionFunc {
	return bare(least, most, what, func(c *cli.Context) error { return act(openPlace(e, c)) })
}

func text(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
func yes(name, usage string) cli.Flag  { return &cli.BoolFlag{Name: name, Usage: usage} }
func many(name, usage string) cli.Flag { return &cli.StringSliceFlag{Name: name, Usage: usage} }

// oneOf refuses a flag that is given and is none of a few words.
func oneOf(c *cli.Context, flag, is string, words ...string) error {
	if word := c.String(flag); word != "" && !slices.Contains(words, word) {
		last := len(words) - 1
		return fault.Usagef("%q is not %s", measure.Clean(word), is).At("--"+flag).Try("write %s or %s", strings.Join(words[:last], ", "), words[last])
	}
	return nil
}
