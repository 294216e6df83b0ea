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

// What to do about a file that cannot serve.
const (
	nameAnother = "name another file with --logbook"
	useCopy     = "put your copy of the logbook in its place; this file was left as it is"
	getRights   = "give yourself the right to read and write it and its folder, or name another file with --logbook"
)

// inspect reads the header of an existing file without opening it as a
// database, so that a foreign file cannot be touched. It returns the version of
// its schema, 0 when there is no file yet.
func inspect(path string) (version int, err error) {
	// Asked before it is opened: opening a pipe waits for whoever writes to it.
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(path); err == nil {
			return 0, &FileError{path, "this is a link to a file that is not there", nameAnother}
		}
		return 0, nil
	case err != nil:
		return 0, &FileError{path, reason(err), getRights}
	case info.IsDir():
		return 0, &FileError{path, "this is a folder", "name a file with --logbook"}
	case !info.Mode().IsRegular():
		return 0, &FileError{path, "this is no ordinary file", nameAnother}
	}
	f, err := os.Open(path)
	if err != nil {
		return 0, &FileError{path, reason(err), getRights}
	}
	defer f.Close()
	head := make([]byte, 100)
	n, err := io.ReadFull(f, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return 0, fmt.Errorf("open logbook %s: %w", path, err)
	}
	// Header of an SQLite file: sqlite.org, Database File Format, section 1.3.
	const magic = "SQLite format 3\x00"
	switch {
	case n == 0:
		return 0, &FileError{path, "the file is empty", "delete it or name another with --logbook; an empty file is never taken for a logbook"}
	case n < 100 || string(head[:16]) != magic:
		return 0, &FileError{path, "this is not a logbook, or its beginning is damaged", "name another file with --logbook, or put your copy of the logbook in its place"}
	case binary.BigEndian.Uint32(head[68:]) != applicationID:
		return 0, &FileError{path, "this is a database of another program", nameAnother}
	}
	v := binary.BigEndian.Uint32(head[60:])
	if v > schemaVersion {
		return 0, newer(path, int64(v))
	}
	if v < 1 {
		return 0, &FileError{path, "its beginning is damaged: it has no format number", useCopy}
	}
	page := int64(binary.BigEndian.Uint16(head[16:]))
	if page == 1 {
		page = 65536
	}
	pages := int64(binary.BigEndian.Uint32(head[28:]))
	// The page count holds only while the two change counters agree, and while
	// nothing waits in the log beside the file: a program killed as it moved
	// pages from there has written the new count before the last pages.
	if binary.BigEndian.Uint32(head[24:]) == binary.BigEndian.Uint32(head[92:]) && info.Size() < page*pages && !logBeside(path) {
		return 0, &FileError{path, fmt.Sprintf("the file is cut short: %d of %d bytes are there", info.Size(), page*pages), useCopy}
	}
	return int(v), nil
}

func newer(path string, version int64) error {
	return &FileError{path, fmt.Sprintf("it was written by a newer version of canewright (its format is %d, this version reads %d)", version, schemaVersion), "update canewright"}
}

// logBeside reports whether the write-ahead log, or the journal of a change
// that did not come to its end, holds anything.
func logBeside(path string) bool {
	for _, end := range []string{"-wal", "-journal"} {
		if info, err := os.Stat(path + end); err == nil && info.Size() > 0 {
			return true
		}
	}
	return false
}

// reason is an error of the file system without the path, which the message
// names already.
func reason(err error) string {
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		return e.Err.Error()
	}
	return err.Error()
}

// create makes a new logbook under another name and links it into place whole,
// so that a kill leaves either no logbook or a good one.
func create(path string) error {
	folder := filepath.Dir(path)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return &FileError{path, "its folder cannot be made: " + err.Error(), nameAnother}
	}
	d, err := newDraft(path)
	if err != nil {
		return err
	}
	defer d.remove()
	if err := writeSchema(d.file); err != nil {
		return explain(path, "make logbook", err)
	}
	if err := os.Chmod(d.file, 0o600); err != nil {
		return fmt.Errorf("make logbook: %w", err)
	}
	if err := d.place(path); err != nil && !errors.Is(err, fs.ErrExist) { // else another window was faster
		return fmt.Errorf("make logbook: %w", err)
	}
	return syncDir(folder)
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
