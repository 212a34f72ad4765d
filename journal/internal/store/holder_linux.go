package store

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"syscall"

	"hepar/recipe/measure"
)

// holder names the process that holds the lock on file, as the kernel's list of
// locks has it, or says "another process".
func holder(file *os.File) string {
	var stat syscall.Stat_t
	if err := syscall.Fstat(int(file.Fd()), &stat); err != nil {
		return unknownHolder
	}
	locks, _ := os.ReadFile("/proc/locks")
	for line := range strings.Lines(string(locks)) {
		// 1: FLOCK  ADVISORY  WRITE 1234 08:01:567 0 EOF
		field := strings.Fields(line)
		if len(field) < 6 || field[1] != "FLOCK" || !strings.HasSuffix(field[5], ":"+strconv.FormatUint(stat.Ino, 10)) {
			continue
		}
		pid, _ := strconv.Atoi(field[4])
		name := unknownHolder
		if pid == os.Getpid() {
			name = "this process"
		} else if comm, err := os.ReadFile(fmt.Sprintf("/proc/%d/comm", pid)); err == nil {
			name = measure.Clean(strings.TrimSpace(string(comm)))
		}
		if pid > 0 {
			return fmt.Sprintf("%s (pid %d)", name, pid)
		}
	}
	return unknownHolder
}
