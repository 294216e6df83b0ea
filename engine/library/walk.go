package library

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"canewright/engine/recipe"
	"canewright/engine/yamldoc"
)

// The limits of a library. The layout is two folders deep; a checkout may hold
// it two or three further down.
const (
	MaxDepth   = 6
	MaxRecipes = 20_000
	maxSeen    = 200_000 // files and folders
)

// Listing is what a library holds, by place.
type Listing struct {
	Entries []Entry
	Left    []string // what was not looked at, and why
}

// Walk lists a library. The error is for the top alone; a folder within that
// cannot be read is told in Left.
func Walk(fsys fs.FS) (Listing, error) {
	return walk(fsys, func(string, []byte) bool { return true })
}

// Named lists those that may be meant by a name.
func Named(fsys fs.FS, name string) (Listing, error) {
	last := []byte(path.Base(name)) // an id stands in the file; a place need not
	l, err := walk(fsys, func(place string, data []byte) bool {
		return place == name || path.Base(place) == name || bytes.Contains(data, last)
	})
	l.Entries = slices.DeleteFunc(l.Entries, func(e Entry) bool { return !e.Called(name) })
	return l, err
}

// walk lists the recipes that want says yes to, before their heads are read.
func walk(fsys fs.FS, want func(place string, data []byte) bool) (Listing, error) {
	var out Listing
	left, err := files(fsys, false, func(file string, data []byte) bool {
		if len(out.Entries) == MaxRecipes {
			out.Left = append(out.Left, fmt.Sprintf("there are more than %d recipes", MaxRecipes))
			return false
		}
		place := placeOf(file)
		if !want(place, data) {
			return true
		}
		e := Entry{File: file, Place: place}
		if e.head(data) {
			e.Digest = recipe.Digest(data)
			if path.Base(file) == recipeFile {
				e.Cases = path.Join(path.Dir(file), casesFile)
				if info, err := fs.Stat(fsys, e.Cases); err != nil || !info.Mode().IsRegular() {
					e.Cases = ""
				}
			}
			out.Entries = append(out.Entries, e)
		}
		return true
	})
	out.Left = append(out.Left, left...)
	slices.SortStableFunc(out.Entries, func(a, b Entry) int { return strings.Compare(a.Place+"\x00"+a.File, b.Place+"\x00"+b.File) })
	return out, err
}

const (
	recipeFile = "recipe.yaml"
	casesFile  = "cases.yaml"
)

func placeOf(file string) string {
	if path.Base(file) == recipeFile && path.Dir(file) != "." {
		return path.Dir(file)
	}
	return strings.TrimSuffix(strings.TrimSuffix(file, ".yaml"), ".yml")
}

// Find is the text of a recipe by its recipe.Digest, wherever in the library it
// lies: also among the origins kept beside another recipe. Nil: it is not here.
func Find(fsys fs.FS, digest string) (data []byte, file string, err error) {
	_, err = files(fsys, true, func(f string, d []byte) bool {
		if recipe.Digest(d) == digest {
			data, file = d, f
		}
		return data == nil
	})
	return data, file, err
}

// Places are the folders of recipes whose place begins so; no file is read.
func Places(fsys fs.FS, lead string) []string {
	var out []string
	_, _ = names(fsys, false, func(file string) bool {
		if path.Base(file) == recipeFile && strings.HasPrefix(placeOf(file), lead) {
			out = append(out, placeOf(file))
		}
		return len(out) < MaxRecipes
	})
	slices.Sort(out)
	return out
}

// beside are the folders of a recipe's own folder that hold no recipes to
// follow. Origins are recipes that others build on.
var beside = []string{"origins", "instrument", "pictures"}

// files hands every YAML file to take, in order, until it says false.
func files(fsys fs.FS, origins bool, take func(file string, data []byte) bool) (left []string, err error) {
	var unread []string
	left, err = names(fsys, origins, func(file string) bool {
		data, err := Read(fsys, file)
		if err != nil {
			unread = append(unread, file+": "+cause(err).Error())
			return true
		}
		return take(file, data)
	})
	return append(left, unread...), err
}

// names hands the name of every YAML file to take, in order, until it says
// false.
func names(fsys fs.FS, origins bool, take func(file string) bool) (left []string, err error) {
	seen, stopped := 0, false
	var down func(dir string, depth int) error
	down = func(dir string, depth int) error {
		entries, err := fs.ReadDir(fsys, dir)
		if err != nil {
			return err
		}
		own := slices.ContainsFunc(entries, func(d fs.DirEntry) bool { return d.Name() == recipeFile })
		for _, d := range entries {
			name := path.Join(dir, d.Name())
			if seen++; seen > maxSeen {
				if !stopped {
					left = append(left, fmt.Sprintf("there are more than %d files and folders", maxSeen))
				}
				stopped = true
			}
			switch {
			case stopped:
				return nil
			case strings.HasPrefix(d.Name(), "."):
			case d.IsDir():
				// Own versions keep what they build on in a folder "origins" beside them,
				// in a folder of their own or among single files.
				if d.Name() == "origins" && !origins || own && d.Name() != "origins" && slices.Contains(beside, d.Name()) {
					continue
				}
				if depth == MaxDepth {
					left = append(left, name+": it lies too deep")
					continue
				}
				if err := down(name, depth+1); err != nil {
					left = append(left, name+": "+cause(err).Error())
				}
			case !d.Type().IsRegular():
			case strings.HasSuffix(d.Name(), ".yaml") || strings.HasSuffix(d.Name(), ".yml"):
				if d.Name() == casesFile && own {
					continue
				}
				stopped = !take(name)
			}
		}
		return nil
	}
	if err := down(".", 0); err != nil {
		return left, cause(err)
	}
	return left, nil
}

// Read is a file of a library, at most one byte more than a recipe may have.
func Read(fsys fs.FS, file string) ([]byte, error) {
	f, err := fsys.Open(file)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("it is no ordinary file")
	}
	var b bytes.Buffer
	b.Grow(int(min(max(info.Size(), 0), yamldoc.MaxBytes)) + bytes.MinRead)
	_, err = io.Copy(&b, io.LimitReader(f, yamldoc.MaxBytes+1))
	return b.Bytes(), err
}

// cause is an error of the system without the path.
func cause(err error) error {
	if p, ok := errors.AsType[*fs.PathError](err); ok {
		return p.Err
	}
	return err
}
