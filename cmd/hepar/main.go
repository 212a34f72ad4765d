// Command hepar is the bath book of a small metal-finishing workshop.
//
// Each sub-command has a file of its own. Commands read flags, call the
// packages under recipe and journal, and print; they hold no chemistry, no
// arithmetic and no storage format. What goes wrong comes back as an error and
// is turned into two lines and an exit code here, once.
package main

import (
	"errors"
	"fmt"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"hepar/journal"
	"hepar/recipe/fault"
)

// The exit codes. They are part of the interface and do not change.
const (
	exitDone        = 0
	exitFailure     = 1 // findings, or something failed
	exitUsage       = 2 // the command was put wrongly
	exitSafety      = 3 // refused for safety
	exitBusy        = 4 // another process holds the journal
	exitDamaged     = 5 // the journal is damaged
	exitInterrupted = 130
)

func main() {
	// Scripts ask for the version at every start: answer before anything is set up.
	if len(os.Args) == 2 && os.Args[1] == "--version" {
		os.Stdout.WriteString(versionLine() + "\n")
		return
	}
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	go func() {
		<-signals
		journal.DropCopies()
		// Nothing is held that a stop could spoil: every write is one transaction
		// or one rename.
		fmt.Fprintln(os.Stderr, "\nhepar: interrupted; nothing half done was kept")
		os.Exit(exitInterrupted)
	}()
	os.Exit(run(os.Args[1:], stdio()))
}

// run is the whole program for one command line. It returns the exit code.
func run(args []string, e *env) (code int) {
	defer func() {
		if r := recover(); r != nil {
			if os.Getenv("HEPAR_DEBUG") != "" {
				fmt.Fprintf(e.err, "%s\n", debug.Stack())
			}
			e.complain(fault.Failuref("a fault inside hepar: %v", r).
				Try("please report it with the command you typed; HEPAR_DEBUG=1 prints where it happened"))
			code = exitFailure
		}
	}()
	app := newApp(e, args)
	ordered, err := permute(app, args)
	if err == nil {
		err = app.Run(append([]string{"hepar"}, ordered...))
	}
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
	code := exitCode(fault.KindOf(err))
	e.printError(err, code)
	return code
}

// exitCode is the one place where a kind of error becomes an exit code.
func exitCode(k fault.Kind) int {
	switch k {
	case fault.Usage:
		return exitUsage
	case fault.Safety:
		return exitSafety
	case fault.Busy:
		return exitBusy
	case fault.Damaged:
		return exitDamaged
	}
	return exitFailure
}

// foundError ends a command whose findings have been printed already.
type foundError struct{ code int }

func (f *foundError) Error() string { return "findings" }
