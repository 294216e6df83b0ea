package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"canewright/cmd/internal/wire"
	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
	"canewright/engine/yamldoc"
)

// fixed is what check --fix did to a file.
type fixed struct {
	Before string      `json:"before"` // the file as it was
	Lines  []rewritten `json:"lines"`
}

// fixNames rewrites the names in a recipe that its dimensions had before; nil
// when there are none.
func fixNames(w *wire.Works, name string, r wire.Recipe) (*fixed, error) {
	if r.Text.Own != nil {
		for _, d := range r.List.Sorted() {
			if d.Replace != "" {
				return nil, hinted{fmt.Errorf("rewrite %s: old names stand in what it builds on, or in what it changes", diagnostic.Clean(name)), "change the names it says by hand; for the origin: canewright adapt " + diagnostic.Clean(name) + " --update"}
			}
		}
		return nil, nil
	}
	path, data := r.Snapshot.RecipeName, r.Snapshot.Recipe
	after, lines, err := rewrite(data, r.List.Sorted())
	if err != nil {
		return nil, fmt.Errorf("rewrite recipe %s: %w", name, err)
	}
	if len(lines) == 0 {
		return nil, nil
	}
	if _, err := os.Stat(path); err != nil {
		return nil, hinted{fmt.Errorf("rewrite recipe %s: it is no file of yours", name), "save it as a file of your own, and fix that"}
	}
	// What could be followed before must be so afterwards.
	if s := r.Snapshot; r.Bound != nil {
		s.Recipe = after
		if _, err := w.Bind(s); err != nil {
			return nil, fmt.Errorf("rewrite recipe %s: with the new names it is not read any more; nothing is written: %w", name, err)
		}
	}
	kept, err := replaceFile(path, data, after)
	if err != nil {
		return nil, err
	}
	return &fixed{kept, lines}, nil
}

// casesBeside are the cases that stand beside a recipe of the player's own, as
// far as names in them are concerned.
type casesBeside struct {
	path  string
	data  []byte
	found diagnostic.List // names dimensions had before
	lost  bool            // they cannot be read, and were not looked at
}

// readCases returns nil where there are none.
func readCases(r wire.Recipe) *casesBeside {
	path := r.Snapshot.RecipeName
	if r.Bound == nil || filepath.Base(path) != "recipe.yaml" {
		return nil
	}
	c := &casesBeside{path: filepath.Join(filepath.Dir(path), "cases.yaml")}
	if info, err := os.Stat(c.path); err != nil || !info.Mode().IsRegular() || info.Size() > yamldoc.MaxBytes {
		return nil
	}
	var err error
	if c.data, err = os.ReadFile(c.path); err != nil {
		c.lost = true
		return c
	}
	cases, list := recipe.LoadCases(c.path, c.data)
	if list.Failed() {
		c.lost = true
		return c
	}
	c.found = r.Bound.OldNames(cases)
	return c
}

// fix rewrites the names; nil when there are none.
func (c *casesBeside) fix() (*fixed, error) {
	after, lines, err := rewrite(c.data, c.found.Sorted())
	if err != nil {
		return nil, fmt.Errorf("rewrite %s: %w", c.path, err)
	}
	if len(lines) == 0 {
		return nil, nil
	}
	if _, list := recipe.LoadCases(c.path, after); list.Failed() {
		return nil, fmt.Errorf("rewrite %s: with the new names it cannot be read any more; nothing is written: %s", c.path, list.Sorted()[0].Message)
	}
	kept, err := replaceFile(c.path, c.data, after)
	if err != nil {
		return nil, err
	}
	return &fixed{kept, lines}, nil
}

// rewritten is one line of a recipe in which names changed.
type rewritten struct {
	Line   int    `json:"line"`
	Before string `json:"before"`
	After  string `json:"after"`
}

// rewrite puts what findings say in the place of what they point at, and
// changes nothing else: not a byte of line ends, blanks and comments. It fails
// where data is not what the findings were made from.
func rewrite(data []byte, found []diagnostic.Diagnostic) (after []byte, lines []rewritten, err error) {
	byLine := map[int][]diagnostic.Diagnostic{}
	for _, d := range found {
		if d.Replace != "" {
			byLine[d.Span.From.Line] = append(byLine[d.Span.From.Line], d)
		}
	}
	// Lines and columns are those of diagnostic.Source, which drops a byte order
	// mark and the carriage return of a line's end.
	const mark = "\ufeff"
	text := string(data)
	if strings.HasPrefix(text, mark) {
		after, text = append(after, mark...), text[len(mark):]
	}
	number := 0
	for whole := range strings.Lines(text) {
		number++
		line := strings.TrimRight(whole, "\r\n")
		runes := []rune(line)
		ds := byLine[number]
		slices.SortFunc(ds, func(a, b diagnostic.Diagnostic) int { return b.Span.From.Col - a.Span.From.Col })
		for _, d := range ds { // from the right: places to the left stay
			from, to := d.Span.From.Col-1, d.Span.To.Col-1
			if d.Span.To.Line != number || from < 0 || from > to || to > len(runes) {
				return nil, nil, fmt.Errorf("line %d is not what was checked", number)
			}
			runes = slices.Replace(runes, from, to, []rune(d.Replace)...)
		}
		if now := string(runes); now != line {
			lines = append(lines, rewritten{number, line, now})
			line = now
		}
		after = append(append(after, line...), whole[len(strings.TrimRight(whole, "\r\n")):]...)
	}
	return after, lines, nil
}

// replaceFile puts after in the place of data, in the file at path, and keeps
// what it was beside it. It says under which name.
func replaceFile(path string, data, after []byte) (kept string, err error) {
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return "", fmt.Errorf("rewrite a file: %w", err)
	}
	info, err := os.Stat(real)
	if err != nil {
		return "", fmt.Errorf("rewrite a file: %w", err)
	}
	if err := unchanged(real, path, data); err != nil {
		return "", err
	}
	kept, err = keepBefore(path, data, info.Mode().Perm())
	if err != nil {
		return "", fmt.Errorf("rewrite %s: keep it as it was: %w", path, err)
	}
	var other error
	err = wire.WriteWholeIf(real, after, info.Mode().Perm(), func() error {
		other = unchanged(real, path, data)
		return other
	})
	switch {
	case other != nil:
		return "", other
	case err != nil:
		return "", fmt.Errorf("rewrite %s: %w", path, err)
	}
	return kept, nil
}

func unchanged(real, path string, data []byte) error {
	now, err := os.ReadFile(real)
	if err != nil {
		return fmt.Errorf("rewrite a file: %w", err)
	}
	if !bytes.Equal(now, data) {
		return hinted{fmt.Errorf("rewrite %s: the file changed while it was checked; nothing is written", path), "close it where it is open, and try again"}
	}
	return nil
}

// mostKept is how many files of one recipe as it was are made before somebody
// should look.
const mostKept = 99

// keepBefore writes data beside a recipe, under a name nothing has yet: an
// earlier one is never written over.
func keepBefore(path string, data []byte, mode fs.FileMode) (string, error) {
	for n := 1; n <= mostKept; n++ {
		kept := path + ".before"
		if n > 1 {
			kept += "-" + strconv.Itoa(n)
		}
		f, err := os.OpenFile(kept, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if errors.Is(err, fs.ErrExist) {
			if old, err := os.ReadFile(kept); err == nil && bytes.Equal(old, data) {
				return kept, nil
			}
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = f.Write(data)
		return kept, errors.Join(err, f.Sync(), f.Close())
	}
	return "", fmt.Errorf("there are %d files such as %s.before-2; remove what you do not need", mostKept, path)
}

// printFixed shows each line before and after.
func (c *commander) printFixed(file string, f *fixed) {
	for _, l := range f.Lines {
		c.printf("%s:%d:\n  - %s\n  + %s\n", diagnostic.Clean(file), l.Line, diagnostic.Clean(l.Before), diagnostic.Clean(l.After))
	}
	c.printf("%s: %s rewritten; as it was: %s\n", diagnostic.Clean(file), count(len(f.Lines), "line"), diagnostic.Clean(f.Before))
}
