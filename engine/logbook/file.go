package logbook

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// FileError says that a file cannot serve as logbook, why, and what to do. The
// file was not changed.
type FileError struct {
	Path, Message, Hint string
}

func (e *FileError) Error() string { return fmt.Sprintf("open logbook %s: %s", e.Path, e.Message) }

// inspect reads the header of an existing file without opening it as a
// database, so that a foreign file cannot be touched. fresh is true when there
// is no file yet.
func inspect(path string) (fresh bool, err error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	if err != nil {
		return false, fmt.Errorf("open logbook: %w", err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return false, fmt.Errorf("open logbook: %w", err)
	}
	if info.IsDir() {
		return false, &FileError{path, "this is a folder", "name a file with --logbook"}
	}
	head := make([]byte, 100)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return false, fmt.Errorf("open logbook %s: %w", path, err)
	}
	// Header of an SQLite file: sqlite.org, Database File Format, section 1.3.
	const magic = "SQLite format 3\x00"
	switch {
	case n == 0:
		return false, &FileError{path, "the file is empty", "delete it or name another with --logbook; an empty file is never taken for a logbook"}
	case n < 100 || string(head[:16]) != magic:
		return false, &FileError{path, "this is not a logbook, or its beginning is damaged", "name another file with --logbook, or put your copy of the logbook in its place"}
	case binary.BigEndian.Uint32(head[68:]) != applicationID:
		return false, &FileError{path, "this is a database of another program", "name another file with --logbook"}
	}
	if v := binary.BigEndian.Uint32(head[60:]); v > schemaVersion {
		return false, &FileError{path, fmt.Sprintf("it was written by a newer version of canewright (its format is %d, this version reads %d)", v, schemaVersion), "update canewright"}
	}
	page := int64(binary.BigEndian.Uint16(head[16:]))
	if page == 1 {
		page = 65536
	}
	pages := int64(binary.BigEndian.Uint32(head[28:]))
	// The page count holds only while the two change counters agree.
	if binary.BigEndian.Uint32(head[24:]) == binary.BigEndian.Uint32(head[92:]) && info.Size() < page*pages {
		return false, &FileError{path, fmt.Sprintf("the file is cut short: %d of %d bytes are there", info.Size(), page*pages), "put your copy of the logbook in its place"}
	}
	return false, nil
}

// create makes a new logbook under another name and links it into place whole,
// so that a kill leaves either no logbook or a good one.
func create(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("make the logbook's folder: %w", err)
	}
	dir, err := os.MkdirTemp(filepath.Dir(path), ".new-logbook-")
	if err != nil {
		return fmt.Errorf("make logbook: %w", err)
	}
	defer os.RemoveAll(dir)
	draft := filepath.Join(dir, "logbook")
	if err := writeSchema(draft); err != nil {
		return fmt.Errorf("make logbook %s: %w", path, err)
	}
	if err := os.Chmod(draft, 0o600); err != nil {
		return fmt.Errorf("make logbook: %w", err)
	}
	err = os.Link(draft, path)
	switch {
	case errors.Is(err, fs.ErrExist):
		return nil // another window was faster
	case err != nil: // a file system without links
		if _, there := os.Lstat(path); there == nil {
			return nil
		}
		err = os.Rename(draft, path)
	}
	if err != nil {
		return fmt.Errorf("make logbook: %w", err)
	}
	return syncDir(filepath.Dir(path))
}

// syncDir puts the new name on disk; not every system can.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return fmt.Errorf("make logbook: %w", err)
	}
	defer d.Close()
	_ = d.Sync()
	return nil
}
