//go:build !unix

package journal_test

import "errors"

func mkfifo(string) error { return errors.ErrUnsupported }
