package main

import (
	"bufio"
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	tea "charm.land/bubbletea/v2"
	"github.com/creack/pty"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/run"
)

var dipKills = flag.Int("dipkills", 3, "how often a run at the bench is killed")

// plannedRun saves a batch in a journal of its own and opens its run at half past nine.
func plannedRun(t *testing.T, args ...string) (*bench.Bench, *time.Time, []string) {
	t.Helper()
	place := emptyPlace(t)
	args = append([]string{"prepare", "silver-black", "--pieces", "12", "--alloy", "sterling-925", "--shape", "disc", "--diameter", "24mm",
		"--thickness", "1.6mm", "--volume", "1L", "--per-load", "4", "--save"}, args...)
	if code, _, errs := typed(append(args, place...)); code != exitDone {
		t.Fatal(errs)
	}
	now := time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)
	clock := func() time.Time { return now }
	j := journaltest.Open(t, place[len(place)-1], journal.Options{Now: clock, By: "Ilse Tamm"})
	batch, err := j.Get("last")
	if err != nil {
		t.Fatal(err)
	}
	d, r := frozen(batch)
	b := &bench.Bench{Journal: j, WithoutReview: "for the test", By: "Ilse Tamm", Now: clock, Recipe: r, Sheet: d.Sheet}
	b.Take(batch)
	return b, &now, place
}

// press gives the screen a key, well after the one before, and lets it write what it has in
// hand.
func press(t *testing.T, s *dipScreen, keys ...tea.KeyPressMsg) {
	t.Helper()
	for _, k := range keys {
		s.deaf = time.Time{}
		s.Update(k)
		settle(t, s)
	}
}

// settle writes what is in hand, as the program does beside the screen.
func settle(t *testing.T, s *dipScreen) {
	t.Helper()
	for len(s.hand) > 0 {
		batch, err := s.Journal.Bench(s.Batch.ID.String(), s.hand[0], s.WithoutReview)
		s.written(writtenMsg{batch, err})
		s.writing = false
	}
}

var (
	space = tea.KeyPressMsg{Code: tea.KeySpace, Text: " "}
	up    = tea.KeyPressMsg{Code: tea.KeyUp}
	down  = tea.KeyPressMsg{Code: tea.KeyDown}
	right = tea.KeyPressMsg{Code: tea.KeyRight}
	left  = tea.KeyPressMsg{Code: tea.KeyLeft}
)

func digitKeys(text string) (keys []tea.KeyPressMsg) {
	for _, c := range text {
		keys = append(keys, tea.KeyPressMsg{Code: c, Text: string(c)})
	}
	return keys
}

// TestDipScreens compares each screen at three sizes with what a person read and found
// right, and holds that none is wider or higher than its terminal.
func TestDipScreens(t *testing.T) {
	b, now, _ := plannedRun(t)
	s := newDipScreen(b)
	var all strings.Builder
	take := func(name string) {
		for _, size := range [][2]int{{80, 24}, {60, 20}, {100, 30}} {
			s.Update(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
			lines := s.lines()
			if len(lines) > size[1] {
				t.Errorf("%s has %d lines on %d", name, len(lines), size[1])
			}
			fmt.Fprintf(&all, "== %s, %d by %d\n", name, size[0], size[1])
			for _, line := range lines {
				if n := len([]rune(line)); n > size[0] {
					t.Errorf("%s, %d wide: a line of %d: %s", name, size[0], n, line)
				}
				all.WriteString(strings.TrimRight(line, " ") + "\n")
			}
		}
	}
	pass := func(d time.Duration) { *now = now.Add(d); s.Update(tickMsg(*now)); settle(t, s) }
	take("mix")
	press(t, s, space)
	take("read the temperature")
	press(t, s, digitKeys("71,5")...)
	take("a temperature is typed")
	press(t, s, space)
	take("load 1")
	press(t, s, right, down, space)
	s.Update(lookMsg{})
	press(t, s, digitKeys("7")...)
	s.Update(lookMsg{})
	if s.state != reading || s.typed != "7" {
		t.Errorf("a reading that was asked for is gone: state %d, %q", s.state, s.typed)
	}
	take("a reading that was asked for")
	press(t, s, left, down, up, down, space)
	take("lead-in")
	pass(leadIn)
	pass(4 * time.Second)
	take("load 1 is in")
	pass(time.Duration(s.step.Time-2)*time.Second - 4*time.Second)
	take("ready to lift")
	pass(4 * time.Second)
	take("out now")
	press(t, s, space)
	take("load 2")
	press(t, s, right)
	take("what else")
	press(t, s, left)
	*now = now.Add(25 * time.Minute)
	s.refresh()
	take("the bath has been standing")
	press(t, s, append(digitKeys("31"), space)...)
	take("the bath is not right")
	press(t, s, space)
	take("what to do about it")
	golden := filepath.Join("..", "..", "testdata", "screens.txt")
	text := strings.ReplaceAll(all.String(), s.Batch.Number, "NUMBER")
	if os.Getenv("HEPAR_UPDATE") != "" {
		if err := os.WriteFile(golden, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil || string(want) != text {
		t.Errorf("the screens are not those of testdata/screens.txt; look at them, then HEPAR_UPDATE=1 go test ./cmd/hepar -run DipScreens (%v)", err)
	}
}

// TestDipNeedsOnlyAGlove goes through a whole run with space, Enter and the arrows, and
// looks at what the journal then has.
func TestDipNeedsOnlyAGlove(t *testing.T) {
	b, now, _ := plannedRun(t)
	s := newDipScreen(b)
	for range 500 {
		if s.step.Do == run.Result {
			break
		}
		press(t, s, up, down, space)
		for range 200 {
			if s.state != leading && s.state != counting {
				break
			}
			*now = now.Add(500 * time.Millisecond)
			s.Update(tickMsg(*now))
			settle(t, s)
			if s.state == counting && s.left() <= 0 {
				press(t, s, space)
			}
		}
	}
	if b.Batch.Dip == nil || len(b.Batch.Dip.Loads) != len(b.Sheet.Loads) {
		t.Fatalf("the journal has %+v", b.Batch.Dip)
	}
	for i, l := range b.Batch.Dip.Loads {
		if l.Time == nil || float64(*l.Time) < 1 || l.Pieces != 4 {
			t.Errorf("load %d: %+v", i+1, l)
		}
	}
}

// TestComingBackIsSaidOnce: what was said of a load that is still in does not stand on the screen of the next.
func TestComingBackIsSaidOnce(t *testing.T) {
	b, now, _ := plannedRun(t)
	for _, e := range []*run.Entry{run.Keyed(run.Entry{Do: run.Mixed}), run.Keyed(run.Entry{Do: run.Read}), run.Of(run.In, 1, 3, 12)} {
		if err := b.Write(*e); err != nil {
			t.Fatal(err)
		}
	}
	s := newDipScreen(b)
	if s.state != counting || !strings.Contains(s.message, "is not written down") {
		t.Fatalf("state %d, %q", s.state, s.message)
	}
	*now = now.Add(12 * time.Second)
	press(t, s, space)
	if text := strings.Join(s.lines(), "\n"); s.state != showing || strings.Contains(text, "is not written down") {
		t.Errorf("state %d:\n%s", s.state, text)
	}
}

// TestKeysTypedAheadDoNothing: while an entry is not on the disk, and right after a load
// went in, a key changes nothing.
func TestKeysTypedAheadDoNothing(t *testing.T) {
	b, now, _ := plannedRun(t)
	s := newDipScreen(b)
	s.Update(space)
	for range 20 {
		s.Update(space)
	}
	if len(s.hand) != 1 {
		t.Fatalf("%d entries in hand after keys typed ahead", len(s.hand))
	}
	settle(t, s)
	s.Update(up)
	s.Update(space) // a second press of the same glove
	if len(s.hand) != 0 || s.step.Do != run.Read {
		t.Fatalf("a second press took a temperature: %+v", s.hand)
	}
	press(t, s, space) // the temperature
	press(t, s, space) // lead-in
	for range 5 {
		s.Update(space)
	}
	*now = now.Add(leadIn)
	s.Update(tickMsg(*now))
	for range 5 {
		s.Update(space)
	}
	settle(t, s)
	if s.state != counting || len(b.Batch.Bench) != 3 {
		t.Errorf("keys typed ahead ended the load: state %d, %d entries", s.state, len(b.Batch.Bench))
	}
}

// TestUnwrittenEntriesAreHeld: a journal that is held or gone keeps the entry in hand,
// says so, and the entry is written once it can be.
func TestUnwrittenEntriesAreHeld(t *testing.T) {
	b, _, _ := plannedRun(t)
	s := newDipScreen(b)
	s.Update(space)
	for range 3 {
		s.written(writtenMsg{err: fault.Busyf("the journal is in use by process 4711")})
		if len(s.hand) != 1 || !strings.Contains(s.message, "NOT WRITTEN DOWN YET") || s.step.Do != run.Mix {
			t.Fatalf("message %q, %d in hand, step %s", s.message, len(s.hand), s.step.Do)
		}
	}
	settle(t, s)
	if len(s.hand) != 0 || s.step.Do != run.Read || len(b.Batch.Bench) != 1 {
		t.Errorf("%d in hand, step %s, %d entries", len(s.hand), s.step.Do, len(b.Batch.Bench))
	}
}

func TestImpossibleTemperatures(t *testing.T) {
	b, _, _ := plannedRun(t)
	for text, want := range map[string]string{"71.5": "71.5 C", "71,5": "71.5 C", " 160 F": "71.1 C", "71 C": "71 C"} {
		got, err := b.Temperature(text)
		if err != nil || measure.Metric.Temperature(got) != want {
			t.Errorf("%q is %v, %v; want %s", text, got, err, want)
		}
	}
	for _, text := range []string{"", "hot", "715", "-3", "1e3", "0x40", "71.5.2"} {
		if got, err := b.Temperature(text); err == nil || fault.CureOf(err) == "" {
			t.Errorf("%q passed as %v (%v)", text, got, err)
		}
	}
	b.Units = measure.US
	if got, err := b.Temperature("160"); err != nil || got < 71 || got > 71.2 {
		t.Errorf("160 in a shop of US units is %v, %v", got, err)
	}
}

// onPTY starts hepar on a pseudo-terminal and reads what it shows.
func onPTY(t *testing.T, args ...string) (*exec.Cmd, *os.File) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := &exec.Cmd{Path: self, Args: append([]string{"hepar"}, args...), Env: append(os.Environ(), "TERM=xterm-256color", "HEPAR_LEAD=300ms")}
	terminal, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	go func() {
		buffer := make([]byte, 4096)
		for {
			if _, err := terminal.Read(buffer); err != nil {
				return
			}
		}
	}()
	return cmd, terminal
}

// TestDipIsKilled kills a run on a real terminal at random moments, by signals and by
// kill -9, and lets another person go on: no entry that was there is lost, none is
// doubled, and the run ends with the loads of the sheet.
func TestDipIsKilled(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	b, now, place := plannedRun(t, "--start", "82C")
	ends := []syscall.Signal{syscall.SIGKILL, syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP}
	had := map[string]bool{}
	kills := 0
	for round := 0; b.Next().Do != run.Result; round++ {
		if round > *dipKills*20+40 {
			t.Fatalf("the run does not end: %+v", b.Next())
		}
		args := append([]string{"dip", b.Batch.Number, "--without-review", "for the test", "--by", []string{"Ilse Tamm", "Marek Oja"}[round%2]}, place...)
		cmd, terminal := onPTY(t, args...)
		ended := make(chan struct{})
		go func() {
			for {
				select {
				case <-ended:
					return
				case <-time.After(150 * time.Millisecond): // digits open a reading wherever the load is not in
					terminal.Write([]byte([]string{"82 ", " ", " ", " ", " ", " "}[rand.IntN(6)]))
				}
			}
		}()
		life := 20 * time.Second
		if kills < *dipKills {
			kills++
			life = time.Duration(100+rand.IntN(2500)) * time.Millisecond
		}
		gone := make(chan error, 1)
		go func() { gone <- cmd.Wait() }()
		select {
		case <-gone:
		case <-time.After(life):
			cmd.Process.Signal(ends[rand.IntN(len(ends))])
			select {
			case <-gone:
			case <-time.After(5 * time.Second):
				t.Fatal("a signal does not end it")
			}
		}
		close(ended)
		terminal.Close()
		if err := b.Reload(); err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for _, e := range b.Batch.Bench {
			if seen[e.Key] {
				t.Fatalf("entry %s is there twice", e.Key)
			}
			seen[e.Key] = true
		}
		for key := range had {
			if !seen[key] {
				t.Fatalf("entry %s is lost", key)
			}
		}
		had = seen
		*now = time.Now()
	}
	if n := len(b.Batch.Dip.Loads); n != len(b.Sheet.Loads) {
		t.Errorf("%d loads in the journal, %d on the sheet", n, len(b.Sheet.Loads))
	}
	t.Logf("killed %d times, %d entries, %d loads", kills, len(b.Batch.Bench), len(b.Batch.Dip.Loads))
}

// TestLogAsksAtATerminal: a result that was left for later is asked for again, and the shelf after it.
func TestLogAsksAtATerminal(t *testing.T) {
	b, _, place := plannedRun(t)
	if code, _, errs := typed(append([]string{"stock", "add", "liver-of-sulfur", "100g", "--form", "lump"}, place...)); code != exitDone {
		t.Fatal(errs)
	}
	for range b.Sheet.Loads {
		load := b.Next().Load
		for _, do := range []string{run.In, run.Out} {
			if err := b.Write(*run.Of(do, load, 4, 0)); err != nil {
				t.Fatal(err)
			}
		}
	}
	cmd, terminal := onPTY(t, append([]string{"log", b.Batch.Number, "--by", "Ilse Tamm"}, place...)...)
	defer terminal.Close()
	for range 4 { // rework, reject, good, the shelf
		terminal.Write([]byte("\n"))
		time.Sleep(200 * time.Millisecond)
	}
	if err := cmd.Wait(); err != nil {
		t.Error(err)
	}
	if err := b.Reload(); err != nil || b.Batch.Result == nil || b.Batch.Good != 12 || len(b.Batch.Uses) != 1 {
		t.Errorf("%v, %+v, %+v", err, b.Batch.Result, b.Batch.Uses)
	}
}

// TestDipTimesAgreeWithTheClock lets a load end by itself and compares the time that was
// written down with the clock: within 0.2 s.
func TestDipTimesAgreeWithTheClock(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	b, _, place := plannedRun(t, "--start", "82C")
	cmd, terminal := onPTY(t, append([]string{"dip", b.Batch.Number, "--without-review", "for the test", "--by", "Ilse Tamm"}, place...)...)
	defer func() { cmd.Process.Kill(); cmd.Wait(); terminal.Close() }()
	wait := func(what string, n int) []run.Entry {
		for range 300 {
			if err := b.Reload(); err == nil && len(b.Batch.Bench) >= n {
				return b.Batch.Bench
			}
			time.Sleep(20 * time.Millisecond)
		}
		t.Fatalf("%s is not written down", what)
		return nil
	}
	time.Sleep(500 * time.Millisecond)
	terminal.Write([]byte(" "))
	wait("the bath", 1)
	time.Sleep(deafTime + 100*time.Millisecond)
	terminal.Write([]byte("82 "))
	wait("the temperature", 2)
	time.Sleep(deafTime + 100*time.Millisecond)
	terminal.Write([]byte(" "))
	in := wait("the load", 3)[2]
	time.Sleep(2500 * time.Millisecond)
	out := time.Now()
	terminal.Write([]byte(" "))
	last := wait("the load that is out", 4)[3]
	given, real := time.Duration(float64(*last.Time)*float64(time.Second)), out.Sub(in.At)
	if miss := (given - real).Abs(); miss > 200*time.Millisecond {
		t.Errorf("written down %s, the clock says %s", given, real)
	}
}

// TestResultIsAsked: after the last load the result is asked for, counts that do not add
// up are asked again, causes of earlier batches are proposed, and what is next is named.
func TestResultIsAsked(t *testing.T) {
	for _, c := range []struct {
		name, typed, says, logged string
		causes                    map[string]int
		ofLoad                    map[string]int // of the second load
	}{
		{"left for later", "", "hepar log 2026-001 asks again", "no result yet: hepar log 2026-001", nil, nil},
		{"counted", "x\n99\n1\n1\n5\n\n1\n1\n\nspots=9\nspots=1, muddy=1\nspots=9\nspots=2\n", "the counts add up to 7 pieces, and 12 were dipped", "10 good, 1 to rework, 1 rejected",
			map[string]int{"spots": 1, "muddy": 1}, map[string]int{"spots": 1}},
		{"one cause for all", "\n2\n\nmuddy\n2\n", "as spots, or as spots=2", "10 good", map[string]int{"muddy": 2}, map[string]int{"muddy": 2}},
	} {
		b, _, _ := plannedRun(t)
		for range b.Sheet.Loads {
			for _, do := range []string{run.In, run.Out} {
				if err := b.Write(*run.Of(do, b.Next().Load, 4, 0)); err != nil {
					t.Fatal(err)
				}
			}
		}
		var stdout, stderr strings.Builder
		e := &env{in: strings.NewReader(c.typed), out: bufio.NewWriter(&stdout), err: &stderr, inTTY: true, now: b.Now, getenv: func(string) string { return "" }}
		endOfRun(&place{env: e, journal: b.Journal}, b, false)
		e.flush()
		if !strings.Contains(stdout.String(), c.logged) || !strings.Contains(stderr.String(), c.says) {
			t.Errorf("%s: it says\n%s\n%s", c.name, stdout.String(), stderr.String())
		}
		if c.causes != nil && (!maps.Equal(b.Batch.Causes, c.causes) || !maps.Equal(b.Batch.Dip.Loads[1].Causes, c.ofLoad)) {
			t.Errorf("%s: the causes are %v, the loads %+v", c.name, b.Batch.Causes, b.Batch.Dip.Loads)
		}
	}
}

// TestAForgottenLoadStaysIn: a load that nobody takes out is not written down as out; a key long after its time asks.
func TestAForgottenLoadStaysIn(t *testing.T) {
	b, now, _ := plannedRun(t)
	for _, e := range []*run.Entry{run.Keyed(run.Entry{Do: run.Mixed}), run.Keyed(run.Entry{Do: run.Read}), run.Of(run.In, 1, 4, 12)} {
		if err := b.Write(*e); err != nil {
			t.Fatal(err)
		}
	}
	s := newDipScreen(b)
	for range 60 {
		*now = now.Add(time.Second)
		s.Update(tickMsg(*now))
		settle(t, s)
	}
	if text := strings.Join(s.lines(), "\n"); s.state != counting || !strings.Contains(text, "LOAD 1 IS NOT OUT") || b.Next().Open == nil {
		t.Fatalf("state %d, open %v:\n%s", s.state, b.Next().Open, text)
	}
	if press(t, s, space); s.state != choosing || !strings.Contains(strings.Join(s.lines(), "\n"), "it comes out now") {
		t.Errorf("state %d:\n%s", s.state, strings.Join(s.lines(), "\n"))
	}
}

// TestAFarReadingIsAskedTwice: a reading far from where the bath should be is written down at the second key.
func TestAFarReadingIsAskedTwice(t *testing.T) {
	b, _, _ := plannedRun(t)
	if err := b.Write(*run.Keyed(run.Entry{Do: run.Mixed})); err != nil {
		t.Fatal(err)
	}
	s := newDipScreen(b)
	had := len(b.Batch.Bench)
	press(t, s, tea.KeyPressMsg{Code: '7', Text: "7"}, space)
	if text := strings.Join(s.lines(), "\n"); len(b.Batch.Bench) != had || !strings.Contains(text, "7 C is far from") {
		t.Fatalf("%d entries:\n%s", len(b.Batch.Bench)-had, text)
	}
	if press(t, s, space); len(b.Batch.Bench) != had+1 || *b.Batch.Bench[had].Temperature != 7 {
		t.Errorf("%+v", b.Batch.Bench[had:])
	}
}

// TestAFreshBathIsReadFirst: what to weigh and what may not be near is on the screen before a fresh bath counts as mixed.
func TestAFreshBathIsReadFirst(t *testing.T) {
	b, _, _ := plannedRun(t)
	for _, e := range []*run.Entry{run.Keyed(run.Entry{Do: run.Mixed}), run.Keyed(run.Entry{Do: run.Read})} {
		if err := b.Write(*e); err != nil {
			t.Fatal(err)
		}
	}
	s := newDipScreen(b)
	i := slices.IndexFunc(s.step.Others, func(c run.Choice) bool { return c.Word == "fresh" || strings.HasPrefix(c.Text, "fresh bath") })
	had := len(b.Batch.Bench)
	s.pick(s.step.Others[i])
	if text := strings.Join(s.lines(), "\n"); s.state != choosing || !strings.Contains(text, "NO ACID") || !strings.Contains(text, "liver of sulfur") {
		t.Fatalf("state %d:\n%s", s.state, text)
	}
	s.picked = len(s.list) - 1
	if press(t, s, space); len(b.Batch.Bench) != had+1 {
		t.Errorf("%d entries", len(b.Batch.Bench)-had)
	}
}
