package journal

import (
	"path/filepath"
	"syscall"
)

// Network names the network file system on which the journal lies, or would lie,
// and is empty for a local disk. Locks and syncs over a network are not to be
// trusted: warn of it. The numbers are those of Linux's linux/magic.h.
func (j *Journal) Network() string {
	var at syscall.Statfs_t
	path := j.path
	for syscall.Statfs(path, &at) != nil {
		parent := filepath.Dir(path)
		if parent == path {
			return ""
		}
		path = parent
	}
	switch uint32(at.Type) {
	case 0x6969:
		return "NFS"
	case 0x517b, 0xff534d42, 0xfe534d42:
		return "SMB"
	case 0x5346414f, 0x6b414653:
		return "AFS"
	case 0x00c36400:
		return "Ceph"
	case 0x01021997:
		return "9P"
	case 0x73757245:
		return "Coda"
	}
	return ""
}
