package journal

import (
	"bufio"
	"errors"
	"io"
	"iter"
	"runtime"
	"sync"

	"hepar/recipe/fault"
)

// longestRow is how many bytes a row of an import may have: a sheet and a recipe
// of the largest size, written with escapes, fit.
const longestRow = 8 << 20

var errLongRow = &fault.Error{Kind: fault.Usage, What: "the row is longer than 8 MiB", Cure: "leave it out; no batch is as long"}

// lineReader gives one line after the other, and passes over those that are too
// long without keeping them.
type lineReader struct {
	from *bufio.Reader
	line int
}

// next puts the next line, without its end, behind what is in to.
func (l *lineReader) next(to []byte) ([]byte, error) {
	l.line++
	start, long := len(to), false
	for {
		part, err := l.from.ReadSlice('\n')
		if err == nil {
			part = part[:len(part)-1]
		}
		if long = long || len(to)-start+len(part) > longestRow; long {
			to = to[:start]
		} else {
			to = append(to, part...)
		}
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
		case err != nil && err != io.EOF:
			return to[:start], err
		case long:
			return to, errLongRow
		case err == io.EOF && len(to) == start:
			return to, io.EOF
		default:
			return to, nil
		}
	}
}

// chunk is some lines on their way to be read, and what became of them.
type chunk struct {
	text  []byte
	ends  []int // of each line in text
	first int   // number of the first line
	got   []rowOrError
	lines []int
	done  chan struct{}
}

// What is read ahead: enough that all processors have work, little enough that
// memory stays small.
const (
	chunkBytes = 256 << 10
	chunkLines = 512
)

// jsonRows reads Views, one a line. Lines are read by several processors at once and given in
// their order.
func jsonRows(r io.Reader) iter.Seq2[int, rowOrError] {
	return func(yield func(int, rowOrError) bool) {
		workers := max(1, runtime.GOMAXPROCS(0)-1)
		work, order := make(chan *chunk), make(chan *chunk, workers+1)
		quit := make(chan struct{})
		var all sync.WaitGroup
		defer all.Wait()
		defer close(quit)
		free := make(chan []byte, workers+1)
		all.Go(func() { readChunks(r, work, order, free, quit) })
		for range workers {
			all.Go(func() {
				reader, digests := newViewReader(), &recipeDigests{}
				for c := range work {
					c.read(reader, digests)
					select {
					case free <- c.text[:0]: // nothing that was read points into it
					default:
					}
					c.text = nil
					close(c.done)
				}
			})
		}
		for c := range order {
			<-c.done
			for i, got := range c.got {
				if !yield(c.lines[i], got) {
					return
				}
			}
		}
	}
}

// readChunks cuts the file into chunks until it ends or nobody wants more.
func readChunks(r io.Reader, work, order chan<- *chunk, free <-chan []byte, quit <-chan struct{}) {
	defer close(order)
	defer close(work)
	lines := &lineReader{from: bufio.NewReaderSize(r, 128<<10)}
	for {
		c := &chunk{first: lines.line + 1, done: make(chan struct{})}
		select {
		case c.text = <-free:
		default:
		}
		var err error
		for len(c.text) < chunkBytes && len(c.ends) < chunkLines {
			if c.text, err = lines.next(c.text); err != nil {
				break
			}
			c.ends = append(c.ends, len(c.text))
		}
		long := len(c.text) > 4*chunkBytes
		for _, to := range []chan<- *chunk{order, work} {
			select {
			case to <- c:
			case <-quit:
				return
			}
		}
		if long { // one of the long rows at a time is enough
			<-c.done
		}
		if err == nil {
			continue
		}
		if err == io.EOF {
			return
		}
		bad := &chunk{lines: []int{lines.line}, got: []rowOrError{{err: err}}, done: make(chan struct{})}
		goOn := errors.Is(err, errLongRow)
		if !goOn {
			bad.got[0].err = fault.Failuref("the file cannot be read further").Because(reason(err)).Try("see that the disk or the pipe it comes from is sound")
		}
		close(bad.done)
		select {
		case order <- bad:
		case <-quit:
			return
		}
		if !goOn {
			return
		}
	}
}

// read reads the lines of a chunk.
func (c *chunk) read(reader *viewReader, digests *recipeDigests) {
	start := 0
	for i, end := range c.ends {
		line := c.text[start:end]
		start = end
		if c.first+i == 1 {
			line = trimBOM(line)
		}
		if blank(line) {
			continue
		}
		c.lines = append(c.lines, c.first+i)
		c.got = append(c.got, guard(func() rowOrError {
			v, err := reader.read(line)
			if err != nil {
				return rowOrError{err: fault.Usagef("%v", err).Try("mend the line, or take it as it was exported")}
			}
			return finish(v, false, digests)
		}))
	}
}

func blank(line []byte) bool {
	for _, c := range line {
		if c != ' ' && c != '\t' && c != '\r' {
			return false
		}
	}
	return true
}

// trimBOM drops the mark that some programs put at the beginning of a file.
func trimBOM(line []byte) []byte {
	if len(line) >= 3 && line[0] == 0xef && line[1] == 0xbb && line[2] == 0xbf {
		return line[3:]
	}
	return line
}
