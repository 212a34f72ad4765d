package journal_test

import (
	"os/exec"
	"os/user"
	"strconv"
	"syscall"
)

// tied ties a server to the life of the test: where the test is killed, the kernel
// tells the server to stop at once. Where the test runs as root, which the server
// refuses, it runs as somebody who may do nothing; ids gives whose the folder is.
func tied(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGQUIT}
	if uid, gid, ok := nobody(); ok {
		cmd.SysProcAttr.Credential = &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
	}
}

// nobody gives the ids of a user without rights, where one is needed and there.
func nobody() (uid, gid int, ok bool) {
	if syscall.Geteuid() != 0 {
		return 0, 0, false
	}
	for _, name := range []string{"postgres", "nobody"} {
		if u, err := user.Lookup(name); err == nil {
			uid, err1 := strconv.Atoi(u.Uid)
			gid, err2 := strconv.Atoi(u.Gid)
			if err1 == nil && err2 == nil {
				return uid, gid, true
			}
		}
	}
	return 0, 0, false
}
