package journal_test

import (
	"bytes"
	"context"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// postgres is a server of our own, on the loopback, that lasts as long as the test.
type postgres struct {
	bin  string // folder of its programs
	home string // a folder that holds nothing of anybody's settings
	port int
}

// postgresBin finds the programs of PostgreSQL, the newest first.
func postgresBin() (string, bool) {
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin") // where Debian has them, off the path
	slices.SortFunc(found, func(a, b string) int { return len(b) - len(a) + strings.Compare(b, a) })
	if path, err := exec.LookPath("initdb"); err == nil {
		found = append([]string{filepath.Dir(path)}, found...)
	}
	for _, bin := range found {
		whole := true
		for _, program := range []string{"initdb", "postgres", "psql", "createdb"} {
			_, err := os.Stat(filepath.Join(bin, program))
			whole = whole && err == nil
		}
		if whole {
			return bin, true
		}
	}
	return "", false
}

// startPostgres starts a server, or skips the test where there is none.
func startPostgres(t *testing.T) *postgres {
	t.Helper()
	if testing.Short() {
		t.Skip("a database server is not started in a short test")
	}
	bin, ok := postgresBin()
	if !ok {
		t.Skip("PostgreSQL is not installed (Debian: apt-get install postgresql): the loading of an export was not tried")
	}
	dir, err := os.MkdirTemp("", "hepar-pg-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	data := filepath.Join(dir, "data")
	if uid, gid, ok := nobody(); ok {
		if err := os.Chown(dir, uid, gid); err != nil {
			t.Fatal(err)
		}
	} else if os.Geteuid() == 0 {
		t.Skip("PostgreSQL does not run as root, and there is nobody else to run it as")
	}
	p := &postgres{bin: bin, home: t.TempDir()}
	p.run(t, dir, tied, "initdb", "--pgdata="+data, "--username=hepar", "--auth=trust", "--encoding=UTF8", "--locale=C", "--no-sync")
	for range 3 { // somebody may take the port between the asking and the using
		if p.serve(t, data) {
			return p
		}
	}
	t.Fatal("the server did not start")
	return nil
}

// serve starts the server; false where it ended before it answered.
func (p *postgres) serve(t *testing.T, data string) bool {
	t.Helper()
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	p.port = free.Addr().(*net.TCPAddr).Port
	_ = free.Close()
	cmd := exec.Command(filepath.Join(p.bin, "postgres"), "-D", data, "-c", "listen_addresses=127.0.0.1", "-c", fmt.Sprintf("port=%d", p.port),
		"-c", "unix_socket_directories=", "-c", "fsync=off", "-c", "dynamic_shared_memory_type=mmap", "-c", "max_connections=10", "-c", "shared_buffers=16MB")
	cmd.Dir, cmd.Env = filepath.Dir(data), []string{"LC_ALL=C", "PATH=/usr/bin:/bin"}
	said, err := os.Create(filepath.Join(p.home, "server.log"))
	if err != nil {
		t.Fatal(err)
	}
	defer said.Close()
	cmd.Stdout, cmd.Stderr = said, said
	tell := func(what string) {
		text, _ := os.ReadFile(said.Name())
		t.Logf("the server %s:\n%s", what, text)
	}
	tied(cmd)
	started, ended := make(chan error, 1), make(chan error, 1)
	go func() {
		// The kernel ties the server to the thread that starts it, which must not end first.
		runtime.LockOSThread()
		err := cmd.Start()
		started <- err
		if err == nil {
			ended <- cmd.Wait()
		}
	}()
	if err := <-started; err != nil {
		t.Fatal(err)
	}
	stop := func() {
		for _, how := range []os.Signal{syscall.SIGINT, syscall.SIGQUIT, os.Kill} { // fast, immediate, by force
			_ = cmd.Process.Signal(how)
			select {
			case err := <-ended:
				ended <- err
				return
			case <-time.After(10 * time.Second):
			}
		}
	}
	for begun := time.Now(); time.Since(begun) < 30*time.Second; time.Sleep(50 * time.Millisecond) {
		select {
		case err := <-ended:
			tell(fmt.Sprintf("ended, %v", err))
			return false
		default:
		}
		ask := p.command(t.Context(), p.home, "psql", "--dbname=postgres", "--command=SELECT 1")
		if ask.Run() == nil {
			t.Cleanup(func() {
				stop()
				if t.Failed() {
					tell("said")
				}
			})
			return true
		}
	}
	stop()
	tell("did not answer")
	return false
}

// command makes a call of one of the programs, in dir, that sees nobody's settings.
func (p *postgres) command(ctx context.Context, dir, program string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, filepath.Join(p.bin, program), args...)
	cmd.Dir, cmd.WaitDelay = dir, 5*time.Second
	cmd.Env = []string{
		"LC_ALL=C.UTF-8", "PATH=/usr/bin:/bin", "HOME=" + p.home, "PGUSER=hepar", "PGHOST=127.0.0.1", "PGCONNECT_TIMEOUT=10",
	}
	if p.port > 0 {
		cmd.Env = append(cmd.Env, fmt.Sprintf("PGPORT=%d", p.port))
	}
	return cmd
}

// run runs one of the programs, which must succeed, and gives what it prints.
func (p *postgres) run(t *testing.T, dir string, how func(*exec.Cmd), program string, args ...string) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	cmd := p.command(ctx, dir, program, args...)
	if how != nil {
		how(cmd)
	}
	var out, wrong bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &wrong
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s %q: %v\n%s%s", program, args, err, out.String(), wrong.String())
	}
	return out.String()
}
