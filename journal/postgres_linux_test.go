package journal_test

import (
	"os"
	"os/exec"
	"syscall"
)

// asServer runs cmd as the owner of a folder, and ends it when the test ends.
func asServer(cmd *exec.Cmd, dir string) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGQUIT}
	if info, err := os.Stat(dir); err == nil && os.Geteuid() == 0 {
		owner := info.Sys().(*syscall.Stat_t)
		cmd.SysProcAttr.Credential = &syscall.Credential{Uid: owner.Uid, Gid: owner.Gid}
	}
}
