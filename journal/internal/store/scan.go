package store

import (
	"bytes"
	"encoding/binary"
	"io"
)

const (
	scanWindow = 1 << 20 // how much of a file a scan holds at a time, besides one frame
	scanSkip   = 4 << 10 // how much a scan passes over where the disk cannot be read
)

// ScanFrames goes over a file of so many bytes from the first to the last and yields
// every frame that is whole, on a page in use or not, with its place. It tells bad
// of the beginnings of frames that are not whole.
func ScanFrames(file io.ReaderAt, size int64, bad func(at int64, err error), yield func(at int64, frame []byte) (more bool)) {
	buf := make([]byte, scanWindow)
	for at := int64(0); at < size; {
		n, err := file.ReadAt(buf, at)
		part, from := buf[:n], 0
		for from < n {
			i := bytes.Index(part[from:], []byte(frameMagic))
			if i < 0 {
				break
			}
			from += i
			place := at + int64(from)
			frame, err := FrameAt(file, place, part[from:])
			if err != nil {
				bad(place, err)
				from += len(frameMagic)
				continue
			}
			if !yield(place, frame) {
				return
			}
			from += len(frame)
		}
		next := n - len(frameMagic) + 1 // a magic may lie across the end
		if err != nil && err != io.EOF {
			bad(at+int64(n), err)
			next = n + scanSkip
		} else if at+int64(n) >= size || n == 0 {
			return
		}
		at += int64(max(from, next, 1))
	}
}

// FrameAt returns the whole frame at a place of a file. Part is as much of it as is
// at hand, and may be empty.
func FrameAt(file io.ReaderAt, at int64, part []byte) ([]byte, error) {
	if _, _, size, err := Unframe(part); err == nil {
		return part[:size], nil
	}
	head := make([]byte, frameHead)
	if _, err := file.ReadAt(head, at); err != nil {
		return nil, errFrame
	}
	size := frameHead + int(binary.BigEndian.Uint32(head[len(frameMagic)+1:])) + frameTail
	if size > frameHead+maxFrame+frameTail {
		return nil, errFrame
	}
	if size <= len(part) {
		return nil, errChecksum
	}
	whole := make([]byte, size)
	if _, err := file.ReadAt(whole, at); err != nil {
		return nil, errFrame
	}
	_, _, _, err := Unframe(whole)
	return whole, err
}
