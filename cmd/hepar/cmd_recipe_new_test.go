package main

import (
	"bytes"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
)

// Of many that create one file at the same time, one succeeds, and its file is whole.
func TestOnlyOneCreatesAFile(t *testing.T) {
	file := filepath.Join(t.TempDir(), "recipe.toml")
	var created atomic.Int64
	var group sync.WaitGroup
	for i := range 16 {
		group.Go(func() {
			if writeNew(file, bytes.Repeat([]byte{byte('a' + i)}, 4096), "") == nil {
				created.Add(1)
			}
		})
	}
	group.Wait()
	data, err := os.ReadFile(file)
	if created.Load() != 1 || err != nil || len(data) != 4096 || len(bytes.Trim(data, string(data[:1]))) > 0 {
		t.Errorf("%d created it; %d bytes, %v", created.Load(), len(data), err)
	}
}
