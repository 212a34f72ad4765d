package main

import (
	"bufio"
	"bytes"
	"io"
	"testing"
	"time"
)

// BenchmarkPrepareCommand is the whole command but for the start of a process: flags,
// recipe, sheet, review, printing. Compare it with BenchmarkVersionCommand.
func BenchmarkPrepareCommand(b *testing.B) {
	benchmarkCommand(b, "prepare", "silver-black", "--pieces", "40", "--alloy", "fine-999", "--shape", "disc",
		"--diameter", "39mm", "--mass", "1ozt", "--vessel", "200x140x90mm")
}

// BenchmarkVersionCommand is the least that a command costs.
func BenchmarkVersionCommand(b *testing.B) { benchmarkCommand(b, "--version") }

func benchmarkCommand(b *testing.B, args ...string) {
	var errs bytes.Buffer
	e := &env{out: bufio.NewWriter(io.Discard), err: &errs, getenv: func(string) string { return "" }, now: time.Now}
	for b.Loop() {
		if code := execute(args, e); code != exitDone {
			b.Fatalf("exit %d: %s", code, errs.String())
		}
	}
}
