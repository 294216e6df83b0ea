package wire

import (
	"errors"
	"io"
	"os"
)

var errNotOrdinary = errors.New("this is no ordinary file")

// ReadOrdinary reads an ordinary file, at most one byte more than it may have, so
// that whoever reads the text says that it is too long. A pipe or a device is
// not opened: that could wait for ever.
func ReadOrdinary(path string, most int64) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errNotOrdinary
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most+1))
}
