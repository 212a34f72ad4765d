package store

import (
	"path/filepath"
	"syscall"
)

// Network names the network file system on which path lies, or would lie, and is
// empty for a local disk. Locks and syncs over a network cannot be trusted.
func Network(path string) string {
	return networkOf(path, func(path string) (uint32, error) {
		var at syscall.Statfs_t
		err := syscall.Statfs(path, &at)
		return uint32(at.Type), err
	})
}

// networkOf names the network file system of path, or of what there is of the
// folders above it, by the type that the system gives. The numbers are those of
// Linux's linux/magic.h.
func networkOf(path string, typeOf func(path string) (uint32, error)) string {
	kind, err := typeOf(path)
	for err != nil {
		parent := filepath.Dir(path)
		if parent == path {
			return ""
		}
		path = parent
		kind, err = typeOf(path)
	}
	switch kind {
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
