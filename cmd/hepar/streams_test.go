package main

import (
	"bufio"
	"bytes"
	"strings"
	"testing"
	"time"

	"hepar/journal"
)

// The colour library looks only at standard output, and colours standard error by it.
// Here each stream is decided on its own.
func TestColourIsForEachStream(t *testing.T) {
	for name, c := range map[string]struct {
		when           string
		outTTY, errTTY bool
		environment    map[string]string
		out, err       bool
	}{
		"both terminals":                 {"auto", true, true, nil, true, true},
		"output in a pipe":               {"auto", false, true, nil, false, true},
		"messages in a file":             {"auto", true, false, nil, true, false},
		"no colour wanted":               {"auto", true, true, map[string]string{"NO_COLOR": "1"}, false, false},
		"a NO_COLOR that says nothing":   {"auto", true, true, map[string]string{"NO_COLOR": ""}, true, true},
		"a dumb terminal":                {"auto", true, true, map[string]string{"TERM": "dumb"}, false, false},
		"always, in pipes":               {"always", false, false, map[string]string{"NO_COLOR": "1"}, true, true},
		"never, on terminals":            {"never", true, true, nil, false, false},
		"a terminal that takes more":     {"auto", true, true, map[string]string{"COLORTERM": "truecolor"}, true, true},
		"CLICOLOR, which does not count": {"auto", false, false, map[string]string{"CLICOLOR": "1"}, false, false},
		"forced, in pipes":               {"auto", false, false, map[string]string{"FORCE_COLOR": "1"}, true, true},
		"forced, and no colour wanted":   {"auto", true, true, map[string]string{"FORCE_COLOR": "1", "NO_COLOR": "1"}, false, false},
		"NO_COLOR beside an odd TERM":    {"auto", true, true, map[string]string{"NO_COLOR": "0", "TERM": "xterm"}, false, false},
		"output is a terminal, dumb too": {"auto", true, false, map[string]string{"TERM": "dumb"}, false, false},
	} {
		e := &env{outTTY: c.outTTY, errTTY: c.errTTY, getenv: func(name string) string { return c.environment[name] }}
		e.decidePaint(c.when)
		if e.paintOut != c.out || e.paintErr != c.err {
			t.Errorf("%s: output %v, messages %v; want %v, %v", name, e.paintOut, e.paintErr, c.out, c.err)
		}
		// The library's own idea of it, which here is that of a test, changes nothing.
		if got := strings.Contains(e.alarm("x"), "\x1b"); got != c.out {
			t.Errorf("%s: coloured %v, want %v", name, got, c.out)
		}
	}
}

// A network file system is named, and warned of, where the journal is used.
func TestNetworkIsWarnedOf(t *testing.T) {
	file := t.TempDir() + "/journal.db"
	run := func(network string, args ...string) (int, string) {
		var stdout, stderr bytes.Buffer
		e := &env{in: strings.NewReader(""), out: bufio.NewWriter(&stdout), err: &stderr, getenv: func(string) string { return "" },
			now: func() time.Time { return time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC) }, network: func(*journal.Journal) string { return network }}
		return execute(append(args, "--journal", file), e), stderr.String()
	}
	logged := []string{"log", "--without-review", "for the test", "--recipe", "silver-black", "--pieces", "3", "--good", "3"}
	for _, args := range [][]string{logged, {"journal", "list"}, {"journal", "verify"}, {"journal", "backup"}, {"stock", "list"}} {
		code, errs := run("NFS", args...)
		if code != exitDone || !strings.Contains(errs, "network file system (NFS)") || !strings.Contains(errs, "local disk") || strings.Count(errs, "note: the journal") != 1 {
			t.Errorf("%v: exit %d: %q", args, code, errs)
		}
		if code, errs := run("", args...); code != exitDone || strings.Contains(errs, "network") {
			t.Errorf("%v on a local disk: exit %d: %q", args, code, errs)
		}
	}
	if _, errs := run("NFS", "recipe", "list"); errs != "" {
		t.Errorf("a command without a journal says %q", errs)
	}
}

// At a terminal every line of a message fits, no word and no command is broken; a program reads one line each.
func TestMessagesFitTheTerminal(t *testing.T) {
	was := pageWidth
	pageWidth = 80
	defer func() { pageWidth = was }()
	common := []string{"--color", "never", "--journal", t.TempDir() + "/journal.db"}
	prepare := []string{"prepare", "silver-black", "--pieces", "4", "--alloy", "fine-999", "--shape", "disc", "--diameter", "39mm", "--mass", "1ozt", "--volume", "1L"}
	for _, c := range []struct {
		args  []string
		whole string
	}{
		{append(prepare, "--save"), ""},
		{[]string{"journal", "waste"}, "hepar journal waste 2026-014 --container W-3,"},
		{[]string{"stock", "add", "gold-salt", "2g"}, "hepar shop --template"},
	} {
		_, out, errs := atTerminal(t, "", append(c.args, common...)...)
		for line := range strings.Lines(out + errs) {
			if line = strings.TrimRight(line, "\n"); len([]rune(line)) > 80 {
				t.Errorf("%v: a line of %d: %s", c.args, len([]rune(line)), line)
			}
		}
		if !strings.Contains(errs, c.whole) {
			t.Errorf("%v: %q is broken in\n%s", c.args, c.whole, errs)
		}
	}
}
