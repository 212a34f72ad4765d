package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// permute puts the flags of a command before its arguments. The library stops
// reading flags at the first argument and silently ignores those after it, so
// "prepare RECIPE --pieces 7" would lose the 7 pieces. Here every word that starts
// with a hyphen is a flag wherever it stands, until "--", and an unknown flag is an
// error.
func permute(app *cli.App, args []string) ([]string, error) {
	p := permuter{commands: app.Commands, flags: app.Flags}
	for i := 0; i < len(args); i++ {
		word := args[i]
		switch {
		case word == "--":
			p.words = append(p.words, args[i+1:]...)
			i = len(args)
		case len(word) > 1 && word[0] == '-' && !isNumber(word):
			used, err := p.flag(args[i:])
			if err != nil {
				return nil, err
			}
			i += used
		default:
			if err := p.word(word); err != nil {
				return nil, err
			}
		}
	}
	return p.result()
}

type permuter struct {
	commands []*cli.Command // those that a next word may name
	flags    []cli.Flag     // of the command so far, and the common ones
	path     []string
	given    []string
	seen     []string // names of the flags so far
	words    []string
	help     bool
}

// isNumber says whether a word is a negative number, not a flag.
func isNumber(word string) bool {
	return len(word) > 1 && word[0] == '-' && (word[1] >= '0' && word[1] <= '9' || word[1] == '.')
}

// word takes an argument, or the name of a command where one may come.
func (p *permuter) word(word string) error {
	if len(p.words) > 0 || len(p.commands) == 0 {
		p.words = append(p.words, word)
		return nil
	}
	for _, c := range p.commands {
		if c.HasName(word) {
			p.path, p.commands, p.flags = append(p.path, c.Name), c.Subcommands, c.Flags
			return nil
		}
	}
	if word == "help" || word == "h" {
		p.help = true
		return nil
	}
	names := make([]string, 0, len(p.commands))
	for _, c := range p.commands {
		names = append(names, c.Name)
	}
	f := fault.Usagef("there is no command %q", measure.Clean(strings.Join(append(slices.Clone(p.path), word), " ")))
	if near := fault.Nearest(word, names); near != "" {
		return f.Try("did you mean %q? \"hepar %s\" lists the commands", near, strings.Join(append(slices.Clone(p.path), "--help"), " "))
	}
	return f.Try("\"hepar %s\" lists the commands", strings.Join(append(slices.Clone(p.path), "--help"), " "))
}

// flag takes a flag and its value, if it has one. It returns how many words it used
// besides the flag itself.
func (p *permuter) flag(args []string) (int, error) {
	name, _, hasValue := strings.Cut(strings.TrimLeft(args[0], "-"), "=")
	if name == "help" || name == "h" {
		p.help = true
		return 0, nil
	}
	found := findFlag(p.flags, name)
	if found == nil && len(p.path) == 0 {
		// A common flag may stand before the command that owns it.
		found = findFlag(commonFlags(), name)
	}
	if found == nil {
		return 0, p.unknown(args[0], name)
	}
	if !isMany(found) && slices.Contains(p.seen, name) {
		return 0, fault.Usagef("--%s is given twice", name).Try("give it once")
	}
	p.seen = append(p.seen, name)
	if isBool(found) || hasValue {
		p.given = append(p.given, args[0])
		return 0, nil
	}
	if len(args) < 2 {
		return 0, fault.Usagef("--%s needs a value", name).Try("give its value: %s", usageOf(found))
	}
	// A flag where the value belongs means that the value was forgotten.
	if next := strings.TrimLeft(args[1], "-"); strings.HasPrefix(args[1], "--") && findFlag(p.flags, next) != nil {
		return 0, fault.Usagef("--%s needs a value, and %s follows", name, args[1]).Try("give its value: %s", usageOf(found))
	}
	// Join them, so that a value that starts with a hyphen is not read as a flag.
	p.given = append(p.given, "--"+name+"="+args[1])
	return 1, nil
}

func (p *permuter) unknown(word, name string) error {
	var names []string
	for _, f := range p.flags {
		names = append(names, f.Names()...)
	}
	command := strings.Join(append([]string{"hepar"}, p.path...), " ")
	f := fault.Usagef("%s has no flag %q", command, measure.Clean(strings.SplitN(word, "=", 2)[0]))
	if near := fault.Nearest(name, names); near != "" {
		return f.Try("did you mean --%s? \"%s --help\" lists the flags", near, command)
	}
	return f.Try("\"%s --help\" lists the flags", command)
}

func (p *permuter) result() ([]string, error) {
	out := slices.Clone(p.path)
	if p.help {
		// The library looks for a topic if arguments follow --help.
		return append(out, "--help"), nil
	}
	out = append(out, p.given...)
	if len(p.words) > 0 {
		out = append(append(out, "--"), p.words...)
	}
	return out, nil
}

func findFlag(flags []cli.Flag, name string) cli.Flag {
	for _, f := range flags {
		if slices.Contains(f.Names(), name) {
			return f
		}
	}
	return nil
}

func isBool(f cli.Flag) bool {
	_, ok := f.(*cli.BoolFlag)
	return ok
}

func isMany(f cli.Flag) bool {
	_, ok := f.(*cli.StringSliceFlag)
	return ok
}

func usageOf(f cli.Flag) string {
	if d, ok := f.(cli.DocGenerationFlag); ok {
		_, text := valueAndText(d.GetUsage())
		return text
	}
	return "see --help"
}
