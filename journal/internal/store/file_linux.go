package store

import (
	"bytes"
	"cmp"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"

	"golang.org/x/sys/unix"

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

// soundMark is the extended attribute of a file that a walk found sound: the file as it was then, and
// its entries. A copy of the file is another one.
const soundMark = "user.hepar.sound"

func soundText(info fs.FileInfo, entries uint64) string {
	return fmt.Sprint(info.Sys().(*syscall.Stat_t).Ino, info.ModTime().UnixNano(), info.Size(), entries)
}

// foundSound returns how many entries the file had when a walk found it sound, if nobody has written to it since.
func foundSound(file *os.File, info fs.FileInfo) (entries uint64, sound bool) {
	mark := make([]byte, 128)
	n, err := unix.Fgetxattr(int(file.Fd()), soundMark, mark)
	if err != nil {
		return 0, false
	}
	mark = mark[:n]
	entries, err = strconv.ParseUint(string(mark[bytes.LastIndexByte(mark, ' ')+1:]), 10, 64)
	return entries, err == nil && string(mark) == soundText(info, entries)
}

// noteSound marks a file. Where that is not possible, the next transaction walks it again.
func noteSound(file *os.File, info fs.FileInfo, entries uint64) {
	_ = unix.Fsetxattr(int(file.Fd()), soundMark, []byte(soundText(info, entries)), 0)
}
