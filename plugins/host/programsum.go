package host

import (
	"bytes"
	"crypto/sha256"
	"debug/elf"
	"fmt"
	"io"
	"os"
)

// ProgramSum is a checksum of a program's file. The Go linker writes one into
// what it links, the build ID, whose last part is a hash of the contents; it is
// taken where it is found, since hashing forty megabytes takes about as long as
// starting a plugin. Of any other file all bytes are hashed. It tells one
// program from another and guards against nobody: whoever may write to the
// file may write any build ID into it.
func ProgramSum(path string) (sum [32]byte, err error) {
	f, err := os.Open(path)
	if err != nil {
		return sum, fmt.Errorf("take the checksum of a program: %w", err)
	}
	defer f.Close()
	if id := buildID(f); len(id) > 0 {
		return sha256.Sum256(append([]byte("build id "), id...)), nil
	}
	h := sha256.New()
	if _, err := io.Copy(h, io.NewSectionReader(f, 0, 1<<62)); err != nil {
		return sum, fmt.Errorf("take the checksum of program %s: %w", path, err)
	}
	return [32]byte(h.Sum(nil)), nil
}

// How a build ID stands at the beginning of the code where the
// format of the file has no place of its own for it.
const (
	idBegins = "\xff Go build ID: \""
	idEnds   = "\"\n \xff"
)

// goNote is the section that holds it in an ELF file: the lengths of name and
// contents, a type, the name "Go" and the contents.
const (
	goNote       = ".note.go.buildid"
	goNoteHeader = 16
)

func buildID(f io.ReaderAt) []byte {
	if e, err := elf.NewFile(f); err == nil {
		s := e.Section(goNote)
		if s == nil || s.Size > 1<<10 {
			return nil
		}
		if b, err := s.Data(); err == nil && len(b) > goNoteHeader {
			return b[goNoteHeader:]
		}
		return nil
	}
	b := make([]byte, 32<<10) // cmd/internal/buildid looks as far
	n, _ := f.ReadAt(b, 0)
	_, rest, _ := bytes.Cut(b[:n], []byte(idBegins))
	id, _, ends := bytes.Cut(rest, []byte(idEnds))
	if !ends {
		return nil
	}
	return id
}
