//go:build unix

package wire_test

import (
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// A pipe in a recipe's place once kept the program waiting, deaf to a signal.
func TestAPipeIsNoRecipe(t *testing.T) {
	t.Parallel()
	w, path := works(t), filepath.Join(t.TempDir(), "recipe.yaml")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip("no pipes here:", err)
	}
	for _, name := range []string{path, filepath.Dir(path)} {
		done := make(chan error, 1)
		go func() { _, _, err := w.ReadRecipe(name); done <- err }()
		select {
		case err := <-done:
			if err == nil {
				t.Errorf("%s was read", name)
			}
		case <-time.After(5 * time.Second):
			t.Fatalf("%s: still waiting", name)
		}
	}
}
