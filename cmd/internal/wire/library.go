package wire

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/library"
	"canewright/engine/recipe"
	"canewright/recipes"
)

// Library is a folder with recipes: the player's own, or one of those they have
// added.
type Library struct {
	Path string
	Own  bool
}

// Files are the files of a library; nothing outside its folder is reached. An
// own one that is not there yet is empty.
func (l Library) Files() (fs.FS, io.Closer, error) {
	root, err := os.OpenRoot(l.Path)
	if l.Own && errors.Is(err, fs.ErrNotExist) {
		return nothing{}, io.NopCloser(nil), nil
	}
	if err != nil {
		return nil, nil, fmt.Errorf("read library %s: %w", l.Path, withoutPath(err))
	}
	return root.FS(), root, nil
}

// nothing is an empty folder.
type nothing struct{}

func (nothing) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
}

func (nothing) ReadDir(string) ([]fs.DirEntry, error) { return nil, nil }

// List is what a library holds.
func (l Library) List() (library.Listing, error) {
	files, closer, err := l.Files()
	if err != nil {
		return library.Listing{}, err
	}
	defer closer.Close()
	list, err := library.Walk(files)
	if err != nil {
		return list, fmt.Errorf("read library %s: %w", l.Path, err)
	}
	return list, nil
}

// librariesFile lists the folders that were added, one a line.
const librariesFile = "libraries"

// Libraries are the player's own and those added, in the order of their paths.
func (w *Works) Libraries() ([]Library, error) {
	data, err := w.dataFolder()
	if err != nil {
		return nil, nil // there is nowhere to keep any
	}
	out := []Library{{filepath.Join(data, "recipes"), true}}
	added, err := w.addedLibraries()
	for _, p := range added {
		out = append(out, Library{Path: p})
	}
	return out, err
}

func (w *Works) addedLibraries() ([]string, error) {
	lines, err := w.readLines(librariesFile)
	if err != nil {
		return nil, fmt.Errorf("read the list of libraries: %w", err)
	}
	return slices.DeleteFunc(lines, func(l string) bool { return !filepath.IsAbs(l) }), nil
}

// AddLibrary keeps a folder's path; added is false if it was there already.
func (w *Works) AddLibrary(folder string) (path string, added bool, err error) {
	if path, err = filepath.Abs(folder); err != nil {
		return "", false, fmt.Errorf("add library %s: %w", folder, err)
	}
	if strings.ContainsFunc(path, diagnostic.Unsafe) {
		return "", false, fmt.Errorf("add library %s: its path holds what cannot be printed", diagnostic.Clean(path))
	}
	info, err := os.Stat(path)
	if err != nil {
		return "", false, fmt.Errorf("add library %s: %w", folder, withoutPath(err))
	}
	if !info.IsDir() {
		return "", false, fmt.Errorf("add library %s: this is no folder", folder)
	}
	all, err := w.addedLibraries()
	if err != nil || slices.Contains(all, path) {
		return path, false, err
	}
	all = append(all, path)
	slices.Sort(all)
	return path, true, w.writeLines(librariesFile, all)
}

// RemoveLibrary forgets a folder; nothing in it is touched. It need not be
// there any more.
func (w *Works) RemoveLibrary(folder string) (path string, removed bool, err error) {
	all, err := w.addedLibraries()
	if err != nil {
		return "", false, err
	}
	if path, err = filepath.Abs(folder); err != nil {
		return "", false, fmt.Errorf("remove library %s: %w", folder, err)
	}
	left := slices.DeleteFunc(slices.Clone(all), func(p string) bool { return p == path })
	if len(left) == len(all) {
		return path, false, nil
	}
	return path, true, w.writeLines(librariesFile, left)
}

// AmbiguousError: a name stands for several recipes whose texts differ.
type AmbiguousError struct {
	Name   string
	Places []string // files
}

func (e *AmbiguousError) Error() string {
	return fmt.Sprintf("read recipe %q: the library has several of this name: %s", e.Name, strings.Join(e.Places, " and "))
}

// findInLibraries is the recipe of this name, a zero found if there is none. A
// name that is a place means what lies there; else an id may be meant. The same
// text in two places is one recipe.
func (w *Works) findInLibraries(name string) (found, error) {
	all, err := w.Libraries()
	if err != nil {
		return found{}, err
	}
	name = strings.Trim(filepath.ToSlash(name), "/")
	type hit struct {
		lib   Library
		entry library.Entry
	}
	var hits []hit
	for _, l := range all {
		files, closer, err := l.Files()
		if err != nil {
			continue // a disk that is not here hides no other
		}
		list, _ := library.Named(files, name)
		_ = closer.Close()
		for _, e := range list.Entries {
			hits = append(hits, hit{l, e})
		}
	}
	for _, exact := range []func(e *library.Entry) bool{
		func(e *library.Entry) bool { return e.Place == name },
		func(e *library.Entry) bool { return e.Name() == name || e.ID == name },
		func(*library.Entry) bool { return true },
	} {
		var these []hit
		for _, h := range hits {
			if exact(&h.entry) {
				these = append(these, h)
			}
		}
		if len(these) == 0 {
			continue
		}
		e := &AmbiguousError{Name: name}
		differ := false
		for _, h := range these {
			e.Places = append(e.Places, h.lib.join(h.entry.File))
			differ = differ || h.entry.Digest != these[0].entry.Digest
		}
		if differ {
			return found{}, e
		}
		files, closer, err := these[0].lib.Files()
		if err != nil {
			return found{}, err
		}
		defer closer.Close()
		data, err := library.Read(files, these[0].entry.File)
		if err != nil {
			return found{}, fmt.Errorf("read recipe %s: %w", e.Places[0], withoutPath(err))
		}
		return found{file: e.Places[0], data: data}, nil
	}
	return found{}, nil
}

// FindText is the text of a recipe by its recipe.Digest: bundled, or anywhere
// in the library folders, among kept origins too. Nil: nobody here has it.
func (w *Works) FindText(digest string) (data []byte, file string, err error) {
	for _, name := range recipes.All() {
		if file, data, _ := recipes.Read(name); recipe.Digest(data) == digest {
			return data, file, nil
		}
	}
	all, err := w.Libraries()
	for _, l := range all {
		files, closer, ferr := l.Files()
		if ferr != nil {
			err = errors.Join(err, ferr)
			continue
		}
		data, file, ferr := library.Find(files, digest)
		_ = closer.Close()
		if data != nil {
			return data, l.join(file), nil
		}
		err = errors.Join(err, ferr)
	}
	return nil, "", err
}

// withoutPath is an error of the system without the path, which the message has
// already.
func withoutPath(err error) error {
	if p, ok := errors.AsType[*fs.PathError](err); ok {
		return p.Err
	}
	return err
}

// join is the path of a file of the library.
func (l Library) join(file string) string { return filepath.Join(l.Path, filepath.FromSlash(file)) }
