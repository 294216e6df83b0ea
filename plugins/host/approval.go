package host

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"canewright/engine/dimension"
	"canewright/plugins/proto"
)

// LargestProgram is the most bytes a program may have.
const LargestProgram = 256 << 20

// Approval is what a player was shown of a program and said yes to.
type Approval struct {
	Name     string    `json:"name"`
	Version  string    `json:"version"` // as the program gave it when it was added
	SHA256   string    `json:"sha256"`
	Size     int64     `json:"size"`
	From     string    `json:"from"` // the file it was copied from
	Approved time.Time `json:"approved_at"`
}

// TrustError: the program kept of an instrument is not the one that was
// approved. It was not started.
type TrustError struct {
	Name           string
	Approved, Here string // SHA-256
}

func (e *TrustError) Error() string {
	return fmt.Sprintf("start instrument %s: its program is not the one that was approved, and was not started: approved was SHA-256 %s, here is %s", e.Name, e.Approved, e.Here)
}

// ApprovalError: it is not known any more what was approved of an instrument's
// program. It was not started.
type ApprovalError struct {
	Name  string
	Cause error
}

func (e *ApprovalError) Error() string {
	return fmt.Sprintf("start instrument %s: what you approved of its program is not known any more, and it was not started: %v", e.Name, e.Cause)
}

func (e *ApprovalError) Unwrap() error { return e.Cause }

// Offer is a program that nobody has approved yet. Nothing of it has been
// copied or run.
type Offer struct {
	Approval
	Was  *Added           // what has the name already
	Sets []*dimension.Set // what it serves under its name; after Approve
	host *Host
}

// Offer looks at a program: what a player has to see before it may run.
func (h *Host) Offer(name, file string) (*Offer, error) {
	if err := h.Store.Check(name); err != nil {
		return nil, err
	}
	was, err := h.Store.Find(name)
	if err != nil {
		return nil, err
	}
	from, err := filepath.Abs(file)
	if err != nil {
		return nil, fmt.Errorf("add instrument %s: %w", name, err)
	}
	o := &Offer{Approval: Approval{Name: name, From: from}, Was: was, host: h}
	f, err := openProgram(from)
	if err != nil {
		return nil, fmt.Errorf("add instrument %s: %w", name, err)
	}
	defer func() { _ = f.Close() }()
	if o.SHA256, o.Size, err = sumOf(f); err != nil {
		return nil, fmt.Errorf("add instrument %s: %w", name, err)
	}
	return o, nil
}

// Changed reports that something else of this name was added before.
func (o *Offer) Changed() bool {
	return o.Was != nil && (o.Was.Approval == nil || o.Was.Approval.SHA256 != o.SHA256)
}

// Intact reports that the copy kept of what was approved is still there, byte
// for byte.
func (o *Offer) Intact() bool {
	if o.Was == nil {
		return false
	}
	f, err := openProgram(filepath.Join(o.Was.Dir, programName(o.Name)))
	if err != nil {
		return false
	}
	defer func() { _ = f.Close() }()
	sum, _, err := sumOf(f)
	return err == nil && sum == o.SHA256
}

// Approve copies the program, runs the copy if it is what was looked at, and
// keeps it if it serves a dimension set of its name that can be used; else the
// error says why, and what had the name stays.
func (o *Offer) Approve(ctx context.Context, now time.Time) ([]Summary, error) {
	dir, err := o.host.Store.stage()
	if err != nil {
		return nil, fmt.Errorf("add instrument %s: %w", o.Name, err)
	}
	sums, err := o.keep(ctx, dir, now)
	if err != nil {
		_ = os.RemoveAll(dir)
		return nil, err
	}
	return sums, o.host.Store.swap(dir, o.Name)
}

func (o *Offer) keep(ctx context.Context, dir string, now time.Time) ([]Summary, error) {
	sum, _, err := copyProgram(o.From, filepath.Join(dir, programName(o.Name)))
	if err != nil {
		return nil, fmt.Errorf("add instrument %s: %w", o.Name, err)
	}
	if sum != o.SHA256 {
		return nil, &TrustError{Name: o.Name, Approved: o.SHA256, Here: sum}
	}
	o.Approved = now.UTC()
	sums, err := o.try(ctx, dir)
	if err != nil {
		return nil, err
	}
	data, err := json.MarshalIndent(o.Approval, "", "  ")
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, approvalFile), append(data, '\n'), 0o600)
	}
	if err != nil {
		return nil, fmt.Errorf("add instrument %s: %w", o.Name, err)
	}
	return sums, nil
}

// try asks the copy for every set it lists.
func (o *Offer) try(ctx context.Context, dir string) ([]Summary, error) {
	a := &Added{Name: o.Name, Dir: dir, Approval: &o.Approval}
	p, err := o.host.begin(ctx, o.Name, a.command)
	if err != nil {
		return nil, err
	}
	defer p.stop()
	sums, err := p.list(ctx)
	if err != nil {
		return nil, err
	}
	for _, s := range sums {
		if s.ID != o.Name {
			continue
		}
		set, err := p.set(ctx, o.Name, s.Major)
		if err != nil {
			return nil, err
		}
		o.Sets = append(o.Sets, set)
		o.Version = s.Version
	}
	if len(o.Sets) == 0 {
		return nil, p.broken("holds no dimension set of its own name", nil)
	}
	return sums, nil
}

// command is how an added instrument is started; dir is the private folder of
// this start.
func (a *Added) command(dir string) (exe string, args []string, err error) {
	if a.Lost != nil {
		return "", nil, &ApprovalError{a.Name, a.Lost}
	}
	if a.Approval == nil {
		if exe, err = os.Executable(); err != nil {
			return "", nil, fmt.Errorf("find this program's file: %w", err)
		}
		return exe, []string{proto.ServeFolderArg, a.Dir}, nil
	}
	// The copy that is hashed now is the copy that runs.
	exe = filepath.Join(dir, "program", programName(a.Name))
	if err := os.Mkdir(filepath.Dir(exe), 0o700); err != nil {
		return "", nil, fmt.Errorf("make a folder for its program: %w", err)
	}
	sum, _, err := copyProgram(filepath.Join(a.Dir, programName(a.Name)), exe)
	if err != nil {
		return "", nil, err
	}
	if a.Approval.Name != a.Name || sum != a.Approval.SHA256 {
		return "", nil, &TrustError{Name: a.Name, Approved: printable(clip(a.Approval.SHA256)), Here: sum}
	}
	return exe, nil, nil
}

// copyProgram copies an ordinary file, no link, to a new one that nobody can
// write to, and hashes the copy.
func copyProgram(from, to string) (sum string, size int64, err error) {
	if err := copyFile(from, to); err != nil {
		return "", 0, err
	}
	f, err := os.Open(to)
	if err != nil {
		return "", 0, fmt.Errorf("read the copy: %w", err)
	}
	defer func() { _ = f.Close() }()
	return sumOf(f)
}

func sumOf(f *os.File) (sum string, size int64, err error) {
	h := sha256.New()
	if size, err = io.Copy(h, io.LimitReader(f, LargestProgram+1)); err != nil {
		return "", 0, fmt.Errorf("work out its SHA-256: %w", err)
	}
	return hex.EncodeToString(h.Sum(nil)), size, nil
}

// openProgram opens a file that can be a program.
func openProgram(path string) (*os.File, error) {
	f, err := openOrdinary(path, LargestProgram)
	if err != nil {
		return nil, fmt.Errorf("read its program: %w", err)
	}
	return f, nil
}

// openOrdinary opens an ordinary file, no link, that is neither empty nor too
// large.
func openOrdinary(path string, largest int64) (*os.File, error) {
	seen, err := os.Lstat(path)
	switch {
	case err != nil:
		return nil, err
	case !seen.Mode().IsRegular():
		return nil, fmt.Errorf("%s is a link, a folder or a device, not an ordinary file", path)
	case seen.Size() > largest:
		return nil, fmt.Errorf("%s has more than %d KiB", path, largest>>10)
	case seen.Size() == 0:
		return nil, fmt.Errorf("%s is empty", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	if now, err := f.Stat(); err != nil || !os.SameFile(seen, now) {
		_ = f.Close()
		return nil, fmt.Errorf("%s was exchanged while it was read", path)
	}
	return f, nil
}

func copyFile(from, to string) error {
	src, err := openProgram(from)
	if err != nil {
		return err
	}
	defer func() { _ = src.Close() }()
	// A program that is being started elsewhere in this process would inherit
	// the open copy for a moment, and a file open for writing cannot be run.
	syscall.ForkLock.RLock()
	defer syscall.ForkLock.RUnlock()
	dst, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o500)
	if err != nil {
		return fmt.Errorf("copy its program: %w", err)
	}
	n, err := io.Copy(dst, io.LimitReader(src, LargestProgram+1))
	if err = errors.Join(err, dst.Close()); err != nil {
		return fmt.Errorf("copy its program: %w", err)
	}
	if n > LargestProgram {
		return fmt.Errorf("copy its program: %s has more than %d MiB", from, LargestProgram>>20)
	}
	return nil
}
