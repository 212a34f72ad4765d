package main

import (
	"cmp"
	_ "embed"
	"io"
	"regexp"
	"slices"
	"strings"
	"sync"

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
func command(use, usage string, act cli.ActionFunc, flags ...cli.Flag) *cli.Command {
	name, takes, _ := strings.Cut(use, " ")
	return &cli.Command{Name: name, ArgsUsage: takes, Usage: usage, Flags: flags, Action: act}
}

// family makes a command of the commands below it.
func family(name, usage string, below ...*cli.Command) *cli.Command {
	return &cli.Command{Name: name, Usage: usage, Subcommands: below}
}

// printHelpPage prints the help of the program or of one command. It stands in for the
// template of the library, so that flags keep their order and no line is too wide.
func printHelpPage(w io.Writer, _ string, data any) {
	c, ok := data.(*cli.Command)
	if app, is := data.(*cli.App); is {
		c, ok = &cli.Command{HelpName: "hepar", Usage: app.Usage, Description: app.Description, Subcommands: app.Commands, Flags: app.Flags}, true
	}
	if !ok {
		return
	}
	takes := strings.TrimSpace("[FLAGS] " + c.ArgsUsage)
	if len(c.Subcommands) > 0 || c.HelpName == "hepar" {
		takes = "COMMAND [FLAGS] [ARGUMENTS]"
	}
	io.WriteString(w, wrap(c.HelpName+": ", c.Usage)+"\nUSAGE\n   "+c.HelpName+" "+takes+"\n")
	if said := strings.TrimSpace(cmp.Or(c.Description, manualOf(c.HelpName))); said != "" {
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
	flags := slices.DeleteFunc(slices.Clone(c.Flags), func(f cli.Flag) bool { return f.Names()[0] == "help" })
	t := table{}
	for i, f := range flags {
		value, usage := valueAndText(f.(cli.DocGenerationFlag).GetUsage())
		name := "--" + f.Names()[0] + when(f.(cli.DocGenerationFlag).TakesValue(), " "+value) + when(isMany(f), " ...")
		if t.add(name, usage); i == len(flags)-1 || titleOf(flags[i+1]) != titleOf(f) {
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

// valueWord is the word for a value at the beginning of the text of a flag:
// "LENGTH: diameter of the wire", or "NAME=COUNT, why pieces were not good".
var valueWord = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^([A-Z]{2,}(?:=[A-Z]+)?)(: )?`) })

// valueAndText splits the text of a flag into the word for its value and the rest.
func valueAndText(usage string) (value, text string) {
	switch m := valueWord().FindStringSubmatch(usage); {
	case m == nil:
		return "VALUE", usage
	case m[2] == "":
		return m[1], usage
	default:
		return m[1], strings.TrimPrefix(usage, m[0])
	}
}

func titleOf(f cli.Flag) string {
	if c, ok := f.(cli.CategorizableFlag); ok && c.GetCategory() != "" {
		return c.GetCategory()
	}
	return "FLAGS"
}
