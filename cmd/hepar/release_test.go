package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestReleaseIgnoresTheClockOfTheEnvironment builds the program as a release does. A
// day set in the environment would get past the review of the day.
func TestReleaseIgnoresTheClockOfTheEnvironment(t *testing.T) {
	dir := t.TempDir()
	program := filepath.Join(dir, "hepar.exe")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	c := exec.Command(program, "log", "--without-review", "for the test", "--recipe", "silver-black", "--pieces", "3", "--good", "3", "--journal", filepath.Join(dir, "j.db"), "--json")
	c.Env = append(os.Environ(), "HEPAR_NOW=2031-05-05T09:30:00Z", "XDG_CONFIG_HOME="+dir)
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if strings.Contains(string(out), "2031-05-05") {
		t.Errorf("the program took its day from the environment: %s", out)
	}
}
