package conform

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Program is how a plugin is started.
type Program struct {
	Path string // the executable
	Args []string
	// Folder is the plugin's own: it is copied, the program works in the copy,
	// and what of Path and Args lies in it is taken from the copy. A Path that
	// lies elsewhere (an interpreter, canewright itself) runs where it is.
	// Empty: the executable alone is copied.
	Folder string
}

// Copied is the copy that is going to be run, for whoever has to agree to it.
type Copied struct {
	Path   string // of what was copied
	Size   int64  // bytes of the executable
	SHA256 string // of the executable
}

// A plugin's folder holds a program and what it reads.
const (
	mostCopied = 512 << 20
	mostFiles  = 50_000
)

// prepare copies the program into dir and says how to start the copy.
func (p Program) prepare(dir string) (Program, Copied, error) {
	path, err := filepath.Abs(p.Path)
	if err != nil {
		return p, Copied{}, fmt.Errorf("find %s: %w", p.Path, err)
	}
	out := Program{Path: path, Args: p.Args, Folder: dir}
	if p.Folder == "" {
		out.Path = filepath.Join(dir, filepath.Base(path))
		if err := copyFile(path, out.Path, 0o700); err != nil {
			return p, Copied{}, fmt.Errorf("copy %s: %w", p.Path, err)
		}
	} else {
		folder, err := filepath.Abs(p.Folder)
		if err != nil {
			return p, Copied{}, fmt.Errorf("find %s: %w", p.Folder, err)
		}
		if err := copyFolder(folder, dir); err != nil {
			return p, Copied{}, fmt.Errorf("copy %s: %w", p.Folder, err)
		}
		moved := func(s string) string {
			if rest, ok := strings.CutPrefix(s, folder); ok && (rest == "" || os.IsPathSeparator(rest[0])) {
				return dir + rest
			}
			return s
		}
		out.Path = moved(path)
		out.Args = nil
		for _, a := range p.Args {
			out.Args = append(out.Args, moved(a))
		}
	}
	c := Copied{Path: path}
	if c.SHA256, c.Size, err = sum(out.Path); err != nil {
		return p, c, fmt.Errorf("read %s: %w", p.Path, err)
	}
	return out, c, nil
}

func sum(path string) (string, int64, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", 0, err
	}
	defer f.Close()
	h := sha256.New()
	n, err := io.Copy(h, f)
	return hex.EncodeToString(h.Sum(nil)), n, err
}

func copyFile(from, to string, mode fs.FileMode) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	if info, err := in.Stat(); err != nil {
		return err
	} else if !info.Mode().IsRegular() {
		return errors.New("this is no ordinary file")
	}
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}

func copyFolder(from, to string) error {
	bytes, files := int64(0), 0
	return filepath.WalkDir(from, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(from, path)
		if err != nil || rel == "." {
			return err
		}
		target := filepath.Join(to, rel)
		info, err := d.Info()
		if err != nil {
			return err
		}
		if files++; files > mostFiles {
			return fmt.Errorf("it holds more than %d files", mostFiles)
		}
		switch {
		case d.IsDir():
			return os.Mkdir(target, 0o700)
		case info.Mode()&fs.ModeSymlink != 0:
			where, err := os.Readlink(path)
			if err != nil {
				return err
			}
			return os.Symlink(where, target)
		case info.Mode().IsRegular():
			if bytes += info.Size(); bytes > mostCopied {
				return fmt.Errorf("it holds more than %d MiB", mostCopied>>20)
			}
			return copyFile(path, target, info.Mode().Perm()|0o600)
		}
		return nil // a pipe or a device is no part of a plugin
	})
}

// contents tells what a folder holds: a line for each file.
func contents(dir string) ([]string, error) {
	var out []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || path == dir {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		line := rel
		if d.Type().IsRegular() {
			s, _, err := sum(path)
			if err != nil {
				return err
			}
			line += "\x00" + s
		} else {
			line += "\x00" + d.Type().String()
		}
		out = append(out, line)
		return nil
	})
	return out, err
}

// changes names the files that differ between two contents.
func changes(before, after []string) []string {
	var out []string
	word := func(line, says string) {
		name, _, _ := strings.Cut(line, "\x00")
		out = append(out, says+" "+name)
	}
	had := func(in []string, line string) (exact, name bool) {
		want, _, _ := strings.Cut(line, "\x00")
		for _, l := range in {
			if l == line {
				return true, true
			}
			if n, _, _ := strings.Cut(l, "\x00"); n == want {
				name = true
			}
		}
		return false, name
	}
	for _, l := range after {
		switch exact, name := had(before, l); {
		case exact:
		case name:
			word(l, "it changed")
		default:
			word(l, "it wrote")
		}
	}
	for _, l := range before {
		if _, name := had(after, l); !name {
			word(l, "it removed")
		}
	}
	slices.Sort(out)
	return out
}
