package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/recipe/fault"
)

// permute puts the flags of a command before its arguments. The library stops
// reading flags at the first argument and says nothing of those after it: pieces
// ordered after the recipe's name would be pieces never ordered. Here every word
// that starts with a hyphen is a flag wherever it stands, until "--", and one
// that the command does not know is an error.
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

// isNumber tells a negative figure from a flag.
func isNumber(word string) bool {
	return len(word) > 1 && word[0] == '-' && (word[1] >= '0' && word[1] <= '9' || word[1] == '.')
}

// word takes an argument, or a command's name where one can stand.
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
	f := fault.Usagef("there is no command %q", strings.Join(append(slices.Clone(p.path), word), " "))
	if near := fault.Nearest(word, names); near != "" {
		return f.Try("did you mean %q? \"hepar %s\" lists the commands", near, strings.Join(append(slices.Clone(p.path), "--help"), " "))
	}
	return f.Try("\"hepar %s\" lists the commands", strings.Join(append(slices.Clone(p.path), "--help"), " "))
}

// flag takes a flag and, where it has one, its value. It returns how many words
// besides the flag itself were used.
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
		return 0, fault.Usagef("it is given twice").At("--" + name).Try("give it once; which of the two counts cannot be guessed")
	}
	p.seen = append(p.seen, name)
	if isBool(found) || hasValue {
		p.given = append(p.given, args[0])
		return 0, nil
	}
	if len(args) < 2 {
		return 0, fault.Usagef("nothing follows it").At("--"+name).Try("give its value: %s", usageOf(found))
	}
	// An option in the place of a value is a forgotten value, not a value.
	if next := strings.TrimLeft(args[1], "-"); strings.HasPrefix(args[1], "--") && findFlag(p.flags, next) != nil {
		return 0, fault.Usagef("%s follows it, and not its value", args[1]).At("--"+name).Try("give its value: %s", usageOf(found))
	}
	// One word, so that a value with a hyphen in front is never taken for a flag.
	p.given = append(p.given, "--"+name+"="+args[1])
	return 1, nil
}

func (p *permuter) unknown(word, name string) error {
	var names []string
	for _, f := range p.flags {
		names = append(names, f.Names()...)
	}
	command := strings.Join(append([]string{"hepar"}, p.path...), " ")
	f := fault.Usagef("%s has no flag %q", command, strings.SplitN(word, "=", 2)[0])
	if near := fault.Nearest(name, names); near != "" {
		return f.Try("did you mean --%s? \"%s --help\" lists the flags", near, command)
	}
	return f.Try("\"%s --help\" lists the flags", command)
}

func (p *permuter) result() ([]string, error) {
	out := slices.Clone(p.path)
	if p.help {
		// With arguments, the library takes --help for a topic of that name.
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
	switch f.(type) {
	case *cli.BoolFlag, *namedBool:
		return true
	}
	return false
}

func isMany(f cli.Flag) bool {
	switch f.(type) {
	case *cli.StringSliceFlag, *namedStrings:
		return true
	}
	return false
}

func usageOf(f cli.Flag) string {
	if d, ok := f.(cli.DocGenerationFlag); ok {
		return d.GetUsage()
	}
	return "see --help"
}
