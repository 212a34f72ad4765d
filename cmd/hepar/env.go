package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"syscall"
	"time"

	"github.com/fatih/color"
	"golang.org/x/term"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// env is what the program touches of the outside, so that a test can hand in its
// own.
type env struct {
	in       io.Reader
	out      *bufio.Writer
	err      io.Writer
	inTTY    bool
	outTTY   bool
	errTTY   bool
	getenv   func(string) string
	now      func() time.Time
	network  func(*journal.Journal) string // of a test; else the journal says it itself
	json     bool
	paintOut bool
	paintErr bool
}

func stdio() *env {
	e := &env{
		in: os.Stdin, out: bufio.NewWriterSize(os.Stdout, 32<<10), err: os.Stderr,
		inTTY: term.IsTerminal(int(os.Stdin.Fd())), outTTY: term.IsTerminal(int(os.Stdout.Fd())),
		errTTY: term.IsTerminal(int(os.Stderr.Fd())),
		getenv: os.Getenv, now: time.Now,
	}
	if at := os.Getenv("HEPAR_NOW"); at != "" { // a fixed clock for scripts and tests
		if t, err := time.Parse(time.RFC3339, at); err == nil {
			e.now = func() time.Time { return t }
		}
	}
	e.decidePaint("auto")
	return e
}

// decidePaint settles colour for each stream by itself: the flag wins, then
// NO_COLOR, then a dumb terminal, then whether the stream is a terminal.
func (e *env) decidePaint(when string) {
	e.paintOut, e.paintErr = when == "always", when == "always"
	if when != "auto" {
		return
	}
	plain := e.getenv("NO_COLOR") != "" || e.getenv("TERM") == "dumb"
	e.paintOut, e.paintErr = e.outTTY && !plain, e.errTTY && !plain
}

// The paints. Colour is only ever a second signal: the words say it too.
func paint(on bool, text string, attributes ...color.Attribute) string {
	c := color.New(attributes...)
	if on {
		c.EnableColor()
	} else {
		c.DisableColor()
	}
	return c.Sprint(text)
}

func (e *env) heading(text string) string { return paint(e.paintOut, text, color.Bold) }
func (e *env) alarm(text string) string   { return paint(e.paintOut, text, color.FgRed, color.Bold) }
func (e *env) amber(text string) string   { return paint(e.paintOut, text, color.FgYellow) }

// say prints to standard output.
func (e *env) say(format string, args ...any) { fmt.Fprintf(e.out, format, args...) }

// note prints a message to standard error.
func (e *env) note(format string, args ...any) { fmt.Fprintf(e.err, format, args...) }

// flush writes out what is waiting. A reader that has gone away is no error.
func (e *env) flush() error {
	err := e.out.Flush()
	if err == nil || errors.Is(err, syscall.EPIPE) {
		return nil
	}
	e.out.Reset(io.Discard) // said once is enough
	return fault.Failuref("the output could not be written").Because(err).Try("see that the disk is not full and the place can be written to")
}

// printJSON prints one object on one line.
func (e *env) printJSON(v any) error {
	enc := json.NewEncoder(e.out)
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

func (e *env) printError(err error, code int) {
	var f *fault.Error
	what, where, cure := err.Error(), "", fault.CureOf(err)
	if errors.As(err, &f) {
		where = f.Where
	}
	if e.json {
		enc := json.NewEncoder(e.err)
		enc.SetEscapeHTML(false)
		_ = enc.Encode(map[string]any{"error": map[string]any{"what": what, "where": where, "do": cure, "exit": code}})
		return
	}
	label := paint(e.paintErr, "hepar:", color.FgRed, color.Bold)
	fmt.Fprintf(e.err, "%s %s\n", label, oneLine(what))
	if cure != "" {
		fmt.Fprintf(e.err, "  do: %s\n", oneLine(cure))
	}
}

// oneLine makes text from anywhere fit for one line of a terminal.
func oneLine(text string) string {
	return measure.Clean(strings.Join(strings.Fields(strings.ToValidUTF8(text, "?")), " "))
}
