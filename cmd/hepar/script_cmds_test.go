package main

import (
	"errors"
	"os/exec"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"
)

// exitCodeIs runs a command and checks its exit code: exitcode 3 hepar review x.
// Standard output and error stay there for the lines that follow.
func exitCodeIs(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exitcode CODE COMMAND ...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
	for _, bad := range []string{"panic:", "goroutine ", "runtime error"} {
		if strings.Contains(ts.ReadFile("stderr"), bad) {
			ts.Fatalf("a panic reached the user")
		}
	}
}

// maxWidth checks that no line of a file or stream is wider than so many columns.
func maxWidth(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: maxwidth COLUMNS FILE")
	}
	most, err := strconv.Atoi(args[0])
	ts.Check(err)
	for line := range strings.Lines(ts.ReadFile(args[1])) {
		if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > most {
			ts.Fatalf("%d columns: %s", n, line)
		}
	}
}

// maxLines checks that a file or stream has at most so many lines, up to the first line with a
// text where one is given.
func maxLines(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 || len(args) > 3 {
		ts.Fatalf("usage: maxlines LINES FILE [TEXT]")
	}
	most, err := strconv.Atoi(args[0])
	ts.Check(err)
	text, found := ts.ReadFile(args[1]), true
	if len(args) == 3 {
		text, _, found = strings.Cut(text, args[2])
	}
	if n := strings.Count(text, "\n"); n > most || !found {
		ts.Fatalf("%d lines, want at most %d; text found: %t", n, most, found)
	}
}
