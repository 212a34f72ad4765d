package main

import (
	"cmp"
	_ "embed"
	"io"
	"reflect"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
)

const exitHelp = `   0 done   1 findings or failure   2 wrong usage   3 refused for safety
   4 journal busy   5 journal damaged   130 interrupted`

// group puts flags under a title in the help of a command.
func group(title string, flags ...option) []option {
	for _, f := range flags {
		reflect.ValueOf(f).Elem().FieldByName("Category").SetString(title)
	}
	return flags
}

// command makes a command of its name with its arguments, as in "show BATCH". The text of its
// help is in help.txt.
func command(use, usage string, act func(*call), flags ...option) *verb {
	name, takes, _ := strings.Cut(use, " ")
	c := &verb{Name: name, ArgsUsage: takes, Usage: usage, Flags: append(flags, commonFlags()...)}
	c.Action = func(ctx *call) error {
		act(ctx)
		return nil
	}
	return c
}

// printHelp prints the help of the program or of one command.
func printHelp(w io.Writer, c *verb) {
	takes := strings.TrimSpace("[FLAGS] " + c.ArgsUsage)
	if c.Subcommands != nil {
		takes = "COMMAND [FLAGS] [ARGUMENTS]"
	}
	io.WriteString(w, wrap(c.HelpName+": ", c.Usage)+"\nUSAGE\n   "+c.HelpName+" "+takes+"\n")
	_, from, _ := strings.Cut(manual, "== "+c.HelpName+"\n")
	said, _, _ := strings.Cut(from, "\n== ")
	fields := strings.NewReplacer("{batch fields}", strings.Join(journal.Names(journal.Fields()), ", "), "{jar fields}", strings.Join(journal.Names(journal.StockFields()), ", "))
	if said = strings.TrimSpace(fields.Replace(said)); said != "" {
		for paragraph := range strings.SplitSeq(said, "\n\n") {
			io.WriteString(w, "\n")
			if !strings.Contains(paragraph, "\n ") { // prose; lines of examples stay lines
				paragraph = strings.ReplaceAll(paragraph, "\n", " ")
			}
			for line := range strings.Lines(paragraph) {
				text := strings.TrimLeft(line, " ")
				io.WriteString(w, wrap(line[:len(line)-len(text)], text))
			}
		}
	}
	if len(c.Subcommands) > 0 {
		io.WriteString(w, "\nCOMMANDS\n")
		t := table{}
		for _, sub := range c.Subcommands {
			t.add(sub.Name, sub.Usage)
		}
		t.write(w, "   ")
	}
	t := table{}
	for i, f := range c.Flags {
		value, usage := valueAndText(f.(cli.DocGenerationFlag).GetUsage())
		name := "--" + f.Names()[0] + when(f.(cli.DocGenerationFlag).TakesValue(), " "+value) + when(isMany(f), " ...")
		if t.add(name, usage); i == len(c.Flags)-1 || titleOf(c.Flags[i+1]) != titleOf(f) {
			io.WriteString(w, "\n"+titleOf(f)+"\n")
			t.write(w, "   ")
			t = table{}
		}
	}
	io.WriteString(w, "\nEXIT STATUS\n"+exitHelp+"\n")
}

// manual says of each command, under its name as the heading, what it does, with examples.
//
//go:embed help.txt
var manual string

// valueAndText splits the text of a flag, as in "LENGTH: diameter of the wire", into the word for
// its value, in capitals, and the rest.
func valueAndText(usage string) (value, text string) {
	if word, rest, ok := strings.Cut(usage, ": "); ok && word == strings.ToUpper(word) {
		return word, rest
	}
	return "VALUE", usage
}

func titleOf(f option) string { return cmp.Or(f.(cli.CategorizableFlag).GetCategory(), "FLAGS") }
