package wire

import (
	"path/filepath"

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
