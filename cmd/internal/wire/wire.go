package wire

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"time"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/logbook"
	"canewright/engine/recipe"
	"canewright/engine/session"
	"canewright/engine/tool"
	"canewright/engine/yamldoc"
	"canewright/plugins/bassoon"
	"canewright/plugins/contrabassoon"
	"canewright/plugins/englishhorn"
	"canewright/plugins/host"
	"canewright/plugins/oboe"
	"canewright/plugins/oboedamore"
	"canewright/plugins/sdk"
	"canewright/plugins/uilleann"
	"canewright/recipes"
	"canewright/safety"
)

// Works is the joinery for one run of the program.
type Works struct {
	Env  func(string) string
	Now  func() time.Time
	Rand io.Reader // identities of sessions
	Book string    // path of the logbook; empty: the usual place
	Who  string
	// Fresh: instruments are asked each time, and nothing of their answers is
	// kept.
	Fresh bool

	// Each is made once in a run, when it is first asked for.
	onceTools, onceNotes sync.Once
	tools                *tool.Catalogue
	notes                *safety.Catalogue
	notesErr             error

	// remembered are the sets of this run, when many recipes are read one after
	// another; nil: each is asked for again.
	remembered map[string]*dimension.Set

	bound     *recipe.Bound // by Recipe, last
	boundFrom session.Snapshot

	ahead map[host.Want]host.Got // by Ahead
}

// Bundled are the instruments that live in this executable; each is made when
// it is served.
func Bundled() map[string]func() sdk.Instrument {
	return map[string]func() sdk.Instrument{
		"bassoon":          bassoon.Plugin,
		"contrabassoon":    contrabassoon.Plugin,
		"english-horn":     englishhorn.Plugin,
		"oboe":             oboe.Plugin,
		"oboe-damore":      oboedamore.Plugin,
		"uilleann-chanter": uilleann.Plugin,
	}
}

// Tools are the known tools and materials.
func (w *Works) Tools() *tool.Catalogue {
	w.onceTools.Do(func() { w.tools = tool.Standard() })
	return w.tools
}

// Notes are the safety notes; an error stops every hazardous stage.
func (w *Works) Notes() (*safety.Catalogue, error) {
	w.onceNotes.Do(func() { w.notes, w.notesErr = safety.Load() })
	return w.notes, w.notesErr
}

// AttachVariable names the plugins that run in a debugger; see host.ParseAttach.
const AttachVariable = "CANEWRIGHT_REATTACH"

// Attached are the plugins an author runs in a debugger.
func (w *Works) Attached() (map[string]host.Attach, error) {
	return host.ParseAttach(w.Env(AttachVariable))
}

// Store is where added instruments lie: in the data folder, wherever the
// logbook of this run is. A folder named on the command line may be a
// stranger's.
func (w *Works) Store() host.Store {
	s := host.Store{Taken: slices.Sorted(maps.Keys(Bundled()))}
	if folder, err := w.dataFolder(); err == nil && filepath.IsAbs(folder) {
		s.Folder = filepath.Join(folder, "instruments")
	}
	return s
}

// Host starts instruments: which there are is settled here.
func (w *Works) Host() *host.Host {
	seed := uint64(w.Now().UnixNano())
	attach, _ := w.Attached() // what is wrong with it is said once, at the start of the program
	store := w.Store()
	return &host.Host{Bundled: store.Taken, Store: store, Attach: attach, Random: rand.New(rand.NewPCG(seed, seed))}
}

// BookPath is where the logbook lies: --logbook, else canewright/logbook in
// the data folder (XDG Base Directory Specification 0.8; the system's own place
// elsewhere).
func (w *Works) BookPath() (string, error) {
	if w.Book != "" {
		return filepath.Abs(w.Book)
	}
	folder, err := w.dataFolder()
	if err != nil {
		return "", errors.New("find the logbook's place: neither XDG_DATA_HOME nor HOME is set; name a file with --logbook")
	}
	return filepath.Join(folder, "logbook"), nil
}

// dataFolder is the player's own, for everything canewright keeps.
func (w *Works) dataFolder() (string, error) {
	if d := w.Env("XDG_DATA_HOME"); d != "" && filepath.IsAbs(d) {
		return filepath.Join(d, "canewright"), nil
	}
	if d := w.Env("LOCALAPPDATA"); runtime.GOOS == "windows" && d != "" {
		return filepath.Join(d, "canewright"), nil
	}
	home := w.Env("HOME")
	if home == "" {
		return "", errors.New("neither XDG_DATA_HOME nor HOME is set")
	}
	return filepath.Join(home, ".local", "share", "canewright"), nil
}

// Logbook opens the logbook.
func (w *Works) Logbook(ctx context.Context) (*logbook.Logbook, error) {
	path, err := w.BookPath()
	if err != nil {
		return nil, err
	}
	return logbook.Open(ctx, path)
}

// InvalidError: a file a player wrote has findings that keep it from being used.
type InvalidError struct {
	Name string
	List diagnostic.List
}

func (e *InvalidError) Error() string {
	n := 0
	for _, d := range e.List.Sorted() {
		if d.Severity == diagnostic.Error {
			n++
		}
	}
	if n == 1 {
		return fmt.Sprintf("read recipe %s: it has one error", e.Name)
	}
	return fmt.Sprintf("read recipe %s: it has %d errors", e.Name, n)
}

// RecipeNotFoundError: no file, no bundled recipe and none in a library has this name.
type RecipeNotFoundError struct{ Name, Near string }

func (e *RecipeNotFoundError) Error() string {
	return fmt.Sprintf("read recipe %q: there is no such file and no recipe of this name, bundled or in your library", e.Name)
}

// largeRecipe: above this a recipe is ten times as long as a long one.
const largeRecipe = 256 << 10

// readingLimit: from here on the collector works hard, so that no file takes
// 100 MB.
const readingLimit = 56 << 20

// ReadRecipe returns the file of a recipe: a path, a bundled name, or a name in
// the library folders.
func (w *Works) ReadRecipe(name string) (file string, data []byte, err error) {
	f, err := w.find(name)
	return f.file, f.data, err
}

// found is where a recipe was found.
type found struct {
	file    string
	data    []byte
	bundled string // its name among the bundled ones, "" elsewhere
}

func (w *Works) find(name string) (found, error) {
	path := name
	info, serr := os.Stat(path)
	if serr == nil && info.IsDir() {
		path = filepath.Join(path, "recipe.yaml")
		info, serr = os.Stat(path)
	}
	if serr == nil && !info.Mode().IsRegular() { // to open a pipe would wait for whoever writes into it
		return found{}, fmt.Errorf("read recipe %s: this is no ordinary file", name)
	}
	data, err := ReadOrdinary(path, yamldoc.MaxBytes)
	if err == nil {
		return found{file: path, data: data}, nil
	}
	if errors.Is(err, errNotOrdinary) {
		return found{}, fmt.Errorf("read recipe %s: %w", name, err)
	}
	if file, data, ok := recipes.Read(name); ok {
		return found{file, data, strings.TrimSuffix(strings.TrimPrefix(file, "recipes/"), "/recipe.yaml")}, nil
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return found{}, fmt.Errorf("read recipe: %w", err)
	}
	var known, several []string
	for _, n := range recipes.All() {
		short := n[strings.Index(n, "/")+1:]
		if short == name {
			several = append(several, n)
		}
		known = append(known, n, short)
	}
	if len(several) > 1 {
		return found{}, &RecipeNotFoundError{name, strings.Join(several, " or ")}
	}
	if f, err := w.findInLibraries(name); err != nil || f.file != "" {
		return f, err
	}
	return found{}, &RecipeNotFoundError{name, diagnostic.Near(name, known)}
}

// Recipe is a recipe ready for use, with all that is kept of it.
type Recipe struct {
	File     *recipe.File // nil when the file cannot be read
	Bound    *recipe.Bound
	Snapshot session.Snapshot
	List     diagnostic.List // warnings and remarks, and errors when Bound is nil
	Text     Text            // the file; Snapshot holds it whole
}

// Recipe reads, checks and binds a recipe. Findings are in the Recipe; the
// error is for what is no fault of the file.
func (w *Works) Recipe(ctx context.Context, name string) (Recipe, error) {
	t, list, err := w.Text(name)
	if err != nil {
		return Recipe{}, err
	}
	return w.Ready(ctx, t, list, nil)
}

// Remember keeps the dimension sets of this run in memory, for who reads many
// recipes.
func (w *Works) Remember() { w.remembered = map[string]*dimension.Set{} }

// Ready checks and binds a recipe that was read. A set that is given is used in
// place of what the instrument here would answer.
func (w *Works) Ready(ctx context.Context, t Text, list diagnostic.List, set *dimension.Set) (Recipe, error) {
	file, data := t.WholeName, t.Whole
	if data == nil {
		return Recipe{List: list, Text: t, Snapshot: session.Snapshot{RecipeName: t.File, Recipe: t.Data}}, nil
	}
	// Made while the instrument starts.
	go func() {
		w.Tools()
		_, _ = w.Notes()
	}()
	if len(data) > largeRecipe && w.Env("GOGC") == "" {
		debug.SetGCPercent(30)
	}
	if w.Env("GOMEMLIMIT") == "" { // a stranger's file: memory before time, while it is read
		defer debug.SetMemoryLimit(debug.SetMemoryLimit(readingLimit))
	}
	f, more := recipe.Load(file, data)
	list.Append(more)
	r := Recipe{File: f, List: list, Text: t, Snapshot: session.Snapshot{RecipeName: file, Recipe: data}}
	if f == nil {
		return r, nil
	}
	kept := fmt.Sprint(f.Instrument, " ", f.Major)
	if set == nil {
		set = w.remembered[kept]
	}
	if set != nil {
		r.Snapshot.Set = set.Encode()
	} else if f.Instrument != "" {
		var stop func()
		var err error
		set, stop, err = w.ask(ctx, host.Want{Name: f.Instrument, Major: f.Major})
		// It ends while the recipe is bound; it has ended when Recipe returns.
		stopped := make(chan struct{})
		go func() {
			stop()
			close(stopped)
		}()
		defer func() { <-stopped }()
		var missing *host.NotFoundError
		var version *host.VersionError
		switch {
		case errors.As(err, &missing):
			r.List.Hinted("recipe/unknown-instrument", f.InstrumentSpan(), "canewright instruments lists what there is", "there is no instrument %q here", f.Instrument)
			return r, nil
		case errors.As(err, &version):
			r.List.Hinted("recipe/instrument-version", f.InstrumentSpan(), "write the major version you have, and check the recipe against it", "%s", version.Error())
			return r, nil
		case err != nil:
			return r, err
		}
		r.Snapshot.Set = set.Encode()
		if w.remembered != nil {
			w.remembered[kept] = set
		}
	}
	bound, more := recipe.Bind(f, set, w.Tools())
	r.Bound = bound
	r.List.Append(more)
	if bound == nil {
		return r, nil
	}
	notes, err := w.Notes()
	if err != nil {
		return r, err
	}
	r.Snapshot.Notes = notes.Bytes()
	w.bound, w.boundFrom = bound, r.Snapshot
	return r, nil
}

// Bind reads a kept recipe again, with the set kept beside it. What Recipe has
// just bound from the same bytes serves again: the start of a batch would do
// all of it twice. That both are alike is held by a test.
func (w *Works) Bind(s session.Snapshot) (*recipe.Bound, error) {
	if k := w.boundFrom; w.bound != nil && k.RecipeName == s.RecipeName && bytes.Equal(k.Recipe, s.Recipe) && bytes.Equal(k.Set, s.Set) {
		return w.bound, nil
	}
	f, list := recipe.Load(s.RecipeName, s.Recipe)
	if f == nil {
		return nil, &InvalidError{s.RecipeName, list}
	}
	var set *dimension.Set
	if len(s.Set) > 0 {
		var err error
		if set, err = dimension.Decode(s.Set); err != nil {
			return nil, fmt.Errorf("read the kept dimension set: %w", err)
		}
	}
	b, list := recipe.Bind(f, set, w.Tools())
	if b == nil {
		return nil, &InvalidError{s.RecipeName, list}
	}
	return b, nil
}

// Outside is what a session needs.
func (w *Works) Outside(keep session.Keeper) (session.Outside, error) {
	notes, err := w.Notes()
	if err != nil {
		return session.Outside{}, err
	}
	return session.Outside{Keep: keep, Notes: notes, Bind: w.Bind, Now: w.Now, NewID: w.NewID, Who: w.Who}, nil
}

// NewID is an identity nobody else has.
func (w *Works) NewID() string {
	b := make([]byte, 8)
	if _, err := io.ReadFull(w.Rand, b); err != nil {
		return fmt.Sprintf("at-%d", w.Now().UnixNano())
	}
	return hex.EncodeToString(b)
}
