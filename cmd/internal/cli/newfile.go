package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/interview"
	"canewright/engine/yamldoc"
)

// Behind an unfinished recipe stand the answers it was made from, one a line.
const (
	answersHead = "\n# Not finished: canewright new --resume goes on from these answers.\n"
	answerMark  = "#> "
)

func unfinished(data []byte, lines []string) []byte {
	var b strings.Builder
	b.Write(data)
	b.WriteString(answersHead)
	for _, l := range lines {
		b.WriteString(strings.TrimRight(answerMark+l, " ") + "\n")
	}
	return []byte(b.String())
}

// resumed are the answers an unfinished file was made from. A file that was
// changed since is refused: it would be written over.
func resumed(iv *interview.Interview, path string) ([]string, error) {
	if info, err := os.Stat(path); err == nil && (!info.Mode().IsRegular() || info.Size() > yamldoc.MaxBytes) {
		return nil, usagef("go on with %s: this is no file that canewright new wrote", diagnostic.Clean(path))
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("go on with a recipe: %w", err)
	}
	_, kept, ok := strings.Cut(string(data), answersHead)
	if !ok {
		return nil, hinted{usagef("go on with %s: no answers are kept in it", path), "it is finished: change it with an editor, and look at it with: canewright check " + path}
	}
	var lines []string
	for l := range strings.Lines(kept) {
		l, ok := strings.CutPrefix(strings.TrimRight(l, "\r\n")+" ", answerMark)
		if !ok {
			return nil, usagef("go on with %s: %q is no answer", path, diagnostic.Clean(l))
		}
		next, err := iv.Answer(lines, l)
		if err != nil {
			return nil, usagef("go on with %s: the answer %q is not taken any more: %w", path, diagnostic.Clean(l), err)
		}
		lines = next
	}
	if string(unfinished(iv.Write(lines), lines)) != string(data) {
		return nil, hinted{usagef("go on with %s: it was changed since, and what was changed would be lost", path), "finish it with an editor, and look at it with: canewright check " + path}
	}
	return lines, nil
}

// mostNames of files of one title are tried.
const mostNames = 99

// writeFromPaper writes a whole file or none. Without a path it is named after the
// id, and never the name of a file that is there.
func writeFromPaper(path, id string, data []byte, force bool) (string, error) {
	if path != "" && force {
		return path, replaceWith(path, data)
	}
	for n := 1; n <= mostNames; n++ {
		name := path
		if name == "" {
			name = id + ".yaml"
			if n > 1 {
				name = id + "-" + strconv.Itoa(n) + ".yaml"
			}
		}
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if errors.Is(err, fs.ErrExist) && path == "" {
			continue
		}
		if err != nil {
			return "", fmt.Errorf("write recipe: %w", err)
		}
		_, err = f.Write(data)
		if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
			return "", fmt.Errorf("write recipe %s: %w", name, err)
		}
		return name, nil
	}
	return "", hinted{usagef("write recipe: there are %d files such as %s.yaml here", mostNames, id), "name one with -o"}
}

func replaceWith(path string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return fmt.Errorf("write recipe: %w", err)
	}
	defer os.Remove(f.Name()) // gone already when all went well
	_, err = f.Write(data)
	if err = errors.Join(err, f.Chmod(0o644), f.Sync(), f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("write recipe %s: %w", path, err)
	}
	return nil
}
