package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/fatih/color"
	"golang.org/x/term"

	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// env is what the program uses of the outside world. A test passes in its own.
type env struct {
	in       io.Reader
	out      *bufio.Writer
	err      io.Writer
	inTTY    bool
	outTTY   bool
	errTTY   bool
	getenv   func(string) string
	now      func() time.Time
	network  func(*journal.Journal) string // set by a test; nil asks the journal
	json     bool
	paintOut bool
	paintErr bool
	wide     int // of the progress that stands on standard error
}

// wallClock tells the time. Only a test binary sets another one: what the environment
// says must not get past the review of the day.
var wallClock = time.Now

func stdio() *env {
	e := &env{
		in: os.Stdin, out: bufio.NewWriterSize(os.Stdout, 32<<10), err: os.Stderr,
		inTTY: term.IsTerminal(int(os.Stdin.Fd())), outTTY: term.IsTerminal(int(os.Stdout.Fd())),
		errTTY: term.IsTerminal(int(os.Stderr.Fd())),
		getenv: os.Getenv, now: wallClock,
	}
	e.decidePaint("auto")
	if width, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil && e.outTTY {
		pageWidth = min(max(width, 60), 100)
	}
	return e
}

// decidePaint decides colour for each stream: the flag wins, then NO_COLOR, FORCE_COLOR, a
// dumb terminal, and whether the stream is a terminal.
func (e *env) decidePaint(when string) {
	e.paintOut, e.paintErr = when == "always", when == "always"
	if when != "auto" || e.getenv("NO_COLOR") != "" {
		return
	}
	forced, dumb := e.getenv("FORCE_COLOR") != "", e.getenv("TERM") == "dumb"
	e.paintOut, e.paintErr = forced || e.outTTY && !dumb, forced || e.errTTY && !dumb
}

// paint colours a text. Colour is only a second signal: the words say it too.
func paint(on bool, text string, attributes ...color.Attribute) string {
	if !on {
		return text
	}
	c := color.New(attributes...)
	c.EnableColor()
	return c.Sprint(text)
}

func (e *env) heading(text string) string { return paint(e.paintOut, text, color.Bold) }
func (e *env) alarm(text string) string   { return paint(e.paintOut, text, color.FgRed, color.Bold) }
func (e *env) amber(text string) string   { return paint(e.paintOut, text, color.FgYellow) }

// say and note print text, at a terminal in lines that fit; what is a file goes to e.out as it is.
func (e *env) say(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	e.out.WriteString(either(e.outTTY, measure.Fit(text, pageWidth), text))
}

func (e *env) note(format string, args ...any) {
	e.clear()
	text := fmt.Sprintf(format, args...)
	io.WriteString(e.err, either(e.errTTY, measure.Fit(text, pageWidth), text))
}

// flush writes out what is waiting. A reader that has gone away is not an error.
func (e *env) flush() error {
	e.clear()
	err := e.out.Flush()
	if err == nil || errors.Is(err, syscall.EPIPE) {
		return nil
	}
	e.out.Reset(io.Discard) // report it once
	return fault.Failuref("the output could not be written").Because(err).Try("check that the disk is not full and that you may write there")
}

// jsonSchema is the number of the form of what --json prints. It rises when a key
// changes its meaning or goes.
const jsonSchema = 1

// printJSON prints one object on one line, with the schema number last.
func (e *env) printJSON(v any) error { return encode(e.out, v) }

// show prints what a command returns: as JSON, or in words.
func (e *env) show(v any, say func()) {
	if e.json {
		fault.Check(e.printJSON(v))
	} else {
		say()
	}
}

// list prints rows: one object on each line, or a table that add fills, or the words for none.
func list[T any](e *env, rows []T, none string, t table, add func(*table, T)) {
	for _, row := range rows {
		if e.json {
			fault.Check(e.printJSON(row))
		} else {
			add(&t, row)
		}
	}
	switch {
	case len(rows) == 0:
		e.note("%s", none)
	case !e.json:
		t.write(e.out, "")
	}
}

func encode(w io.Writer, v any) error {
	var line bytes.Buffer
	enc := json.NewEncoder(&line)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	text := line.String()
	if object, ends := strings.CutSuffix(text, "}\n"); ends {
		text = fmt.Sprintf("%s%s\"schema\":%d}\n", object, when(object != "{", ","), jsonSchema)
	}
	_, err := io.WriteString(w, text)
	return err
}

// printError prints what is wrong and what to do on standard error. Text in it may come from
// a file, so it is cleaned.
func (e *env) printError(err error, code int) {
	what, where, cure := oneLine(err.Error()), "", oneLine(fault.CureOf(err))
	if f, is := errors.AsType[*fault.Error](err); is {
		where = oneLine(f.Where)
	}
	if e.json {
		_ = encode(e.err, map[string]any{"error": map[string]any{"what": what, "where": where, "do": cure, "exit": code}})
		return
	}
	width := either(e.errTTY, pageWidth, len(what+cure)+8) // one line each for a program
	name := paint(e.paintErr, "hepar:", color.FgRed, color.Bold)
	e.note("%s%s\n", name, measure.Hang("hepar: ", what, width)[len("hepar:"):])
	if cure != "" {
		e.note("%s\n", measure.Hang("  do: ", cure, width))
	}
}

func errorText(err error) string { return oneLine(err.Error()) + "; " + oneLine(fault.CureOf(err)) }

// refuse stops the command with an error where something holds.
func refuse(holds bool, err error) {
	if holds {
		fault.Check(err)
	}
}

// oneLine returns text as one clean line for a terminal.
func oneLine(text string) string {
	return measure.Clean(strings.Join(strings.Fields(strings.ToValidUTF8(text, "?")), " "))
}

// elsewhere is what to do about a file that is there already.
const elsewhere = "move it away, or name another file with --output"

// writeNew writes a file that must not exist yet; cure is what to do if it does. Of two processes that
// want the same name, one gets it. A file that cannot be written whole is removed.
func writeNew(file string, text []byte, cure string) error {
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	switch {
	case errors.Is(err, fs.ErrExist):
		return fault.Failuref("%s already exists", measure.Clean(file)).Try("%s", cure)
	case errors.Is(err, fs.ErrNotExist):
		return fault.Failuref("there is no folder %s", measure.Clean(filepath.Dir(file))).Try("make the folder first, or name another place")
	case err == nil:
		_, err = f.Write(text)
		if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
			os.Remove(file)
		}
	}
	if err != nil {
		return fault.Failuref("%s cannot be written", measure.Clean(file)).Because(err).Try("name a place where you may write")
	}
	return nil
}

// ownFolder makes the folder of a file of the workshop; whoever writes there says what is wrong with it.
func ownFolder(file string) { _ = os.MkdirAll(filepath.Dir(file), 0o700) }

// pageFlag makes the flag of a page that a browser prints. example shows a good name for it.
func pageFlag(example, more string) option {
	return does("output", "FILE: the page to write, as in "+example+more, func(file string) error {
		if !strings.HasSuffix(strings.ToLower(file), ".html") {
			return fault.Usagef("%q is not an .html file", measure.Clean(file)).Try("name the file %s; a browser prints it", example)
		}
		return nil
	})
}

// progress returns what shows at a terminal how far long work is, after the first second; the next message clears its line.
func (e *env) progress(what string) (tell func(done int)) {
	begun := time.Now()
	return func(done int) {
		if !e.errTTY || time.Since(begun) < time.Second {
			return
		}
		e.clear()
		e.wide, _ = fmt.Fprint(e.err, measure.Grouped(done)+" "+what)
	}
}

func (e *env) clear() {
	if e.wide > 0 {
		fmt.Fprintf(e.err, "\r%s\r", strings.Repeat(" ", e.wide))
		e.wide = 0
	}
}
