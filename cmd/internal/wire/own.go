package wire

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"canewright/engine/adaptation"
	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/library"
	"canewright/engine/recipe"
	"canewright/engine/yamldoc"
	"canewright/recipes"
)

// mostOrigins is how many own versions may stand on top of each other.
const mostOrigins = 8

// OriginNotFoundError: the text an own version builds on is nowhere here.
type OriginNotFoundError struct {
	File   string
	Origin adaptation.Origin
}

func (e *OriginNotFoundError) Error() string {
	return fmt.Sprintf("read your version %s: it builds on %s, version %d, and that text is not here (sha256 %s…)", diagnostic.Clean(e.File), diagnostic.Clean(e.Origin.ID), e.Origin.Version, e.Origin.SHA256[:12])
}

// Text is a recipe's file with what it builds on.
type Text struct {
	File string // as given
	Data []byte // as it stands in the file
	// Own is nil where Data is a recipe of its own. Origin is then empty; else it
	// is the recipe under the own version, whole.
	Own        *adaptation.Own
	OriginName string
	Origin     []byte
	Chain      [][]byte // the texts it builds on as they are, the nearest first
	// Whole is a recipe; nil where findings keep the own version from being put on
	// top of its origin.
	Whole     []byte
	WholeName string // for messages: lines are those of Whole
}

// Text reads a recipe and puts an own version on top of what it builds on.
func (w *Works) Text(name string) (Text, diagnostic.List, error) {
	file, data, err := w.ReadRecipe(name)
	if err != nil {
		return Text{}, diagnostic.List{}, err
	}
	return w.TextOf(file, data, nil)
}

// TextOf is Text for a file at hand. Origins are texts that came with it, and are
// looked at first.
func (w *Works) TextOf(file string, data []byte, origins [][]byte) (Text, diagnostic.List, error) {
	return w.textOf(file, data, origins, 0)
}

// RecipeText is Recipe for a text at hand, with what came along with it. A set
// that is given is used in place of what the instrument here would answer.
func (w *Works) RecipeText(ctx context.Context, file string, data []byte, origins [][]byte, set *dimension.Set) (Recipe, error) {
	t, list, err := w.TextOf(file, data, origins)
	if err != nil {
		return Recipe{}, err
	}
	return w.Ready(ctx, t, list, set)
}

func (w *Works) textOf(file string, data []byte, origins [][]byte, depth int) (Text, diagnostic.List, error) {
	t := Text{File: file, Data: data, Whole: data, WholeName: file}
	if !adaptation.IsOwn(data) {
		return t, diagnostic.List{}, nil
	}
	t.Whole, t.WholeName = nil, file+" (whole)"
	if depth >= mostOrigins {
		return t, diagnostic.List{}, fmt.Errorf("read your version %s: more than %d versions stand on top of each other", diagnostic.Clean(file), mostOrigins)
	}
	own, list := adaptation.Load(file, data)
	if own == nil {
		return t, list, nil
	}
	t.Own = own
	under, ok := w.originText(filepath.Dir(file), own.Origin.SHA256, origins)
	if !ok {
		return t, list, &OriginNotFoundError{file, own.Origin}
	}
	t.OriginName = own.Origin.ID + " (what " + filepath.Base(file) + " builds on)"
	below, more, err := w.textOf(filepath.Join(filepath.Dir(file), t.OriginName), under, origins, depth+1)
	if err != nil || below.Whole == nil {
		list.Append(more)
		return t, list, err
	}
	t.Origin, t.Chain = below.Whole, append([][]byte{under}, below.Chain...)
	t.Whole, more = own.Whole(t.OriginName, below.Whole)
	list.Append(more)
	return t, list, nil
}

// originText finds a text by its digest: what came along, what is kept here, what
// lies in a folder "origins" beside the own version, the bundled recipes, and
// the library.
func (w *Works) originText(beside, sha256 string, origins [][]byte) ([]byte, bool) {
	for _, data := range origins {
		if recipe.Digest(data) == sha256 {
			return data, true
		}
	}
	name := sha256 + ".yaml"
	var places []string
	if d, err := w.originsFolder(); err == nil {
		places = append(places, filepath.Join(d, name))
	}
	places = append(places, filepath.Join(beside, "origins", name))
	for _, p := range places {
		if data, err := ReadOrdinary(p, yamldoc.MaxBytes); err == nil && recipe.Digest(data) == sha256 {
			return data, true
		}
	}
	data, _, _ := w.FindText(sha256) // a library that cannot be read has it not
	return data, data != nil
}

func (w *Works) originsFolder() (string, error) {
	d, err := w.dataFolder()
	if err != nil {
		return "", err
	}
	if !filepath.IsAbs(d) {
		return "", errors.New("the data folder has no absolute path")
	}
	return filepath.Join(d, "origins"), nil
}

// KeepOrigin keeps a text that an own version builds on, whatever becomes of the
// place it came from.
func (w *Works) KeepOrigin(data []byte) error {
	folder, err := w.originsFolder()
	if err != nil {
		return fmt.Errorf("keep what it builds on: %w", err)
	}
	return keepIn(folder, data)
}

// KeepBeside keeps it in a folder "origins" beside the own version, to travel
// with it.
func KeepBeside(file string, data []byte) error {
	return keepIn(filepath.Join(filepath.Dir(file), "origins"), data)
}

func keepIn(folder string, data []byte) error {
	name := filepath.Join(folder, recipe.Digest(data)+".yaml")
	if old, err := ReadOrdinary(name, yamldoc.MaxBytes); err == nil && recipe.Digest(old) == recipe.Digest(data) {
		return nil
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return fmt.Errorf("keep what it builds on: %w", err)
	}
	if err := WriteWhole(name, data, 0o644); err != nil {
		return fmt.Errorf("keep what it builds on: %w", err)
	}
	return nil
}

// Newer finds the text that now goes by the id of an origin, bundled or in the
// library; ok is false where there is none or it is the same.
func (w *Works) Newer(o adaptation.Origin) (name string, ok bool) {
	best := 0
	look := func(file string, data []byte) {
		t, _, err := w.TextOf(file, data, nil)
		if err != nil || t.Whole == nil || recipe.Digest(data) == o.SHA256 {
			return
		}
		if f, _ := recipe.Load(file, t.Whole); f != nil && f.ID == o.ID && f.Version > best {
			best, name = f.Version, file
		}
	}
	for _, n := range recipes.All() {
		_, data, _ := recipes.Read(n)
		look(n, data)
	}
	all, _ := w.Libraries() // a disk that is not here hides no other
	for _, l := range all {
		files, closer, err := l.Files()
		if err != nil {
			continue
		}
		list, _ := library.Named(files, o.ID)
		for _, e := range list.Entries {
			if data, err := library.Read(files, e.File); err == nil {
				look(l.join(e.File), data)
			}
		}
		_ = closer.Close()
	}
	return name, name != ""
}

// IsNewFile reports that nothing stands at a path yet.
func IsNewFile(path string) bool {
	_, err := os.Lstat(path)
	return errors.Is(err, fs.ErrNotExist)
}
