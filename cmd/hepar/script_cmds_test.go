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
