package store

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
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
		if len(field) < 6 || field[1] != "FLOCK" || !strings.HasSuffix(field[5], fmt.Sprint(":", stat.Ino)) {
			continue
		}
		if pid, _ := strconv.Atoi(field[4]); pid > 0 {
			comm, _ := os.ReadFile(fmt.Sprintf("/proc/%d/comm", pid))
			return fmt.Sprintf("%s (pid %d)", cmp.Or(measure.Clean(strings.TrimSpace(string(comm))), unknownHolder), pid)
		}
	}
	return unknownHolder
}

// networks are the network file systems by their numbers in Linux's linux/magic.h.
var networks = map[uint32]string{
	0x6969: "NFS", 0x517b: "SMB", 0xff534d42: "SMB", 0xfe534d42: "SMB", 0x5346414f: "AFS", 0x6b414653: "AFS",
	0x00c36400: "Ceph", 0x01021997: "9P", 0x73757245: "Coda",
}

// Network names the network file system on which path lies, or would lie, and is
// empty for a local disk. Locks and syncs over a network cannot be trusted.
func Network(path string) string {
	var at syscall.Statfs_t
	for syscall.Statfs(path, &at) != nil && path != filepath.Dir(path) { // it is not there yet: look at the folder above
		path = filepath.Dir(path)
	}
	return networks[uint32(at.Type)]
}
