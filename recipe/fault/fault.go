// Package fault is how every room of the house says that something is wrong.
//
// An [Error] is two lines for a person: what is wrong and where, and what to do
// about it. It also carries a [Kind], from which the command line, in one place,
// picks the exit code. Packages return these errors and never print.
//
// Call [Failuref], [Usagef], [Safetyf], [Busyf] or [Damagedf] to make one, and
// add the place with [Error.At] and the cure with [Error.Try]:
//
//	return fault.Usagef("no unit in %q", text).At("--volume").Try("write 500 mL or 1.5 L")
package fault

import (
	"errors"
	"fmt"
)

// Kind says what sort of trouble an error is. It decides the exit code.
type Kind int

// The kinds, in the order of the exit codes (see exitCode in cmd/hepar). Usage is what can be
// told from the command line alone: its words, flags, quantities and the names of recipes,
// metals and substances. Whatever hangs on a file is Failure, so that a script can tell a slip
// in itself from a disk that is not as it was.
const (
	Failure Kind = iota // something that should have worked did not, or a check has findings
	Usage               // the command was put wrongly: a bad flag, quantity, unit or name
	Safety              // refused because it could hurt someone
	Busy                // another process holds the journal
	Damaged             // the journal is not sound
)

// Error is one thing that is wrong: where, what, and what to do about it.
type Error struct {
	Kind  Kind
	Where string // a flag, a file:line:column, a step; may be empty
	What  string // one line, lower case, no full stop
	Cure  string // one line that says what to do; may be empty
	Err   error  // the cause, if there is one
}

// Error gives the first of the two lines: where and what.
func (e *Error) Error() string {
	text := e.What
	if e.Where != "" {
		text = e.Where + ": " + text
	}
	if e.Err != nil && e.Err.Error() != "" { // empty: the cause is for errors.Is only
		text += ": " + e.Err.Error()
	}
	return text
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }

// At names the place and returns the same error.
func (e *Error) At(where string) *Error { e.Where = where; return e }

// Try sets the cure and returns the same error.
func (e *Error) Try(format string, args ...any) *Error {
	e.Cure = fmt.Sprintf(format, args...)
	return e
}

// Because sets the cause and returns the same error.
func (e *Error) Because(err error) *Error { e.Err = err; return e }

func newf(kind Kind, format string, args []any) *Error {
	return &Error{Kind: kind, What: fmt.Sprintf(format, args...)}
}

// Failuref makes an error of kind [Failure].
func Failuref(format string, args ...any) *Error { return newf(Failure, format, args) }

// Usagef makes an error of kind [Usage].
func Usagef(format string, args ...any) *Error { return newf(Usage, format, args) }

// Safetyf makes an error of kind [Safety].
func Safetyf(format string, args ...any) *Error { return newf(Safety, format, args) }

// Busyf makes an error of kind [Busy].
func Busyf(format string, args ...any) *Error { return newf(Busy, format, args) }

// Damagedf makes an error of kind [Damaged].
func Damagedf(format string, args ...any) *Error { return newf(Damaged, format, args) }

// KindOf returns the kind of err, and [Failure] for an error of another type.
func KindOf(err error) Kind {
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Kind
	}
	return Failure
}

// CureOf returns what to do about err, or the empty string.
func CureOf(err error) string {
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Cure
	}
	return ""
}
