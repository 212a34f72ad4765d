package journal_test

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"hepar/journal"
)

// The tests that need a second process run this test binary again, with the
// role to play in the environment.
const (
	roleVariable = "HEPAR_JOURNAL_TEST_ROLE"
	pathVariable = "HEPAR_JOURNAL_TEST_PATH"
	manyVariable = "HEPAR_JOURNAL_TEST_MANY"
)

func TestMain(m *testing.M) {
	role := os.Getenv(roleVariable)
	if role == "" {
		os.Exit(m.Run())
	}
	play := map[string]func(*journal.Journal) error{
		"log": playLogger, "hold": playHolder, "full": playFullDisk, "nobody": playNobody, "copies": playCopies, "read": playReader, "make": playMaker,
	}[role]
	if err := play(journal.At(os.Getenv(pathVariable), journal.Options{By: "child"})); err != nil {
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

// playLogger logs batches, many of them or without end, and prints the number of
// each after it is acknowledged.
func playLogger(j *journal.Journal) error {
	many, err := strconv.Atoi(os.Getenv(manyVariable))
	if err != nil {
		return err
	}
	fmt.Println("ready")
	for n := 0; many == 0 || n < many; n++ {
		b, err := j.Create(order(48))
		if err != nil {
			return err
		}
		fmt.Println("planned", b.Number)
		result := journal.Result{Good: 45, Rework: 3, Reject: 2, Causes: map[string]int{"too-light": 2}, Note: strings.Repeat("dull ", n%200)}
		if _, err := j.LogWith(b.Number, result, journal.LogOptions{By: "child", WithoutReview: "a test"}); err != nil {
			return err
		}
		fmt.Println("logged", b.Number)
	}
	return nil
}

// playHolder holds the journal until its standard input ends.
func playHolder(j *journal.Journal) error {
	return j.Update(func(*journal.Writer) error {
		fmt.Println("holding")
		_, err := io.Copy(io.Discard, os.Stdin)
		return err
	})
}
