//go:build !linux

package journal

// Network cannot tell here on what kind of file system the journal lies.
func (j *Journal) Network() string { return "" }
