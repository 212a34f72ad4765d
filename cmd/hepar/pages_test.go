package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
)

// readerDays are the days on which a reader tries the pages: today, new year, a leap day.
var readerDays = []string{"", "2027-01-01T00:05:00+01:00", "2028-02-29T09:30:00+01:00"}

var (
	fence      = regexp.MustCompile("(?ms)^```\n(.*?)^```$")
	codeSpan   = regexp.MustCompile("`(hepar [^`]+)`")
	sampleText = regexp.MustCompile("(?ms)^```text\n(.*?)^```$")
)

// commandsOf returns the commands of a page in their order: the lines of its code
// blocks, and each code span that starts with hepar.
func commandsOf(page string) []string {
	page = sampleText.ReplaceAllString(page, "")
	var found []string
	for at := 0; ; {
		block, span := fence.FindStringSubmatchIndex(page[at:]), codeSpan.FindStringSubmatchIndex(page[at:])
		switch {
		case block == nil && span == nil:
			return found
		case span == nil || block != nil && block[0] < span[0]:
			text := strings.ReplaceAll(page[at+block[2]:at+block[3]], "\\\n", " ")
			for line := range strings.Lines(text) {
				if line = strings.TrimSpace(line); line != "" {
					found = append(found, line)
				}
			}
			at += block[1]
		default:
			found = append(found, page[at+span[2]:at+span[3]])
			at += span[1]
		}
	}
}

// reader is a person who types the commands of a page in an empty home.
type reader struct {
	t   *testing.T
	dir string
	env []string
}

func newReader(t *testing.T, now string) *reader {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("the pages are for a POSIX shell")
	}
	dir := t.TempDir()
	return &reader{t: t, dir: dir, env: append(os.Environ(), "HOME="+dir, "XDG_DATA_HOME="+dir+"/data", "XDG_CONFIG_HOME="+dir+"/config",
		"HEPAR_NOW="+now, "HEPAR_SHOP=", "HEPAR_RECIPES=", "HEPAR_JOURNAL=")}
}

// types runs one command line and returns its standard output. It must succeed.
func (r *reader) types(line string) string {
	r.t.Helper()
	if set, ok := strings.CutPrefix(line, "export "); ok {
		r.env = append(r.env, strings.Fields(set)...)
		return ""
	}
	var errs strings.Builder
	c := exec.Command("sh", "-c", strings.Replace(line, "go run ./cmd/hepar", "hepar", 1))
	c.Dir, c.Env, c.Stderr = r.dir, r.env, &errs
	out, err := c.Output()
	if err != nil {
		r.t.Fatalf("%s: %v\n%s", line, err, errs.String())
	}
	return string(out)
}

var plannedLine = regexp.MustCompile(`(?m)^BATCH (\d{4}-\d+)  `)

// TestPagesRun runs every command of the README and of the tour, in order, in an
// empty home, on three days, and checks that "last" names the batch that the reader
// planned. Building and testing are left to .ci/run.
func TestPagesRun(t *testing.T) {
	for page, least := range map[string]int{"README.md": 8, "testdata/tour.md": 30} {
		text, err := os.ReadFile(filepath.Join("..", "..", page))
		if err != nil {
			t.Fatal(err)
		}
		for _, day := range readerDays {
			t.Run(page+" "+day, func(t *testing.T) {
				t.Parallel()
				r, ran, planned := newReader(t, day), 0, "none"
				for _, line := range commandsOf(string(text)) {
					if strings.HasPrefix(line, "go test ") || strings.HasPrefix(line, "CGO_ENABLED=0 go build ") {
						continue
					}
					out := r.types(line)
					ran++
					if m := plannedLine.FindStringSubmatch(out); m != nil {
						planned = m[1]
					}
					if strings.HasPrefix(line, "hepar log last") && !strings.Contains(out, "logged "+planned) {
						t.Errorf("the reader planned batch %s; %s: %s", planned, line, out)
					}
				}
				if ran < least {
					t.Errorf("only %d commands were found", ran)
				}
			})
		}
	}
}

// TestDemoRuns runs the commands that hepar demo prints.
func TestDemoRuns(t *testing.T) {
	for _, day := range readerDays {
		r := newReader(t, day)
		_, printed, _ := strings.Cut(r.types("hepar demo fernholm"), "\n")
		lines := commandsOf("```\n" + printed + "```")
		if len(lines) < 3 {
			t.Fatalf("only %d commands in %s", len(lines), printed)
		}
		for _, line := range lines {
			r.types(line)
		}
	}
}

// TestReadmeSample: the output that the README shows is what its first command prints.
func TestReadmeSample(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	sample := sampleText.FindStringSubmatch(string(text))
	if sample == nil {
		t.Fatal("the README shows no output")
	}
	out := newReader(t, "").types(commandsOf(string(text))[0])
	for line := range strings.Lines(sample[1]) {
		if !strings.Contains(out, line) {
			t.Errorf("the README shows a line that is not printed: %s", line)
		}
	}
}
