package main

import (
	"strconv"
	"strings"
	"time"
)

// progress shows on one line how far long work is. It shows nothing in the first
// second, and nothing if standard error is not a terminal.
type progress struct {
	e     *env
	what  string // "rows"
	begun time.Time
	told  time.Time // when it was last shown
	wide  int
}

func newProgress(e *env, what string) *progress {
	now := time.Now()
	return &progress{e: e, what: what, begun: now, told: now}
}

// tell shows how much is done, at most five times a second.
func (p *progress) tell(done int) {
	now := time.Now()
	if !p.e.errTTY || now.Sub(p.begun) < time.Second || now.Sub(p.told) < 200*time.Millisecond {
		return
	}
	p.told = now
	text := grouped(done) + " " + p.what
	p.e.note("\r%s%s", text, strings.Repeat(" ", max(0, p.wide-len(text))))
	p.wide = max(p.wide, len(text))
}

// end clears the line.
func (p *progress) end() {
	if p.wide > 0 {
		p.e.note("\r%s\r", strings.Repeat(" ", p.wide))
	}
}

// grouped returns a count in groups of three digits: 1,234,567.
func grouped(n int) string {
	text := strconv.Itoa(n)
	for i := len(text) - 3; i > 0 && text[i-1] != '-'; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
}
