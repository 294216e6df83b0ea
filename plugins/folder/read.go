package folder

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"canewright/engine/yamldoc"
)

// File is the one file of a folder that is read.
const File = "instrument.yaml"

// Read is the bytes of the file in a folder. The file is opened from within
// the folder and must be an ordinary one: no link leads out of it.
func Read(dir string) ([]byte, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("open folder %s: %w", dir, cause(err))
	}
	defer func() { _ = root.Close() }()
	seen, err := root.Lstat(File)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("read folder %s: it holds no %s", dir, File)
	}
	if err != nil {
		return nil, fmt.Errorf("read %s in folder %s: %w", File, dir, cause(err))
	}
	if !seen.Mode().IsRegular() {
		return nil, fmt.Errorf("read %s in folder %s: it is a link, a folder or a device, not an ordinary file", File, dir)
	}
	f, err := root.Open(File)
	if err != nil {
		return nil, fmt.Errorf("read %s in folder %s: %w", File, dir, cause(err))
	}
	defer func() { _ = f.Close() }()
	// What was opened is what was looked at.
	if now, err := f.Stat(); err != nil || !os.SameFile(seen, now) {
		return nil, fmt.Errorf("read %s in folder %s: it was exchanged while it was read", File, dir)
	}
	data, err := io.ReadAll(io.LimitReader(f, yamldoc.MaxBytes+1)) // one more than Load takes, so that it says so
	if err != nil {
		return nil, fmt.Errorf("read %s in folder %s: %w", File, dir, cause(err))
	}
	return data, nil
}

// cause is an error of the system without the path, which the message has
// already.
func cause(err error) error {
	if p, ok := errors.AsType[*fs.PathError](err); ok {
		return p.Err
	}
	return err
}
