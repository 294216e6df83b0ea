package wire

import (
	"bytes"
	"crypto/ed25519"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/parcel"
)

// The player's own key, and the names they have given to others'.
const (
	keyFile       = "key"
	knownKeysFile = "known-keys"
	keyLead       = "canewright key 1 "
)

// KeyError: the player's key cannot be used.
type KeyError struct{ Path, Why, Hint string }

func (e *KeyError) Error() string { return "read your signing key " + e.Path + ": " + e.Why }

// KeyPath is where the player's key lies, or would.
func (w *Works) KeyPath() (string, error) {
	folder, err := w.dataFolder()
	if err != nil {
		return "", fmt.Errorf("find the place of your signing key: %w", err)
	}
	return filepath.Join(folder, keyFile), nil
}

// Key is the player's key, nil if there is none yet. One that others can read
// is refused: a signature with it would say nothing.
func (w *Works) Key() (ed25519.PrivateKey, error) {
	path, err := w.KeyPath()
	if err != nil {
		return nil, err
	}
	bad := func(why, hint string) error { return &KeyError{path, why, hint} }
	const again = "put it back from your copy; or remove it, and --sign makes another, which nobody knows yet"
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, bad(withoutPath(err).Error(), "")
	case !info.Mode().IsRegular():
		return nil, bad("it is a link, a folder or a device, not an ordinary file", again)
	case runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0:
		return nil, bad("others can read it, so it may no longer be yours alone",
			"if nobody had the chance: chmod 600 "+path+"; else remove it, and --sign makes another")
	case info.Size() > 1024:
		return nil, bad("this is no key", again)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, bad(withoutPath(err).Error(), "")
	}
	text, ok := bytes.CutPrefix(bytes.TrimSpace(data), []byte(keyLead))
	seed, err := hex.DecodeString(string(text))
	if !ok || err != nil || len(seed) != ed25519.SeedSize {
		return nil, bad("this is no key", again)
	}
	return ed25519.NewKeyFromSeed(seed), nil
}

// MakeKey makes the player's key; there must be none yet.
func (w *Works) MakeKey() (ed25519.PrivateKey, error) {
	path, err := w.KeyPath()
	if err != nil {
		return nil, err
	}
	seed := make([]byte, ed25519.SeedSize)
	if _, err := io.ReadFull(w.Rand, seed); err != nil {
		return nil, fmt.Errorf("make a signing key: %w", err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return nil, fmt.Errorf("make a signing key: %w", err)
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, fmt.Errorf("make a signing key: %w", err)
	}
	_, err = io.WriteString(f, keyLead+hex.EncodeToString(seed)+"\n")
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		_ = os.Remove(path)
		return nil, fmt.Errorf("make a signing key: %w", err)
	}
	return ed25519.NewKeyFromSeed(seed), nil
}

// KnownKey is a key and the name the player gave it.
type KnownKey struct {
	Key  ed25519.PublicKey
	Name string
}

// KnownKeysPath is the list of known keys.
func (w *Works) KnownKeysPath() string {
	folder, err := w.dataFolder()
	if err != nil {
		return knownKeysFile
	}
	return filepath.Join(folder, knownKeysFile)
}

// KnownKeys are the keys the player has given names to, by name. A line that is
// none is an error: a list that guards something is not guessed at.
func (w *Works) KnownKeys() ([]KnownKey, error) {
	lines, err := w.readLines(knownKeysFile)
	if err != nil {
		return nil, fmt.Errorf("read the known keys: %w", err)
	}
	var out []KnownKey
	for _, l := range lines {
		text, name, _ := strings.Cut(l, " ")
		key, err := hex.DecodeString(text)
		if name = strings.TrimSpace(name); err != nil || len(key) != ed25519.PublicKeySize || name == "" {
			return nil, &KeyListError{w.KnownKeysPath(), l}
		}
		out = append(out, KnownKey{key, name})
	}
	return out, nil
}

// KeyListError: a line of the known keys is none.
type KeyListError struct {
	Path string
	Line string
}

func (e *KeyListError) Error() string {
	return fmt.Sprintf("read the known keys in %s: this line is not a key and a name: %s", e.Path, diagnostic.Clean(diagnostic.Clip(e.Line)))
}

// OtherKeyError: a name is given to another key already.
type OtherKeyError struct {
	Name, Path string
	Known      ed25519.PublicKey
}

func (e *OtherKeyError) Error() string {
	return fmt.Sprintf("you call another key %q: %s", e.Name, parcel.Fingerprint(e.Known))
}

// Trust gives a key a name; was is what it was called before.
func (w *Works) Trust(key ed25519.PublicKey, name string) (was string, err error) {
	all, err := w.KnownKeys()
	if err != nil {
		return "", err
	}
	for _, k := range all {
		if SameName(k.Name, name) && !k.Key.Equal(key) {
			return "", &OtherKeyError{k.Name, w.KnownKeysPath(), k.Key}
		}
	}
	all = slices.DeleteFunc(all, func(k KnownKey) bool {
		if k.Key.Equal(key) {
			was = k.Name
		}
		return k.Key.Equal(key)
	})
	all = append(all, KnownKey{key, name})
	slices.SortFunc(all, func(a, b KnownKey) int { return strings.Compare(a.Name, b.Name) })
	var lines []string
	for _, k := range all {
		lines = append(lines, hex.EncodeToString(k.Key)+" "+k.Name)
	}
	return was, w.writeLines(knownKeysFile, lines)
}

// SameName reports names that look alike to a reader: case and blanks do not
// matter.
func SameName(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}
