package journal_test

import (
	"encoding/binary"
	"os"
	"path/filepath"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"hepar/journal"
	"hepar/recipe/fault"
)

// freePage is the kind of the pages on which a store lists its free pages.
const freePage = 0x10

// TestAFileIsWalkedUntilItIsKnown: a file that was found sound is walked again when somebody has written to
// it, when it is a copy, and by verify always. The damage is a free page that no list names: only a walk sees it.
func TestAFileIsWalkedUntilItIsKnown(t *testing.T) {
	j := journal.At(filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilse Tamm"})
	busyBook(t, j, 3)
	path, long, soon := j.Path(), time.Now().Add(-time.Hour), time.Now().Add(time.Hour)
	writtenAt := func(path string, at time.Time) {
		if err := os.Chtimes(path, at, at); err != nil {
			t.Fatal(err)
		}
	}
	damaged := func(j *journal.Journal) bool {
		_, err := everything(j)
		if err != nil && fault.KindOf(err) != fault.Damaged {
			t.Fatal(err)
		}
		return err != nil
	}
	mark := make([]byte, 200)
	marked := func() []byte {
		n, _ := unix.Getxattr(path, "user.hepar.sound", mark)
		return mark[:max(n, 0)]
	}
	writtenAt(path, soon)
	if damaged(j); len(marked()) > 0 {
		t.Error("a file is marked that may change within the tick of its time")
	}
	writtenAt(path, long)
	if damaged(j) {
		t.Fatal("damaged from the start")
	}
	known := string(marked())
	if known == "" {
		t.Skip("no extended attributes here")
	}

	data := must[[]byte](t)(os.ReadFile(path))
	for at := 0; at < len(data); at += os.Getpagesize() {
		if n := binary.NativeEndian.Uint16(data[at+10:]); binary.NativeEndian.Uint16(data[at+8:]) == freePage && n > 0 {
			binary.NativeEndian.PutUint16(data[at+10:], n-1)
		}
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if !damaged(j) {
		t.Error("somebody wrote to it, and it was not walked")
	}
	writtenAt(path, long)
	if damaged(j) {
		t.Error("it is as it was when it was found sound, and was walked")
	}
	if must[journal.Report](t)(j.Verify()).Sound() {
		t.Error("verify did not walk it")
	}
	copied := filepath.Join(filepath.Dir(path), "copy.journal")
	if err := os.WriteFile(copied, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := unix.Setxattr(copied, "user.hepar.sound", []byte(known), 0); err != nil {
		t.Fatal(err)
	}
	writtenAt(copied, long)
	if !damaged(journal.At(copied, journal.Options{})) {
		t.Error("a copy was not walked")
	}
}
