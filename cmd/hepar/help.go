package main

import (
	"io"
	"regexp"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

const exitHelp = `   0 done   1 findings or failure   2 wrong usage   3 refused for safety
   4 journal busy   5 journal damaged   130 interrupted`

// commonGroup is the title over the flags that every command takes.
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

// printHelpPage prints the help of the program or of one command. It stands in for the
// template of the library, so that flags keep their order and no line is too wide.
func printHelpPage(w io.Writer, _ string, data any) {
	switch c := data.(type) {
	case *cli.App:
		printPage(w, helpPage{name: "hepar", usage: c.Usage, takes: "COMMAND [FLAGS] [ARGUMENTS]", text: c.Description, commands: c.Commands, flags: c.Flags})
	case *cli.Command:
		p := helpPage{name: c.HelpName, usage: c.Usage, takes: strings.TrimSpace("[FLAGS] " + c.ArgsUsage), text: c.Description, commands: c.Subcommands, flags: c.Flags}
		if len(c.Subcommands) > 0 {
			p.takes = "COMMAND [FLAGS] [ARGUMENTS]"
		}
		printPage(w, p)
	}
}

// helpPage is what a help page says.
type helpPage struct {
	name, usage, takes, text string
	commands                 []*cli.Command
	flags                    []cli.Flag
}

func printPage(w io.Writer, p helpPage) {
	io.WriteString(w, wrap(p.name+": ", p.usage))
	io.WriteString(w, "\nUSAGE\n   "+p.name+" "+p.takes+"\n")
	if p.text != "" {
		io.WriteString(w, "\n")
		for line := range strings.Lines(strings.TrimSpace(p.text)) {
			text := strings.TrimLeft(line, " ")
			io.WriteString(w, wrap(line[:len(line)-len(text)], text))
		}
	}
	if len(p.commands) > 0 {
		io.WriteString(w, "\nCOMMANDS\n")
		t := table{}
		for _, c := range p.commands {
			t.add(c.Name, c.Usage)
		}
		t.write(w, "   ")
	}
	for _, title := range groups(p.flags) {
		io.WriteString(w, "\n"+title+"\n")
		t := table{}
		for _, f := range p.flags {
			d, ok := f.(cli.DocGenerationFlag)
			if !ok || f.Names()[0] == "help" || titleOf(f) != title {
				continue
			}
			name := "--" + f.Names()[0]
			value, text := valueAndText(d.GetUsage())
			if d.TakesValue() {
				name += " " + value
			}
			if isMany(f) {
				name += " ..."
			}
			t.add(name, text)
		}
		t.write(w, "   ")
	}
	io.WriteString(w, "\nEXIT STATUS\n"+exitHelp+"\n")
}

// valueWord is the word for a value at the beginning of the text of a flag:
// "LENGTH: diameter of the wire", or "NAME=COUNT, why pieces were not good".
var valueWord = regexp.MustCompile(`^([A-Z]{2,}(?:=[A-Z]+)?)(: )?`)

// valueAndText splits the text of a flag into the word for its value and the rest.
func valueAndText(usage string) (value, text string) {
	switch m := valueWord.FindStringSubmatch(usage); {
	case m == nil:
		return "VALUE", usage
	case m[2] == "":
		return m[1], usage
	default:
		return m[1], strings.TrimPrefix(usage, m[0])
	}
}

// groups returns the titles of flags in their order, the common ones last.
func groups(flags []cli.Flag) []string {
	var titles []string
	for _, f := range flags {
		if t := titleOf(f); t != commonGroup && !slices.Contains(titles, t) && f.Names()[0] != "help" {
			titles = append(titles, t)
		}
	}
	if slices.ContainsFunc(flags, func(f cli.Flag) bool { return titleOf(f) == commonGroup }) {
		titles = append(titles, commonGroup)
	}
	return titles
}

func titleOf(f cli.Flag) string {
	if c, ok := f.(cli.CategorizableFlag); ok && c.GetCategory() != "" {
		return c.GetCategory()
	}
	return "FLAGS"
}
