package store

import (
	"path/filepath"
	"syscall"
)

// networks are the network file systems by their numbers in Linux's linux/magic.h.
var networks = map[uint32]string{
	0x6969: "NFS", 0x517b: "SMB", 0xff534d42: "SMB", 0xfe534d42: "SMB", 0x5346414f: "AFS", 0x6b414653: "AFS",
	0x00c36400: "Ceph", 0x01021997: "9P", 0x73757245: "Coda",
}

// Network names the network file system on which path lies, or would lie, and is
// empty for a local disk. Locks and syncs over a network cannot be trusted.
func Network(path string) string {
	var at syscall.Statfs_t
	for syscall.Statfs(path, &at) != nil { // it is not there yet: look at the folder above
		parent := filepath.Dir(path)
		if parent == path {
			return ""
		}
		path = parent
	}
	return networks[uint32(at.Type)]
}
