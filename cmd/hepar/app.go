package main

import (
	"errors"
	"flag"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe/bath/job"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// The library stands behind these names. Only this file, help.go and place.go know it.
type (
	verb   = cli.Command
	option = cli.Flag
	call   = cli.Context
)

// commonFlags returns the flags that every command takes. Each command needs its
// own, since the library keeps state in them.
func commonFlags() []option {
	return group("FLAGS OF EVERY COMMAND",
		yes("json", "print JSON for a program to read: one object, or one on each line"),
		text("color", "WHEN: auto, always or never (default auto; NO_COLOR and FORCE_COLOR are obeyed)"),
		text("units", "SYSTEM: metric or us (default: as in the shop file, else metric)"),
		&wordFlag{cli.StringFlag{Name: "journal", EnvVars: []string{"HEPAR_JOURNAL"}, Usage: "FILE: the journal (or set HEPAR_JOURNAL)"}},
		&wordFlag{cli.StringFlag{Name: "recipes", EnvVars: []string{"HEPAR_RECIPES"}, Usage: "FOLDER: your own recipes (or set HEPAR_RECIPES)"}},
		&wordFlag{cli.StringFlag{Name: "shop", EnvVars: []string{"HEPAR_SHOP"}, Usage: "FILE: the shop's settings (or set HEPAR_SHOP)"}},
	)
}

type maker struct {
	name string
	make func(*env) *verb
}

// commands are all commands, each of which has a file of its own, in the order of the help.
var commands = []maker{
	{"recipe", recipeCommand}, {"prepare", prepareCommand}, {"sheet", sheetCommand}, {"review", reviewCommand}, {"dip", dipCommand},
	{"bench", benchCommand}, {"log", logCommand}, {"journal", journalCommand}, {"coupon", couponCommand}, {"convert", convertCommand},
	{"stock", stockCommand}, {"label", labelCommand}, {"shop", shopCommand}, {"demo", demoCommand}, {"version", versionCommand},
}

// root returns the program as a command. If args begin with the name of a command, it makes only
// that one: to make all of them takes longer than most commands run.
func root(e *env, args []string) *verb {
	c := &verb{HelpName: "hepar", Usage: "the bath book of a small metal-finishing workshop", Flags: []option{yes("version", "print the version")}}
	all := commands
	if i := slices.IndexFunc(all, func(n maker) bool { return len(args) > 0 && n.name == args[0] }); i >= 0 {
		all = all[i : i+1]
	} else if slices.Equal(args, []string{"--version"}) {
		all = nil
	}
	c.Subcommands = mapped(all, func(n maker) *verb { return n.make(e) })
	return c
}

// line is a command line as far as it is read.
type line struct {
	*verb
	given map[string][]string // the values of each flag
	words []string            // the arguments
	help  bool
}

// start reads a command line and runs its command. Flags and arguments stand in any order, and
// the library ignores flags behind an argument in silence: so each word is taken here.
func (e *env) start(args []string) {
	l := &line{verb: root(e, args), given: map[string][]string{}}
	for len(args) > 0 {
		word := args[0]
		args = args[1:]
		switch {
		case word == "--":
			l.words, args = append(l.words, args...), nil
		case word == "--help" || word == "-help" || word == "-h" || word == "--h":
			l.help = true
		case len(word) > 1 && word[0] == '-' && !strings.ContainsRune("0123456789.", rune(word[1])): // not a negative number
			args = l.flag(word, args)
		case len(l.words) > 0 || len(l.Subcommands) == 0:
			l.words = append(l.words, word)
		default:
			l.name(word)
		}
	}
	switch {
	case l.Action == nil && l.given["version"] != nil && !l.help:
		e.show(versionFacts(), func() { e.say("hepar %s, commit %s\n", versionName(), commit()) })
		return
	case l.Action == nil || l.help:
		printHelp(e.out, l.verb)
		return
	}
	set := flag.NewFlagSet(l.Name, flag.ContinueOnError)
	for _, f := range l.Flags {
		fault.Check(f.Apply(set))
	}
	for name, values := range l.given {
		refuse(set.Set(name, asOne(findFlag(l.Flags, name), values)) != nil, fault.Usagef("--%s cannot be %q", name, measure.Clean(values[0])).Try("write it without a value"))
	}
	fault.Check(set.Parse(append([]string{"--"}, l.words...)))
	c := cli.NewContext(nil, set, nil)
	c.Command = l.verb
	e.json = c.Bool("json")
	fault.Check(inNewHome(c, fault.Caught(func() {
		when := "auto"
		fault.Check(take(c, "color", oneOf("a way to colour", "auto", "always", "never"), &when))
		e.decidePaint(when)
		arguments(c)
		fault.Check(c.Command.Action(c))
	})))
}

func (l *line) name(word string) {
	names := mapped(l.Subcommands, func(c *verb) string { return c.Name })
	switch i := slices.Index(names, word); {
	case i >= 0:
		l.Subcommands[i].HelpName = l.HelpName + " " + word
		l.verb = l.Subcommands[i]
	case l.help || word == "help" || word == "h":
		l.help = true
	default:
		what := strings.TrimPrefix(l.HelpName+" "+word, "hepar ")
		fault.Check(l.unknown(fault.Usagef("there is no command %q", measure.Clean(what)), word, "\"", "\"", "commands", names))
	}
}

// flag takes a flag and its value from the words behind it, and returns those that are left.
func (l *line) flag(word string, rest []string) []string {
	before, value, hasValue := strings.Cut(word, "=")
	name := strings.TrimLeft(before, "-")
	found := findFlag(l.Flags, name)
	if found == nil && l.HelpName == "hepar" {
		found = findFlag(commonFlags(), name) // it may stand before the command that owns it
	}
	if found == nil {
		names := slices.Concat(mapped(l.Flags, cli.Flag.Names)...)
		fault.Check(l.unknown(fault.Usagef("%s has no flag %q", l.HelpName, measure.Clean(before)), name, "--", "", "flags", names))
	}
	refuse(!isMany(found) && l.given[name] != nil, fault.Usagef("--%s is given twice", name).Try("give it once"))
	_, usage := valueAndText(found.(cli.DocGenerationFlag).GetUsage())
	if _, is := found.(*yesFlag); is && !hasValue {
		value = "true"
	} else if !hasValue {
		refuse(len(rest) == 0, fault.Usagef("--%s needs a value", name).Try("give its value: %s", usage))
		value, rest = rest[0], rest[1:]
		next, is := strings.CutPrefix(value, "--")
		refuse(is && findFlag(l.Flags, next) != nil, fault.Usagef("--%s needs a value, but %s follows", name, value).Try("give its value: %s", usage))
	}
	refuse(strings.TrimSpace(value) == "", fault.Usagef("the value is empty").At("--"+name).Try("leave the flag out, or give its value: %s", usage))
	l.given[name] = append(l.given[name], value)
	return rest
}

// unknown adds to an error where the names are listed, and the nearest one.
func (l *line) unknown(f *fault.Error, word, open, end, what string, names []string) error {
	near := fault.Nearest(word, names)
	return f.Try("%s\"%s --help\" lists the %s", when(near != "", "did you mean "+open+near+end+"? "), l.HelpName, what)
}

func findFlag(flags []option, name string) option {
	if i := slices.IndexFunc(flags, func(f option) bool { return f.Names()[0] == name }); i >= 0 {
		return flags[i]
	}
	return nil
}

func isMany(f option) bool {
	_, ok := f.(*manyFlag)
	return ok
}

// asOne returns the values of a flag as one text: the library cuts a list at commas that is not marked.
func asOne(f option, values []string) string {
	if isMany(f) {
		return cli.NewStringSlice(mapped(values, strings.TrimSpace)...).Serialize()
	}
	return values[0]
}

// inNewHome says it in the reader's words where a batch or a jar was asked for and
// nothing was kept so far. A journal named by hand has to be there.
func inNewHome(c *call, err error) error {
	switch {
	case !errors.Is(err, journal.ErrNone) || c.String("journal") != "":
	case strings.Contains(c.Command.ArgsUsage, "JAR"):
		return fault.Failuref("there is no jar on the shelf yet").Try("add one: hepar stock add SUBSTANCE AMOUNT")
	case strings.Contains(c.Command.ArgsUsage, "BATCH"), c.IsSet("like"):
		return fault.Failuref("there is no batch yet").Try("plan one: hepar prepare RECIPE ... --save")
	}
	return err
}

// arguments checks how many arguments a command got: as many as it names, those in brackets if
// somebody wants, and any number of the last one with dots.
func arguments(c *call) {
	takes, n, wrong, cure := strings.Fields(c.Command.ArgsUsage), c.NArg(), "", ""
	number := slices.IndexFunc(c.Args().Slice(), func(arg string) bool { return strings.Trim(arg, "0123456789") == "" })
	switch {
	case number >= 0 && findFlag(c.Command.Flags, "have") != nil: // a number of pieces, and no recipe
		wrong = fmt.Sprintf("%q stands alone", c.Args().Get(number))
		cure = "write --pieces " + c.Args().Get(number) + "; "
	case n < len(takes) && takes[n][0] != '[':
		wrong = strings.TrimSuffix(strings.ReplaceAll(takes[n], "|", " or "), "...") + " is missing"
	case n > len(takes) && !strings.HasSuffix(c.Command.ArgsUsage, "..."):
		wrong = fmt.Sprintf("unexpected argument %q", measure.Clean(c.Args().Get(len(takes))))
		cure = "leave it out, or put text with spaces in quotes; "
	case slices.ContainsFunc(c.Args().Slice(), func(arg string) bool { return strings.TrimSpace(arg) == "" }):
		wrong = "an argument is empty"
	}
	refuse(wrong != "", fault.Usagef("%s: %s", strings.TrimPrefix(c.Command.HelpName, "hepar "), wrong).Try("%ssee \"%s --help\"", cure, c.Command.HelpName))
}

// at returns what a command does that needs a place: recipes, shop and journal.
func at(e *env, act func(*place)) func(*call) {
	return func(c *call) {
		p := openPlace(e, c)
		readFlags(c)
		act(p)
	}
}

// The flags have one name each; the library would look for more of them with a pattern, at every question.
type (
	wordFlag struct{ cli.StringFlag }
	yesFlag  struct{ cli.BoolFlag }
	manyFlag struct{ cli.StringSliceFlag }
)

func (f *wordFlag) Names() []string { return []string{f.Name} }
func (f *yesFlag) Names() []string  { return []string{f.Name} }
func (f *manyFlag) Names() []string { return []string{f.Name} }

// text makes a flag of words, which go where to says, or nowhere: then the command asks for them.
func text(name, usage string, to ...*string) option {
	return &wordFlag{cli.StringFlag{Name: name, Usage: usage, Destination: append(to, nil)[0]}}
}

func yes(name, usage string, to ...*bool) option {
	return &yesFlag{cli.BoolFlag{Name: name, Usage: usage, Destination: append(to, nil)[0]}}
}

func many(name, usage string) option { return &manyFlag{cli.StringSliceFlag{Name: name, Usage: usage}} }

// does makes a flag that readFlags hands to act; value makes one that it parses and puts where it belongs.
func does(name, usage string, act func(text string) error) option {
	return &wordFlag{cli.StringFlag{Name: name, Usage: usage, Action: func(_ *call, text string) error { return atFlag(name, act(text)) }}}
}

func value[T any](name, usage string, parse func(string) (T, error), to *T) option {
	return &wordFlag{cli.StringFlag{Name: name, Usage: usage, Action: func(c *call, _ string) error { return take(c, name, parse, to) }}}
}

// readFlags reads the values of a command that are given.
func readFlags(c *call) {
	for _, f := range c.Command.Flags {
		if text, is := f.(*wordFlag); is && c.IsSet(text.Name) {
			fault.Check(text.RunAction(c))
		}
	}
}

// take parses a flag if it is given, and names the flag in an error.
func take[T any](c *call, name string, parse func(string) (T, error), to *T) error {
	if !c.IsSet(name) {
		return nil
	}
	v, err := parse(c.String(name))
	if err == nil {
		*to = v
	}
	return atFlag(name, err)
}

func atFlag(name string, err error) error {
	f, ok := err.(*fault.Error)
	if err == nil {
		return nil
	}
	if !ok {
		return fault.Usagef("%s", err.Error()).At("--" + name)
	}
	g := *f
	g.Where, g.Kind = "--"+name, fault.Usage
	return &g
}

func countUpTo(least, most int) func(string) (int, error) {
	return func(text string) (int, error) { return measure.ParseCount(text, least, most) }
}

func atLeastOne(text string) (int, error) { return measure.ParseCount(text, 1, job.MostPieces) }

// positive returns a parser that refuses zero and less. name says what the value is.
func positive[T ~float64](name string, parse func(string) (T, error)) func(string) (T, error) {
	return func(text string) (T, error) {
		v, err := parse(text)
		if err == nil && v <= 0 {
			err = fault.Usagef("%q is not above zero", measure.Clean(text)).Try("give a %s above zero", name)
		}
		return v, err
	}
}

// percent reads a share above zero.
func percent(text string) (float64, error) {
	share, err := positive("share", measure.ParseRatio)(text)
	return share * 100, err
}

// oneOf returns a parser that takes one of a few words.
func oneOf(is string, words ...string) func(string) (string, error) {
	return func(word string) (string, error) {
		if last := len(words) - 1; !slices.Contains(words, word) {
			return "", fault.Usagef("%q is not %s", measure.Clean(word), is).Try("write %s or %s", strings.Join(words[:last], ", "), words[last])
		}
		return word, nil
	}
}
