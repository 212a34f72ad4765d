//go:build !unix

package journal_test

import "testing"

// ownerOf has nothing to return here: a file has no such owner.
func ownerOf(testing.TB, string) (uid, gid int) { return 65534, 65533 }
