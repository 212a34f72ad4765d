package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// permute puts the flags of a command before its arguments: the library ignores those behind
// one in silence. Every word that starts with a hyphen is a flag, until "--".
func permute(app *cli.App, args []string) ([]string, error) {
	p := permuter{commands: app.Commands, flags: app.Flags}
	for len(args) > 0 {
		word := args[0]
		args = args[1:]
		var err error
		switch {
		case word == "--":
			p.words, args = append(p.words, args...), nil
		case word == "--help" || word == "-help" || word == "-h" || word == "--h":
			p.help = true
		case len(word) > 1 && word[0] == '-' && !strings.ContainsRune("0123456789.", rune(word[1])): // not a negative number
			args, err = p.flag(word, args)
		default:
			err = p.word(word)
		}
		if err != nil {
			return nil, err
		}
	}
	out := slices.Clone(p.path)
	if p.help {
		return append(out, "--help"), nil // the library looks for a topic if arguments follow
	}
	out = append(out, p.given...)
	if len(p.words) > 0 {
		out = append(append(out, "--"), p.words...)
	}
	return out, nil
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

// word takes an argument, or the name of a command where one may come.
func (p *permuter) word(word string) error {
	if len(p.words) > 0 || len(p.commands) == 0 {
		p.words = append(p.words, word)
		return nil
	}
	var names []string
	for _, c := range p.commands {
		if c.HasName(word) {
			p.path, p.commands, p.flags = append(p.path, c.Name), c.Subcommands, c.Flags
			return nil
		}
		names = append(names, c.Name)
	}
	if p.help = p.help || word == "help" || word == "h"; p.help {
		return nil
	}
	what := strings.Join(append(slices.Clone(p.path), word), " ")
	return p.unknown(fault.Usagef("there is no command %q", measure.Clean(what)), word, "\"", "\"", "commands", names)
}

// flag takes a flag and its value from the words behind it, and returns those that are left.
func (p *permuter) flag(word string, rest []string) ([]string, error) {
	name, _, hasValue := strings.Cut(strings.TrimLeft(word, "-"), "=")
	found := findFlag(p.flags, name)
	if found == nil && len(p.path) == 0 {
		found = findFlag(commonFlags(), name) // it may stand before the command that owns it
	}
	switch {
	case found == nil:
		var names []string
		for _, f := range p.flags {
			names = append(names, f.Names()...)
		}
		before, _, _ := strings.Cut(word, "=")
		return nil, p.unknown(fault.Usagef("%s has no flag %q", p.command(), measure.Clean(before)), name, "--", "", "flags", names)
	case !isMany(found) && slices.Contains(p.seen, name):
		return nil, fault.Usagef("--%s is given twice", name).Try("give it once")
	}
	p.seen = append(p.seen, name)
	if _, is := found.(*cli.BoolFlag); is || hasValue {
		p.given = append(p.given, word)
		return rest, nil
	}
	value := "give its value: " + usageOf(found)
	if len(rest) == 0 {
		return nil, fault.Usagef("--%s needs a value", name).Try("%s", value)
	}
	// A flag where the value belongs means that the value was forgotten.
	if next, is := strings.CutPrefix(rest[0], "--"); is && findFlag(p.flags, next) != nil {
		return nil, fault.Usagef("--%s needs a value, and %s follows", name, rest[0]).Try("%s", value)
	}
	// Join them, so that a value that starts with a hyphen is not read as a flag.
	p.given = append(p.given, "--"+name+"="+rest[0])
	return rest[1:], nil
}

func (p *permuter) command() string { return strings.Join(append([]string{"hepar"}, p.path...), " ") }

// unknown adds to an error where the names are listed, and the nearest one.
func (p *permuter) unknown(f *fault.Error, word, open, end, what string, names []string) error {
	where := "\"" + p.command() + " --help\" lists the " + what
	if near := fault.Nearest(word, names); near != "" {
		where = "did you mean " + open + near + end + "? " + where
	}
	return f.Try("%s", where)
}

func findFlag(flags []cli.Flag, name string) cli.Flag {
	i := slices.IndexFunc(flags, func(f cli.Flag) bool { return slices.Contains(f.Names(), name) })
	if i < 0 {
		return nil
	}
	return flags[i]
}

func isMany(f cli.Flag) bool {
	_, ok := f.(*cli.StringSliceFlag)
	return ok
}

func usageOf(f cli.Flag) string {
	_, text := valueAndText(f.(cli.DocGenerationFlag).GetUsage())
	return text
}
