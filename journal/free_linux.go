package journal

import "syscall"

// freeBytes is how much room there is for anybody on the disk of dir.
func freeBytes(dir string) (free uint64, known bool) {
	var at syscall.Statfs_t
	if err := syscall.Statfs(dir, &at); err != nil || at.Bsize <= 0 {
		return 0, false
	}
	return at.Bavail * uint64(at.Bsize), true
}
