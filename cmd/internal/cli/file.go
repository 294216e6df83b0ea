package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"canewright/engine/diagnostic"
)

// writeNew writes a file that does not exist yet; what names it in errors.
// Nothing is left of a file that could not be written whole.
func writeNew(what, path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return thereAlready(what, path)
	}
	if err != nil {
		return fmt.Errorf("write the %s: %w", what, err)
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err != nil {
		_ = os.Remove(path)
		return fmt.Errorf("write the %s: %w", what, err)
	}
	return nil
}

func thereAlready(what, path string) error {
	return hinted{usagef("write the %s: %s is there already", what, diagnostic.Clean(path)), "name another file, or remove it first"}
}

// inShell is a path as a shell takes it, as far as it is plain.
func inShell(path string) string {
	path = diagnostic.Clean(path)
	if strings.ContainsAny(path, " '\"$&()*;<>?[]`|") {
		return `"` + strings.ReplaceAll(path, `"`, `\"`) + `"`
	}
	return path
}
