package host

import (
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"canewright/engine/dimension"
)

// Cache answers for a Host from what was asked before, without starting
// anything. What it keeps is found again by the checksum of every program and
// file the answer comes from, so a change of any of them asks anew.
type Cache struct {
	Host *Host
	Dir  string // where sets are kept; empty: nowhere
}

// mostSets is how many sets are kept; beyond it the oldest go. A dozen
// instruments in a few versions of canewright are far fewer.
const mostSets = 64

// Set is Host.Set.
func (c *Cache) Set(ctx context.Context, name string, major int) (*dimension.Set, error) {
	set, stop, err := c.Ask(ctx, name, major)
	stop()
	return set, err
}

// Ask is Host.Ask. What is not known yet is kept in stop.
func (c *Cache) Ask(ctx context.Context, name string, major int) (set *dimension.Set, stop func(), err error) {
	path, ok := c.place(name, major)
	if !ok {
		return c.Host.Ask(ctx, name, major)
	}
	if set := kept(path, name, major); set != nil {
		return set, func() {}, nil
	}
	set, end, err := c.Host.Ask(ctx, name, major)
	if err != nil {
		return set, end, err
	}
	b := set.Encode() // now: what the caller does with his does not matter
	return set, func() {
		end()
		_ = keep(path, b) // an answer that cannot be kept is asked for again
	}, nil
}

// Sets is Host.Sets. Only what is not known yet is asked for.
func (c *Cache) Sets(ctx context.Context, wants []Want) []Got {
	out := make([]Got, len(wants))
	var asked []Want
	var at []int
	for i, w := range wants {
		if path, ok := c.place(w.Name, w.Major); ok {
			out[i].Set = kept(path, w.Name, w.Major)
		}
		if out[i].Set == nil {
			asked, at = append(asked, w), append(at, i)
		}
	}
	for n, g := range c.Host.Sets(ctx, asked) {
		out[at[n]] = g
		if path, ok := c.place(asked[n].Name, asked[n].Major); ok && g.Err == nil {
			_ = keep(path, g.Set.Encode()) // as in Ask
		}
	}
	return out
}

// place is the file the set is kept in.
func (c *Cache) place(name string, major int) (string, bool) {
	if _, changing := c.Host.Attach[name]; changing || c.Dir == "" {
		return "", false
	}
	// This program serves the bundled instruments, and reads what others serve:
	// a later one may read more in the same answer.
	own, err := os.Executable()
	if err != nil {
		return "", false
	}
	h := sha256.New()
	for _, path := range []string{own, cmp.Or(c.Host.Exe, own)} {
		sum, err := ProgramSum(path)
		if err != nil {
			return "", false
		}
		h.Write(sum[:])
	}
	if !slices.Contains(c.Host.Bundled, name) {
		added, err := c.Host.Store.Find(name)
		if err != nil || added == nil || added.Lost != nil || !added.sums(h) {
			return "", false
		}
	}
	fmt.Fprintf(h, "%s %d", name, major)
	return filepath.Join(c.Dir, hex.EncodeToString(h.Sum(nil))+keptEnd), true
}

// mostFiles is how many files an added instrument may consist of to be known by
// them; it has two at most.
const mostFiles = 4

// sums writes the checksums of all an added instrument consists of. A program
// that is not the approved one is not known: the host refuses it.
func (a *Added) sums(h io.Writer) bool {
	entries, err := os.ReadDir(a.Dir)
	if err != nil || len(entries) > mostFiles {
		return false
	}
	for _, e := range entries {
		f, err := openProgram(filepath.Join(a.Dir, e.Name()))
		if err != nil {
			return false
		}
		sum, _, err := sumOf(f)
		_ = f.Close()
		if err != nil || a.Approval != nil && e.Name() == programName(a.Name) && sum != a.Approval.SHA256 {
			return false
		}
		fmt.Fprintf(h, "%q %s\n", e.Name(), sum)
	}
	return true
}

// keptEnd ends the names of kept sets, and of what is about to be one.
const keptEnd = ".set"

// kept reads a file that keep wrote; nil when there is none, or it is not what
// was written, or does not fit.
func kept(path, name string, major int) *dimension.Set {
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() || info.Size() > mostKept {
		return nil
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return nil
	}
	first, rest, _ := bytes.Cut(b, []byte("\n"))
	if sum := sha256.Sum256(rest); string(first) != hex.EncodeToString(sum[:]) {
		return nil
	}
	set, err := dimension.Decode(rest)
	if err != nil || set.ID != name || set.Major != major || checked(set) != nil {
		return nil
	}
	return set
}

// mostKept bytes are read of one file; a set is written about twice as long as
// it is sent.
const mostKept = 16 << 20

// keep writes an encoded set so that a reader finds all of it or nothing.
func keep(path string, set []byte) error {
	dir := filepath.Dir(path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fmt.Errorf("keep a dimension set: %w", err)
	}
	f, err := os.CreateTemp(dir, "*"+keptEnd)
	if err != nil {
		return fmt.Errorf("keep a dimension set: %w", err)
	}
	sum := sha256.Sum256(set)
	_, err = f.WriteString(hex.EncodeToString(sum[:]) + "\n")
	if err == nil {
		_, err = f.Write(set)
	}
	err = cmp.Or(err, f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		_ = os.Remove(f.Name())
		return fmt.Errorf("keep a dimension set: %w", err)
	}
	forgetOldest(dir)
	return nil
}

// forgetOldest leaves mostSets files.
func forgetOldest(dir string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	type file struct {
		path string
		at   int64
	}
	var all []file
	for _, e := range entries {
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() && strings.HasSuffix(e.Name(), keptEnd) {
			all = append(all, file{filepath.Join(dir, e.Name()), info.ModTime().UnixNano()})
		}
	}
	slices.SortFunc(all, func(a, b file) int { return cmp.Or(cmp.Compare(b.at, a.at), cmp.Compare(a.path, b.path)) })
	for _, f := range all[min(mostSets, len(all)):] {
		_ = os.Remove(f.path)
	}
}
