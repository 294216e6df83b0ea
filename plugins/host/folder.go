package host

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
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
		base = socketBase(os.TempDir(), "/tmp")
	}
	sweep(base)
	dir, err := os.MkdirTemp(base, folderPrefix+strconv.Itoa(os.Getpid())+"-")
	if err != nil {
		return "", fmt.Errorf("make a private folder: %w", err)
	}
	return dir, nil
}

// longestBase: a path to a socket has at most 104 bytes on darwin and 108 on
// linux (sun_path), and the folders and the file below take about 70.
const longestBase = 32

// socketBase is the system's folder for temporary files, or short where that
// lies too deep for a socket, as it does on darwin.
func socketBase(usual, short string) string {
	if len(usual) <= longestBase || runtime.GOOS == "windows" {
		return usual
	}
	if info, err := os.Stat(short); err == nil && info.IsDir() {
		return short
	}
	return usual
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
