package store

import (
	"bufio"
	"fmt"
	"os"
	"strconv"
	"strings"
	"syscall"
)

// holder names the process that holds the lock on file, as the kernel's list of
// locks has it, or says "another process".
func holder(file *os.File) string {
	info, err := file.Stat()
	if err != nil {
		return unknownHolder
	}
	stat, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return unknownHolder
	}
	list, err := os.Open("/proc/locks")
	if err != nil {
		return unknownHolder
	}
	defer list.Close()
	inode := ":" + strconv.FormatUint(stat.Ino, 10)
	lines := bufio.NewScanner(list)
	for lines.Scan() {
		// 1: FLOCK  ADVISORY  WRITE 1234 08:01:567 0 EOF
		field := strings.Fields(lines.Text())
		if len(field) < 6 || field[1] != "FLOCK" || !strings.HasSuffix(field[5], inode) {
			continue
		}
		if pid, err := strconv.Atoi(field[4]); err == nil && pid > 0 {
			return nameProcess(pid)
		}
	}
	return unknownHolder
}

func nameProcess(pid int) string {
	if pid == os.Getpid() {
		return fmt.Sprintf("this process (pid %d)", pid)
	}
	name, err := os.ReadFile(fmt.Sprintf("/proc/%d/comm", pid))
	if err != nil {
		return fmt.Sprintf("another process (pid %d)", pid)
	}
	clean := strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return -1
		}
		return r
	}, strings.TrimSpace(string(name)))
	return fmt.Sprintf("%s (pid %d)", strings.ToValidUTF8(clean, "?"), pid)
}
