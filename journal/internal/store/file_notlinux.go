//go:build !linux

package store

import "os"

// holder cannot tell which process it is here.
func holder(*os.File) string { return unknownHolder }

// Network cannot tell here on what kind of file system a path lies.
func Network(string) string { return "" }
