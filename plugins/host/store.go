package host

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"time"
)

// approvalFile stands beside an added program and makes its folder a program's.
const approvalFile = "approved.json"

// Store is where instruments that a player has added lie, one folder each:
// either with a program and what was approved of it, or without code. All of it
// is this user's own.
type Store struct {
	Folder string   // empty: there are none
	Taken  []string // names nothing added may have: the bundled ones
}

// Added is one instrument of a Store.
type Added struct {
	Name     string
	Dir      string
	Approval *Approval // nil: without code, or Lost
	// Lost says why it is not known what was approved of its program, which is
	// not started then; nil otherwise.
	Lost error
}

// nameForm is also what a recipe may write for an instrument, so that no recipe
// can name a path.
var nameForm = regexp.MustCompile(`^[a-z][a-z0-9-]{0,31}$`)

// NameError: an instrument cannot be added under this name.
type NameError struct{ Name, Why, Hint string }

func (e *NameError) Error() string {
	return fmt.Sprintf("add instrument %q: %s", clip(printable(e.Name)), e.Why)
}

// Check says whether a name can be added.
func (s Store) Check(name string) error {
	switch {
	case !nameForm.MatchString(name):
		return &NameError{name, "this is no name for an instrument", "small letters, digits and hyphens, at most 32"}
	case slices.Contains(s.Taken, name):
		return &NameError{name, "canewright has an instrument of this name already", "give yours another name"}
	case s.Folder == "":
		return &NameError{name, "there is no folder to keep it in", "set XDG_DATA_HOME or HOME"}
	}
	return nil
}

// Names are those of all added instruments, sorted.
func (s Store) Names() []string {
	if s.Folder == "" {
		return nil
	}
	entries, err := os.ReadDir(s.Folder)
	if err != nil {
		return nil // mostly: nothing was ever added
	}
	var out []string
	for _, e := range entries {
		if e.IsDir() && s.Check(e.Name()) == nil {
			out = append(out, e.Name())
		}
	}
	return out
}

// Find is the added instrument of this name, nil if there is none.
func (s Store) Find(name string) (*Added, error) {
	if s.Check(name) != nil {
		return nil, nil
	}
	a := &Added{Name: name, Dir: filepath.Join(s.Folder, name)}
	info, err := os.Lstat(a.Dir)
	if errors.Is(err, fs.ErrNotExist) || err == nil && !info.IsDir() {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("find instrument %s: %w", name, err)
	}
	a.Approval, err = approvalIn(a.Dir, name)
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Lstat(filepath.Join(a.Dir, programName(name))); err == nil {
			a.Lost = fmt.Errorf("%s is gone from %s", approvalFile, a.Dir)
		}
		return a, nil
	}
	if err != nil {
		a.Approval, a.Lost = nil, fmt.Errorf("%s in %s cannot be read: %w", approvalFile, a.Dir, err)
	}
	return a, nil
}

// largestApproval: one has some 300 bytes and a path.
const largestApproval = 16 << 10

var sumForm = regexp.MustCompile(`^[0-9a-f]{64}$`)

func approvalIn(dir, name string) (*Approval, error) {
	f, err := openOrdinary(filepath.Join(dir, approvalFile), largestApproval)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }()
	a := &Approval{}
	if err := json.NewDecoder(io.LimitReader(f, largestApproval)).Decode(a); err != nil {
		return nil, err
	}
	switch {
	case a.Name != name:
		return nil, fmt.Errorf("it is of an instrument %q", clip(printable(a.Name)))
	case !sumForm.MatchString(a.SHA256):
		return nil, errors.New("it holds no SHA-256")
	}
	return a, nil
}

// Keep puts an instrument without code in the place of what has its name.
func (s Store) Keep(name, file string, data []byte) error {
	if err := s.Check(name); err != nil {
		return err
	}
	dir, err := s.stage()
	if err != nil {
		return fmt.Errorf("add instrument %s: %w", name, err)
	}
	if err := os.WriteFile(filepath.Join(dir, file), data, 0o600); err != nil {
		_ = os.RemoveAll(dir)
		return fmt.Errorf("add instrument %s: %w", name, err)
	}
	return s.swap(dir, name)
}

// Remove takes an added instrument away.
func (s Store) Remove(name string) error {
	a, err := s.Find(name)
	if a == nil && err == nil {
		return &NotFoundError{Name: name, Known: s.Names()}
	}
	// What cannot be read can be removed all the same.
	if err := os.RemoveAll(filepath.Join(s.Folder, name)); err != nil {
		return fmt.Errorf("remove instrument %s: %w", name, err)
	}
	return nil
}

// Folders beside the instruments, whose names no instrument has: what is being
// added, and what it replaces.
const (
	staged   = ".new-"
	replaced = ".old-"
)

// stage makes the folder a new instrument is prepared in.
func (s Store) stage() (string, error) {
	if err := os.MkdirAll(s.Folder, 0o700); err != nil {
		return "", fmt.Errorf("make the folder for instruments: %w", err)
	}
	s.tidy()
	dir, err := os.MkdirTemp(s.Folder, staged)
	if err != nil {
		return "", fmt.Errorf("make a private folder: %w", err)
	}
	return dir, nil
}

// tidy removes what a program that was killed left behind.
func (s Store) tidy() {
	entries, _ := os.ReadDir(s.Folder)
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), staged) && !strings.HasPrefix(e.Name(), replaced) {
			continue
		}
		if info, err := e.Info(); err == nil && info.IsDir() && time.Since(info.ModTime()) > time.Hour {
			_ = os.RemoveAll(filepath.Join(s.Folder, e.Name()))
		}
	}
}

// swap makes the staged folder the instrument's. When it cannot, the old one
// stays.
func (s Store) swap(dir, name string) error {
	final, away := filepath.Join(s.Folder, name), ""
	if _, err := os.Lstat(final); err == nil {
		away = filepath.Join(s.Folder, replaced+strings.TrimPrefix(filepath.Base(dir), staged))
		if err := os.Rename(final, away); err != nil {
			_ = os.RemoveAll(dir)
			return fmt.Errorf("add instrument %s: put the old one aside: %w", name, err)
		}
	}
	if err := os.Rename(dir, final); err != nil {
		if away != "" {
			_ = os.Rename(away, final)
		}
		_ = os.RemoveAll(dir)
		return fmt.Errorf("add instrument %s: %w", name, err)
	}
	if away != "" {
		_ = os.RemoveAll(away)
	}
	return nil
}

// programName is what an added program is called, whatever it was called
// before.
func programName(name string) string {
	if runtime.GOOS == "windows" {
		return name + ".exe"
	}
	return name
}
