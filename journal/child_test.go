package journal_test

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"hepar/journal"
)

// The long runs: go test ./journal -run Killed -args -kills 300.
var (
	kills   = flag.Int("kills", 20, "how often TestKilled kills a process that logs")
	damages = flag.Int("damages", 300, "how many damages by chance TestDamage does")
	ratios  = flag.Bool("bench", false, "print the table of TestRatios")
)

// The tests that need a second process run this test binary again, with the role to
// play in the environment.
const (
	roleVariable = "HEPAR_JOURNAL_TEST_ROLE"
	pathVariable = "HEPAR_JOURNAL_TEST_PATH"
	manyVariable = "HEPAR_JOURNAL_TEST_MANY"
)

var roles = map[string]func(j *journal.Journal, many int) error{"log": playLogger, "make": playMaker, "hold": playHolder}

func TestMain(m *testing.M) {
	role := os.Getenv(roleVariable)
	if role == "" {
		os.Exit(m.Run())
	}
	many, _ := strconv.Atoi(os.Getenv(manyVariable))
	if err := roles[role](journal.At(os.Getenv(pathVariable), journal.Options{By: "Marek Oja"}), many); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(0)
}

// child is a process that plays a role on a journal.
type child struct {
	*exec.Cmd
	out   *bufio.Reader
	stdin io.WriteCloser
	err   *strings.Builder
}

// startChild starts a child. It is killed when the test ends.
func startChild(t testing.TB, role, path string, many int) *child {
	t.Helper()
	c := &child{Cmd: exec.Command(os.Args[0]), err: &strings.Builder{}}
	c.Env = append(os.Environ(), roleVariable+"="+role, pathVariable+"="+path, manyVariable+"="+strconv.Itoa(many))
	c.Stderr = c.err
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if c.stdin, err = c.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	c.out = bufio.NewReader(out)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Process.Kill(); _ = c.Wait() })
	return c
}

// lines returns all that the child prints until it ends.
func (c *child) lines(t testing.TB) []string {
	t.Helper()
	var all []string
	for {
		line, err := c.out.ReadString('\n')
		if err != nil {
			break // a line cut short was not acknowledged
		}
		all = append(all, strings.TrimSpace(line))
	}
	if err := c.Wait(); err != nil && c.err.Len() > 0 {
		t.Errorf("a child failed: %v: %s", err, c.err)
	}
	return all
}

// playLogger plans and logs batches, so many or without end, and prints the number
// of each after it is acknowledged.
func playLogger(j *journal.Journal, many int) error {
	for n := 0; many == 0 || n < many; n++ {
		b, err := j.Create(tokens(), nil)
		if err != nil {
			return err
		}
		fmt.Println("planned", b.Number)
		result := journal.Result{Good: 57, Rework: 3, Causes: map[string]int{"too-light": 2}, Note: strings.Repeat("dull ", n%200)}
		if _, err := j.Log(b.Number, result, journal.LogOptions{WithoutReview: "a test"}); err != nil {
			return err
		}
		fmt.Println("logged", b.Number)
	}
	return nil
}

// playMaker makes journals, each in a folder of its own.
func playMaker(j *journal.Journal, _ int) error {
	fmt.Println("ready")
	for n := 0; ; n++ {
		if _, err := journal.At(fmt.Sprintf("%s-%d/hepar.journal", j.Path(), n), journal.Options{}).Create(tokens(), nil); err != nil {
			return err
		}
	}
}

// playHolder holds the journal until its standard input ends.
func playHolder(j *journal.Journal, _ int) error {
	return j.Update(func(*journal.Tx) error {
		fmt.Println("holding")
		_, err := io.Copy(io.Discard, os.Stdin)
		return err
	})
}
