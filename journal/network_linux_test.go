package journal

import (
	"path/filepath"
	"syscall"
	"testing"
)

// The store's lock over a network may wait for ever, or not keep others out. So a
// network file system is known by the type that the system gives for it; no real
// one is at hand here.
func TestNetworkIsNamed(t *testing.T) {
	for kind, want := range map[uint32]string{
		0x6969: "NFS", 0xff534d42: "SMB", 0xfe534d42: "SMB", 0x517b: "SMB", 0x5346414f: "AFS", 0x00c36400: "Ceph", 0x01021997: "9P", 0x73757245: "Coda",
		0xef53: "", 0x01021994: "", 0x58465342: "", 0x9123683e: "", 0x2fc12fc1: "", 0x794c7630: "", // ext4, tmpfs, xfs, btrfs, zfs, overlay
	} {
		// Of a journal that is not made yet, in folders that are not there, the disk is that of the folder above.
		asked := ""
		got := networkOf("/mnt/share/hepar/hepar.journal", func(path string) (uint32, error) {
			if path != "/mnt/share" {
				return 0, syscall.ENOENT
			}
			asked = path
			return kind, nil
		})
		if got != want || asked == "" {
			t.Errorf("type %#x is named %q, want %q", kind, got, want)
		}
	}
	if got := networkOf("/a/b", func(string) (uint32, error) { return 0, syscall.ENOENT }); got != "" {
		t.Errorf("where nothing can be asked: %q", got)
	}
	if got := At(filepath.Join(t.TempDir(), "none", "hepar.journal"), Options{}).Network(); got != "" {
		t.Skipf("the folder of the tests is on %s", got)
	}
}
