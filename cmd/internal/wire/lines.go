package wire

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Small lists in the data folder are text, one thing a line, in a fixed order:
// they can be read, edited and merged.

// largestList is more than a thousand lines of them.
const largestList = 1 << 20

// readLines are the lines of a list that are neither empty nor comments; none
// if there is no such list.
func (w *Works) readLines(name string) ([]string, error) {
	folder, err := w.dataFolder()
	if err != nil {
		return nil, nil
	}
	path := filepath.Join(folder, name)
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular() || info.Size() > largestList:
		return nil, fmt.Errorf("%s is no ordinary file, or a very large one", path)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, l := range strings.Split(string(data), "\n") {
		if l = strings.TrimSpace(l); l != "" && !strings.HasPrefix(l, "#") {
			out = append(out, l)
		}
	}
	return out, nil
}

func (w *Works) writeLines(name string, lines []string) error {
	text := strings.Join(lines, "\n")
	if text != "" {
		text += "\n"
	}
	folder, err := w.dataFolder()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fmt.Errorf("make the data folder: %w", err)
	}
	if err := WriteWhole(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
		return fmt.Errorf("write %s: %w", filepath.Join(folder, name), withoutPath(err))
	}
	return nil
}

// WriteWhole writes a file whole or not at all, in the place of what was there.
func WriteWhole(path string, data []byte, mode os.FileMode) error {
	return WriteWholeIf(path, data, mode, func() error { return nil })
}

// WriteWholeIf asks once more, when all but the last step is done, whether it
// still may; the error is that of still, or of the system.
func WriteWholeIf(path string, data []byte, mode os.FileMode, still func() error) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".new-*")
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Chmod(mode), f.Sync(), f.Close())
	if err == nil {
		err = still()
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		_ = os.Remove(f.Name())
	}
	return err
}
