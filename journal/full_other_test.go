//go:build !linux

package journal_test

import (
	"errors"

	"hepar/journal"
)

func playFullDisk(*journal.Journal) error { return errors.ErrUnsupported }

func playNobody(*journal.Journal) error { return errors.ErrUnsupported }

func playCopies(*journal.Journal) error { return errors.ErrUnsupported }
