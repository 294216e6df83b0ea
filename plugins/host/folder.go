package host

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// folderPrefix, the number of the process that made it, and something random
// make the name of a private folder. It is short because a path to a socket
// has at most about a hundred bytes.
const folderPrefix = "cw-plugin-"

// staleAfter: no plugin runs nearly as long.
const staleAfter = time.Minute

// privateFolder makes a folder only this user can look into, and removes those
// that hosts which were killed left behind.
func (h *Host) privateFolder() (string, error) {
	base := h.TempDir
	if base == "" {
		base = os.TempDir()
	}
	sweep(base)
	dir, err := os.MkdirTemp(base, folderPrefix+strconv.Itoa(os.Getpid())+"-")
	if err != nil {
		return "", fmt.Errorf("make a private folder: %w", err)
	}
	return dir, nil
}

func sweep(base string) {
	found, err := filepath.Glob(filepath.Join(base, folderPrefix+"*"))
	if err != nil {
		return
	}
	for _, dir := range found {
		number, _, _ := strings.Cut(strings.TrimPrefix(filepath.Base(dir), folderPrefix), "-")
		pid, err := strconv.Atoi(number)
		if err != nil || alive(pid) {
			continue
		}
		if info, err := os.Lstat(dir); err == nil && info.IsDir() && time.Since(info.ModTime()) > staleAfter {
			_ = os.RemoveAll(dir) // another user's stays
		}
	}
}
