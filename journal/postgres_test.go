package journal_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"hepar/journal"
)

// blocks returns the fenced blocks of FORMAT.md that a comment names, so that what
// the page says is what is tried.
func blocks(t *testing.T) map[string]string {
	t.Helper()
	text, _ := page(t, "FORMAT.md", "")
	out := map[string]string{}
	for _, part := range strings.Split(text, "\n<!-- ")[1:] {
		name, rest, ok := strings.Cut(part, " -->\n```")
		if !ok {
			continue // a table
		}
		_, rest, _ = strings.Cut(rest, "\n")
		block, _, closed := strings.Cut(rest, "\n```\n")
		if !closed || out[name] != "" {
			t.Fatalf("the block after the comment %q cannot be read", name)
		}
		out[name] = block + "\n"
	}
	return out
}

// postgres is a server of our own, on the loopback, that lasts as long as the test.
type postgres struct {
	bin, home string
	port      int
}

// startPostgres starts a server, or skips the test if there is none.
func startPostgres(t *testing.T) *postgres {
	t.Helper()
	if testing.Short() {
		t.Skip("a database server is not started in a short test")
	}
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin") // where Debian has them
	slices.Reverse(found)
	if path, err := exec.LookPath("initdb"); err == nil {
		found = append(found, filepath.Dir(path))
	}
	p := &postgres{home: t.TempDir()}
	for _, bin := range found {
		whole := true
		for _, program := range []string{"initdb", "postgres", "psql", "createdb"} {
			_, err := os.Stat(filepath.Join(bin, program))
			whole = whole && err == nil
		}
		if whole {
			p.bin = bin
			break
		}
	}
	if p.bin == "" {
		t.Skip("PostgreSQL is not installed: the loading of an export was not tried")
	}
	dir, err := os.MkdirTemp("", "hepar-pg-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	if os.Geteuid() == 0 { // the server refuses root
		u, err := user.Lookup("postgres")
		if err != nil {
			u, err = user.Lookup("nobody")
		}
		if err != nil {
			t.Skip("PostgreSQL does not run as root, and there is nobody else to run it as")
		}
		uid, _ := strconv.Atoi(u.Uid)
		gid, _ := strconv.Atoi(u.Gid)
		if err := os.Chown(dir, uid, gid); err != nil {
			t.Fatal(err)
		}
	}
	data := filepath.Join(dir, "data")
	p.run(t, dir, "initdb", "--pgdata="+data, "--username=hepar", "--auth=trust", "--encoding=UTF8", "--locale=C", "--no-sync")
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	p.port = free.Addr().(*net.TCPAddr).Port
	_ = free.Close()
	server := p.command(context.Background(), dir, "postgres", "-D", data, "-c", "listen_addresses=127.0.0.1", "-c", fmt.Sprintf("port=%d", p.port),
		"-c", "unix_socket_directories=", "-c", "fsync=off", "-c", "dynamic_shared_memory_type=mmap", "-c", "max_connections=10", "-c", "shared_buffers=16MB")
	var said bytes.Buffer
	server.Stderr = &said
	if err := server.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Wait() }()
	t.Cleanup(func() {
		_ = server.Process.Signal(os.Interrupt)
		select {
		case <-ended:
		case <-time.After(10 * time.Second):
			_ = server.Process.Kill()
		}
	})
	for range 600 {
		if p.command(t.Context(), p.home, "psql", "--dbname=postgres", "--command=SELECT 1").Run() == nil {
			return p
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("the server did not start:\n%s", said.String())
	return nil
}

// command makes a call of one of the programs, in dir, that sees nobody's settings.
func (p *postgres) command(ctx context.Context, dir, program string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, filepath.Join(p.bin, program), args...)
	cmd.Dir, cmd.WaitDelay = dir, 5*time.Second
	cmd.Env = []string{"LC_ALL=C.UTF-8", "PATH=/usr/bin:/bin", "HOME=" + p.home, "PGUSER=hepar", "PGHOST=127.0.0.1", "PGCONNECT_TIMEOUT=10"}
	if p.port > 0 {
		cmd.Env = append(cmd.Env, fmt.Sprintf("PGPORT=%d", p.port))
	}
	if program == "initdb" || program == "postgres" {
		asServer(cmd, dir)
	}
	return cmd
}

// run runs one of the programs, which must succeed, and returns what it prints.
func (p *postgres) run(t *testing.T, dir, program string, args ...string) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	cmd := p.command(ctx, dir, program, args...)
	var out, wrong bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &wrong
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s %q: %v\n%s%s", program, args, err, out.String(), wrong.String())
	}
	return out.String()
}

func TestLoadIntoPostgres(t *testing.T) {
	page := blocks(t)
	p := startPostgres(t)
	j := busyBench(t)
	for _, text := range []string{`he said "it's black"`, `C:\temp\new`, `\N`, `\.`, `'); DROP TABLE batches; --`, "smørrebrød, 黒染め, 🐟", `\u0000 is words`} {
		must[journal.Batch](t)(j.LogNew(tokens(), journal.Result{Good: 9, Rework: 2, Causes: map[string]int{"patchy": 1}, Note: text}, journal.LogOptions{WithoutReview: "for the test"}))
	}
	dir := t.TempDir()
	for name, block := range page {
		if file, ok := strings.CutPrefix(name, "file: "); ok {
			if err := os.WriteFile(filepath.Join(dir, file), []byte(block), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	lines := exported(t, j, journal.JSONLines, true)
	load := func(text string) {
		if err := os.WriteFile(filepath.Join(dir, "batches.jsonl"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	load(lines)
	for line := range strings.Lines(page["shell: postgres"]) {
		if words := strings.Fields(line); words[0] != "hepar" {
			p.run(t, dir, words[0], words[1:]...)
		}
	}
	query := func(sql string) string {
		return p.run(t, dir, "psql", "--no-psqlrc", "--dbname=workshop", "--set=ON_ERROR_STOP=1", "--quiet", "--no-align", "--tuples-only", "--command="+sql)
	}
	whole := func(text string) map[string]any {
		all := map[string]any{}
		for line := range strings.Lines(text) {
			var v map[string]any
			if err := json.Unmarshal([]byte(line), &v); err != nil {
				t.Fatalf("%v in %s", err, line)
			}
			all[v["id"].(string)] = v
		}
		return all
	}
	if got, want := whole(query("SELECT line::text FROM batches")), whole(lines); !reflect.DeepEqual(got, want) || len(want) != 13 {
		t.Errorf("%d lines came back of %d, or others", len(got), len(want))
	}
	sums := func() string {
		return p.run(t, dir, "psql", "--no-psqlrc", "--dbname=workshop", "--set=ON_ERROR_STOP=1", "--quiet", "--csv", "--tuples-only", "--file=sums.sql")
	}
	said := sums()
	groups := must[[]journal.Group](t)(j.Sum(journal.Filter{State: journal.Logged}, "recipe"))
	g := groups[0]
	for _, want := range []string{
		fmt.Sprintf("%s,%d,%d,%d,%d,%d,%d,71.5,\n", g.Key, g.Logged, g.Pieces, g.Spares, g.Good, g.Rework, g.Reject),
		fmt.Sprintf("%s,patchy,%d\n", g.Key, g.Causes["patchy"]), fmt.Sprintf("%s,spots,%d\n", g.Key, g.Causes["spots"]),
		"2026-001,S-001,8.5,g\n", "2026-004,S-001,8.5,g\n",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("the sums are\n%s\nwant %s", said, want)
		}
	}
	// A later export takes the place of what was there, and a cut one changes nothing.
	must[journal.Batch](t)(j.Amend("2026-001", "good", "8", "one was chipped", ""))
	lines = exported(t, j, journal.JSONLines, false)
	load(lines)
	p.run(t, dir, "psql", "--dbname=workshop", "--set=ON_ERROR_STOP=1", "--file=load.sql")
	load(lines[:len(lines)-20])
	if out, err := p.command(t.Context(), dir, "psql", "--dbname=workshop", "--set=ON_ERROR_STOP=1", "--file=load.sql").CombinedOutput(); err == nil {
		t.Errorf("a cut file was loaded: %s", out)
	}
	if got := whole(query("SELECT line::text FROM batches")); !reflect.DeepEqual(got, whole(lines)) {
		t.Error("the later export did not take the place of the first")
	}
}
