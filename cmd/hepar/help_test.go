package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/urfave/cli/v2"
)

// everyCommand calls fn with the words of each command and group of commands.
func everyCommand(fn func(words []string, c *cli.Command)) {
	var walk func(words []string, list []*cli.Command)
	walk = func(words []string, list []*cli.Command) {
		for _, c := range list {
			here := append(words[:len(words):len(words)], c.Name)
			fn(here, c)
			walk(here, c.Subcommands)
		}
	}
	walk(nil, root(&env{out: bufio.NewWriter(&bytes.Buffer{}), now: time.Now}, nil).Subcommands)
}

// TestHelpPages: the help of every command names all its flags once, says what each
// is for, fits a terminal of 100 columns and ends with the exit status.
func TestHelpPages(t *testing.T) {
	pages, unsaid := 0, regexp.MustCompile(`(?m)^== hepar .*$`).FindAllString(manual, -1)
	everyCommand(func(words []string, c *cli.Command) {
		pages++
		unsaid = slices.DeleteFunc(unsaid, func(head string) bool { return head == "== hepar "+strings.Join(words, " ") })
		if len(words) == 1 && len(c.Subcommands) == 0 && !strings.Contains(manual, "== hepar "+c.Name+"\n") {
			t.Errorf("the manual does not say what hepar %s does", c.Name)
		}
		code, out, errs := atTerminal(t, "", append(words, "--help")...)
		if code != exitDone || errs != "" {
			t.Fatalf("%v: exit %d: %s", words, code, errs)
		}
		if !strings.HasSuffix(out, "EXIT STATUS\n"+exitHelp+"\n") {
			t.Errorf("%v: the help does not end with the exit status", words)
		}
		for line := range strings.Lines(out) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > pageWidth {
				t.Errorf("%v: %d columns: %s", words, n, line)
			}
		}
		for _, f := range c.Flags {
			if n := strings.Count(out, "\n   --"+f.Names()[0]+" "); n != 1 && f.Names()[0] != "help" {
				t.Errorf("%v: --%s stands %d times in the help", words, f.Names()[0], n)
			}
		}
		if usage := []rune(c.Usage); len(usage) == 0 || unicode.IsUpper(usage[0]) && !unicode.IsUpper(usage[1]) || strings.HasSuffix(c.Usage, ".") {
			t.Errorf("%v: the usage line is %q", words, c.Usage)
		}
	})
	if pages < 35 || len(unsaid) > 0 {
		t.Errorf("only %d commands were found; the manual has %q, which are none", pages, unsaid)
	}
}

// TestEveryCommandHasAScript: some script gives each command something that it refuses.
func TestEveryCommandHasAScript(t *testing.T) {
	files, err := filepath.Glob("../../testdata/scripts/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all.Write(data)
	}
	everyCommand(func(words []string, c *cli.Command) {
		if here := strings.Join(words, " "); len(c.Subcommands) == 0 && !regexp.MustCompile(`(?m)^(exitcode [1-9]|! exec).* hepar `+here+`( |$)`).MatchString(all.String()) {
			t.Errorf("no script refuses anything of hepar %s", here)
		}
	})
}

// TestErrorsAreClean: text from a file or a command line reaches neither a terminal
// nor a reader of JSON with control characters or marks that turn the direction of
// writing.
func TestErrorsAreClean(t *testing.T) {
	hostile := "a\u202egnp\u2066b\u200f\x1b[31mred\x07\u009b"
	for _, args := range [][]string{
		{"recipe", "show", hostile}, {"convert", hostile, "kg"}, {hostile}, {"recipe", "list", "--" + hostile}, {"shop", "--shop", hostile},
		{"journal", "show", hostile, "--journal", hostile}, {"prepare", "silver-black", "--pieces", "3", "--alloy", hostile},
		{"log", "--without-review", "for the test", "--recipe", "silver-black", "--pieces", "3", "--good", "3", "--at", hostile}, {"journal", "list", "--units", hostile},
		{"prepare", "silver-black", "--pieces", hostile}, {"recipe", "check", hostile}, {"journal", "merge", hostile},
	} {
		for _, form := range []string{"--color=never", "--json"} {
			code, _, errs := atTerminal(t, "", append(args, form)...)
			if code == exitDone || errs == "" {
				t.Errorf("%q %s: exit %d: %s", args, form, code, errs)
			}
			if form == "--json" {
				var line struct {
					Error struct{ What, Where, Do string }
				}
				if err := json.Unmarshal([]byte(errs), &line); err != nil {
					t.Fatalf("%q: %v: %s", args, err, errs)
				}
				errs = line.Error.What + line.Error.Where + line.Error.Do
			}
			for _, r := range strings.ReplaceAll(errs, "\n", "") {
				if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
					t.Errorf("%q %s: %U in %q", args, form, r, errs)
					break
				}
			}
		}
	}
}
