package wire

import (
	"context"
	"path/filepath"
	"slices"

	"canewright/engine/dimension"
	"canewright/engine/recipe"
	"canewright/plugins/host"
)

// Cache asks for dimension sets, and starts no instrument whose set is known
// from before. It keeps them in the data folder; without one it asks each time.
func (w *Works) Cache() *host.Cache {
	c := &host.Cache{Host: w.Host()}
	if folder, err := w.dataFolder(); err == nil && !w.Fresh {
		c.Dir = filepath.Join(folder, "sets")
	}
	return c
}

// Ahead asks at once for the sets that several recipes are going to need, so
// that Recipe has them. What it finds wrong is Recipe's to tell.
func (w *Works) Ahead(ctx context.Context, names []string) {
	if len(names) < 2 {
		return
	}
	var wants []host.Want
	for _, name := range names {
		file, data, err := w.ReadRecipe(name)
		if err != nil || len(data) > largeRecipe {
			continue
		}
		f, _ := recipe.Load(file, data)
		if f == nil || f.Instrument == "" {
			continue
		}
		if want := (host.Want{Name: f.Instrument, Major: f.Major}); !slices.Contains(wants, want) {
			wants = append(wants, want)
		}
	}
	w.ahead = map[host.Want]host.Got{}
	for i, got := range w.Cache().Sets(ctx, wants) {
		w.ahead[wants[i]] = got
	}
}

// ask is Cache.Ask, or what was asked ahead.
func (w *Works) ask(ctx context.Context, want host.Want) (set *dimension.Set, stop func(), err error) {
	if got, ok := w.ahead[want]; ok {
		return got.Set, func() {}, got.Err
	}
	return w.Cache().Ask(ctx, want.Name, want.Major)
}
