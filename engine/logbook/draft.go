package logbook

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// A draft is a file made beside the logbook, in a folder of its own, to be
// linked into place when it is whole. The folder is held while somebody works
// in it; what a killed program left is swept away later.
type draft struct {
	dir, file string
	hold      *os.File
}

const draftPrefix = ".new-logbook-"

// draftFiles are all that may lie in a draft's folder.
var draftFiles = []string{"logbook", "logbook-journal", "logbook-wal", "logbook-shm", holdFile}

const holdFile = "in-use"

func newDraft(path string) (*draft, error) {
	dir, err := os.MkdirTemp(filepath.Dir(path), draftPrefix)
	if err != nil {
		return nil, &FileError{path, "nothing can be written in its folder: " + reason(err), getRights}
	}
	d := &draft{dir: dir, file: filepath.Join(dir, "logbook")}
	if d.hold, err = os.Create(filepath.Join(dir, holdFile)); err == nil {
		_, err = hold(d.hold) // a file system that cannot lock: its age has to do
	}
	if err != nil && d.hold == nil {
		d.remove()
		return nil, &FileError{path, "nothing can be written in its folder: " + reason(err), getRights}
	}
	return d, nil
}

// place gives the draft its name, which must be free: else fs.ErrExist.
func (d *draft) place(path string) error {
	err := os.Link(d.file, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	// A file system without links.
	if _, there := os.Lstat(path); there == nil {
		return fs.ErrExist
	}
	return os.Rename(d.file, path)
}

func (d *draft) remove() {
	if d.hold != nil {
		d.hold.Close()
	}
	clear(d.dir)
}

// clear takes a draft's folder away, unless something strange lies in it.
func clear(dir string) {
	for _, name := range draftFiles {
		_ = os.Remove(filepath.Join(dir, name))
	}
	_ = os.Remove(dir)
}

// draftAge: making a logbook takes far less, and copying a large one writes all
// the while.
const draftAge = time.Hour

// mostLooked keeps a large foreign folder from slowing the start.
const mostLooked = 1000

// sweep takes away the drafts of programs that were killed: older than
// draftAge, and nobody works in them. What cannot be read or removed stays.
func sweep(folder string, now time.Time) {
	f, err := os.Open(folder)
	if err != nil {
		return
	}
	defer f.Close()
	names, _ := f.Readdirnames(mostLooked)
	for _, name := range names {
		if !strings.HasPrefix(name, draftPrefix) {
			continue
		}
		dir := filepath.Join(folder, name)
		info, err := os.Lstat(dir)
		if err != nil || !info.IsDir() || now.Sub(lastTouched(dir, info)) < draftAge || inUse(dir) {
			continue
		}
		clear(dir)
	}
}

func lastTouched(dir string, info fs.FileInfo) time.Time {
	last := info.ModTime()
	for _, name := range draftFiles {
		if i, err := os.Lstat(filepath.Join(dir, name)); err == nil && i.ModTime().After(last) {
			last = i.ModTime()
		}
	}
	return last
}

func inUse(dir string) bool {
	f, err := os.OpenFile(filepath.Join(dir, holdFile), os.O_RDWR, 0)
	if err != nil {
		return !errors.Is(err, fs.ErrNotExist)
	}
	defer f.Close()
	held, err := hold(f)
	return err == nil && !held
}
