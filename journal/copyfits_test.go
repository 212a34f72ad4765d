package journal

import "testing"

// A copy for verifying is made only where others still have room to write.
func TestCopyFits(t *testing.T) {
	for _, c := range []struct {
		free  uint64
		known bool
		size  int64
		want  bool
	}{{200, true, 100, true}, {199, true, 100, false}, {0, true, 1, false}, {0, false, 100, true}, {1 << 60, true, 1 << 30, true}} {
		if got := copyFits(c.size, c.free, c.known); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	if free, known := freeBytes(t.TempDir()); known && free == 0 {
		t.Error("there is no room where the test itself writes")
	}
}
