package main

import (
	"bufio"
	"bytes"
	"strings"
	"testing"
	"time"
)

// atTerminal runs one command line as if on a terminal, with what the person types.
func atTerminal(t *testing.T, typed string, args ...string) (code int, out, errs string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	e := &env{in: strings.NewReader(typed), out: bufio.NewWriter(&stdout), err: &stderr, inTTY: true, outTTY: true, errTTY: true,
		getenv: func(string) string { return "" }, now: func() time.Time { return time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC) }}
	e.decidePaint("never")
	code = execute(args, e)
	return code, stdout.String(), stderr.String()
}

// TestPointsAreAcknowledgedOneByOne: on a terminal nothing is taken on in bulk.
func TestPointsAreAcknowledgedOneByOne(t *testing.T) {
	dir := t.TempDir()
	journal := dir + "/journal.db"
	common := []string{"--journal", journal}
	code, out, errs := atTerminal(t, "", append([]string{"prepare", "silver-black", "--pieces", "4", "--alloy", "fine-999", "--shape", "disc",
		"--diameter", "39mm", "--mass", "1ozt", "--volume", "1L", "--save"}, common...)...)
	if code != exitDone || !strings.Contains(out, "BATCH 2026-001") {
		t.Fatalf("exit %d: %s", code, errs)
	}
	for name, typed := range map[string]string{
		"left at the second point": "Ilse\ny\nn\n",
		"no name":                  "\n",
		"end of input":             "Ilse\ny\n",
		"Enter confirms nothing":   "Ilse\n\n\n\n\nok\nn\n",
		"a yes is no pH":           "Ilse\ny\nhood\n5\ny\ny\nMarek Oja\n2025-04-30\ny\nyes\nn\n",
	} {
		code, _, errs := atTerminal(t, typed, append([]string{"review", "2026-001"}, common...)...)
		if code != exitFailure || !strings.Contains(errs, "not acknowledged") {
			t.Errorf("%s: exit %d: %s", name, code, errs)
		}
		if _, out, _ := atTerminal(t, "", append([]string{"journal", "show", "2026-001"}, common...)...); !strings.Contains(out, "none in the journal") {
			t.Errorf("%s: a review was kept", name)
		}
	}
	if code, _, errs := atTerminal(t, "Ilse\ny\nhood\n5\ny\ny\nMarek Oja\n2025-04-30\ny\n3\n", append([]string{"review", "2026-001"}, common...)...); code != exitSafety || !strings.Contains(errs, "do not use this bath") {
		t.Errorf("a pH of 3: exit %d: %s", code, errs)
	}
	code, out, errs = atTerminal(t, "Ilse Tamm\ny\nhood\n5\ny\ny\nMarek Oja\n2025-04-30\ny\n10,5\n", append([]string{"review", "2026-001"}, common...)...)
	if code != exitDone || !strings.Contains(errs, "acknowledged by Ilse Tamm") {
		t.Errorf("exit %d: %s", code, errs)
	}
	if !strings.Contains(out, "IF SOMETHING GOES WRONG") || strings.Contains(out, "DONE BEFORE") {
		t.Errorf("it says %s", out)
	}
}

// TestPanicsDoNotReachAnybody: a fault inside becomes two lines and an exit code.
func TestPanicsDoNotReachAnybody(t *testing.T) {
	var stderr bytes.Buffer
	e := &env{out: bufio.NewWriter(&bytes.Buffer{}), err: &stderr, getenv: func(string) string { return "" }}
	e.now = nil // the clock is asked for and is not there
	code := execute([]string{"journal", "list", "--from", "2026-01-01", "--journal", t.TempDir() + "/x.db"}, e)
	if code != exitFailure || !strings.Contains(stderr.String(), "a fault inside hepar") || strings.Contains(stderr.String(), "goroutine") {
		t.Errorf("exit %d: %s", code, stderr.String())
	}
}
