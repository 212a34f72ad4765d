// Command hepar is the bath book of a small metal-finishing workshop.
//
// Each command has a file of its own, cmd_NAME.go. A command reads flags, calls the
// packages under recipe and journal, and prints; it holds no chemistry, no
// arithmetic and no storage format. Errors become two lines and an exit code here,
// in one place. Start with app.go (the commands and the command line), place.go (recipes, shop
// and journal), env.go (the outside world) and help.go.
package main

import (
	"errors"
	"fmt"
	"os"
	"os/signal"
	"runtime/debug"
	"slices"
	"syscall"

	"hepar/journal"
	"hepar/recipe/fault"
)

// The exit codes are part of the interface and do not change.
const (
	exitDone        = 0
	exitFailure     = 1 // findings, or something failed
	exitUsage       = 2 // wrong usage of the command line
	exitSafety      = 3 // refused for safety
	exitBusy        = 4 // another process holds the journal
	exitDamaged     = 5 // the journal is damaged
	exitInterrupted = 130
)

func main() {
	go endOnSignal()
	os.Exit(execute(os.Args[1:], stdio()))
}

// endOnSignal removes half-made files and ends the program when somebody
// interrupts it or the terminal closes. Every write is one transaction or one
// rename, so a stop can spoil nothing else.
func endOnSignal() {
	stops := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) { // nohup wants it ignored
		stops = append(stops, syscall.SIGHUP)
	}
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, stops...)
	<-signals
	journal.DropCopies()
	fmt.Fprintln(os.Stderr, "\nhepar: interrupted; everything written down is kept")
	os.Exit(exitInterrupted)
}

// execute is the whole program for one command line. It returns the exit code.
func execute(args []string, e *env) (code int) {
	defer func() {
		if r := recover(); r != nil {
			if os.Getenv("HEPAR_DEBUG") != "" {
				fmt.Fprintf(e.err, "%s\n", debug.Stack())
			}
			e.complain(fault.Failuref("a fault inside hepar: %v", r).
				Try("report it with the command you typed; HEPAR_DEBUG=1 prints where it happened"))
			code = exitFailure
		}
	}()
	e.json = slices.Contains(args, "--json") // a wrong command line is reported as JSON too
	err := fault.Caught(func() { e.start(args) })
	if err == nil {
		err = e.flush()
	}
	return e.complain(err)
}

// complain prints an error as a line of what is wrong and a line of what to do,
// and returns its exit code.
func (e *env) complain(err error) int {
	if err == nil {
		return exitDone
	}
	if flushErr := e.flush(); flushErr != nil {
		err = errors.Join(err, flushErr)
	}
	var silent *foundError
	if errors.As(err, &silent) {
		return silent.code
	}
	code := exitFailure + int(fault.KindOf(err)) // they have the same order
	e.printError(err, code)
	return code
}

// foundError ends a command that has printed its findings already.
type foundError struct{ code int }

func (f *foundError) Error() string { return "findings" }
