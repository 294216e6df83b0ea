package wire

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"canewright/engine/parcel"
	"canewright/engine/recipe"
)

// Kept is where a recipe was kept.
type Kept struct {
	Place   string // a name canewright takes
	Dir     string
	Already bool   // it was there, just like this
	Beside  string // the place of another recipe of its id, which stays
}

// stagedRecipe begins the name of a folder that is being filled. A library
// passes by what begins with a dot.
const stagedRecipe = ".new-"

// Keep puts what was opened into the player's own library: the whole folder or
// nothing. Another recipe of its name is never written over: the new one then
// lies beside it, under its version.
func (w *Works) Keep(c *parcel.Contents) (Kept, error) {
	data, err := w.dataFolder()
	if err != nil {
		return Kept{}, fmt.Errorf("keep the recipe: %w", err)
	}
	own := filepath.Join(data, "recipes")
	shelf := filepath.Join(own, shelfOf(c.Heading))
	digest := recipe.Digest(c.File(parcel.RecipeName))
	id, version := c.Heading.ID, strconv.Itoa(c.Heading.Version)
	kept := Kept{}
	for _, name := range []string{id, id + ".v" + version, id + ".v" + version + "-" + digest[:8], id + ".v" + version + "-" + packSum(c)[:16]} {
		dir := filepath.Join(shelf, name)
		place := shelfOf(c.Heading) + "/" + name
		if _, err := os.Lstat(dir); err == nil {
			if holds(dir, c) {
				kept.Place, kept.Dir, kept.Already = place, dir, true
				return kept, nil
			}
			if kept.Beside == "" {
				kept.Beside = place
			}
			continue
		} else if !errors.Is(err, fs.ErrNotExist) {
			return Kept{}, fmt.Errorf("keep the recipe: %w", err)
		}
		kept.Place, kept.Dir = place, dir
		return kept, store(own, dir, c)
	}
	return Kept{}, fmt.Errorf("keep the recipe: every name for it in %s is taken", shelf)
}

// packSum tells contents apart whose recipe has the same text.
func packSum(c *parcel.Contents) string {
	var all strings.Builder
	for _, f := range c.Files {
		all.WriteString(f.Name + "\x00" + recipe.Digest(f.Data) + "\x00")
	}
	return recipe.Digest([]byte(all.String()))
}

// keptFiles are the files of a pack that a recipe's folder holds. Its
// instrument has a place of its own, behind its own door.
func keptFiles(c *parcel.Contents) []parcel.File {
	var out []parcel.File
	for _, f := range c.Files {
		if f.Role() != parcel.Instrument {
			out = append(out, f)
		}
	}
	return out
}

// holds reports that a folder has all of this, byte for byte.
func holds(dir string, c *parcel.Contents) bool {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return false
	}
	defer func() { _ = root.Close() }()
	for _, f := range keptFiles(c) {
		got, err := readBeside(root.FS(), f.Name, parcel.MaxPicture)
		if err != nil || string(got) != string(f.Data) {
			return false
		}
	}
	return true
}

func store(own, dir string, c *parcel.Contents) (err error) {
	if err := os.MkdirAll(filepath.Dir(dir), 0o700); err != nil {
		return fmt.Errorf("keep the recipe: %w", err)
	}
	tidyStaged(own)
	staged, err := os.MkdirTemp(own, stagedRecipe)
	if err != nil {
		return fmt.Errorf("keep the recipe: %w", err)
	}
	defer func() {
		if err != nil {
			_ = os.RemoveAll(staged)
			err = fmt.Errorf("keep the recipe: %w", err)
		}
	}()
	// Names were checked when the pack was opened; the root holds them all the same.
	root, err := os.OpenRoot(staged)
	if err != nil {
		return err
	}
	if err := errors.Join(fill(root, c), root.Close()); err != nil {
		return err
	}
	return os.Rename(staged, dir)
}

func fill(root *os.Root, c *parcel.Contents) error {
	for _, f := range keptFiles(c) {
		if sub := filepath.Dir(filepath.FromSlash(f.Name)); sub != "." {
			if err := root.MkdirAll(sub, 0o700); err != nil {
				return err
			}
		}
		if err := writeSynced(root, filepath.FromSlash(f.Name), f.Data); err != nil {
			return err
		}
	}
	return nil
}

func writeSynced(root *os.Root, name string, data []byte) error {
	f, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Sync(), f.Close())
}

// tidyStaged removes what a program that was killed left behind.
func tidyStaged(own string) {
	entries, _ := os.ReadDir(own)
	for _, e := range entries {
		if !e.IsDir() || !strings.HasPrefix(e.Name(), stagedRecipe) {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > time.Hour {
			_ = os.RemoveAll(filepath.Join(own, e.Name()))
		}
	}
}

// number is a version as written, 0 if it is none.
func number(version string) int {
	n, err := strconv.Atoi(version)
	if err != nil {
		return 0
	}
	return n
}
