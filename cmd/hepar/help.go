package main

import (
	_ "embed"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
)

const exitHelp = `   0 done   1 findings or failure   2 wrong usage   3 refused for safety
   4 journal busy   5 journal damaged   130 interrupted`

const commonGroup = "FLAGS OF EVERY COMMAND"

// group puts flags under a title in the help of a command.
func group(title string, flags ...cli.Flag) []cli.Flag {
	for _, f := range flags {
		switch f := f.(type) {
		case *cli.StringFlag:
			f.Category = title
		case *cli.StringSliceFlag:
			f.Category = title
		case *cli.BoolFlag:
			f.Category = title
		}
	}
	return flags
}

// command makes a command of its name with its arguments, as in "show BATCH". The text of its
// help is in help.txt.
func command(use, usage string, act func(*cli.Context), flags ...cli.Flag) *cli.Command {
	name, takes, _ := strings.Cut(use, " ")
	c := &cli.Command{Name: name, ArgsUsage: takes, Usage: usage, Flags: append(flags, commonFlags()...)}
	c.Action = func(ctx *cli.Context) error {
		act(ctx)
		return nil
	}
	return c
}

// family makes a command of the commands below it.
func family(name, usage string, below ...*cli.Command) *cli.Command {
	return &cli.Command{Name: name, Usage: usage, Subcommands: below}
}

// printHelp prints the help of the program or of one command.
func printHelp(w io.Writer, c *cli.Command) {
	takes := strings.TrimSpace("[FLAGS] " + c.ArgsUsage)
	if c.Subcommands != nil {
		takes = "COMMAND [FLAGS] [ARGUMENTS]"
	}
	io.WriteString(w, wrap(c.HelpName+": ", c.Usage)+"\nUSAGE\n   "+c.HelpName+" "+takes+"\n")
	if said := strings.TrimSpace(manualOf(c.HelpName)); said != "" {
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

func manualOf(name string) string {
	_, from, _ := strings.Cut(manual, "== "+name+"\n")
	text, _, _ := strings.Cut(from, "\n== ")
	fields := strings.NewReplacer("{batch fields}", strings.Join(journal.FieldNames(), ", "), "{jar fields}", strings.Join(journal.StockFieldNames(), ", "))
	return fields.Replace(text)
}

// valueAndText splits the text of a flag, as in "LENGTH: diameter of the wire", into the word for
// its value, in capitals, and the rest.
func valueAndText(usage string) (value, text string) {
	if word, rest, ok := strings.Cut(usage, ": "); ok && word == strings.ToUpper(word) {
		return word, rest
	}
	return "VALUE", usage
}

func titleOf(f cli.Flag) string {
	if c, ok := f.(cli.CategorizableFlag); ok && c.GetCategory() != "" {
		return c.GetCategory()
	}
	return "FLAGS"
}
