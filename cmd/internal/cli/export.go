package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"canewright/engine/diagnostic"
	"canewright/engine/logbook"
)

type exportOptions struct {
	batches []string
	format  string
	file    string
	force   bool
}

func newExportCmd(c *commander) *cobra.Command {
	o := exportOptions{}
	cmd := &cobra.Command{
		Use: "export [BATCH…]", Short: "Write batches out: all of it as JSON lines, or readings as a table",
		Long: `Write batches out, all of them or those that are named. Nothing in the logbook
is changed.

jsonl  one JSON object a line: of each batch a head, the recipe, the dimensions
       and the notes it was begun with, every event, and an end that says how
       many there were. Nothing is left out; what was taken back is marked.
csv    one line a reading (RFC 4180, UTF-8), for a spreadsheet: what was typed,
       and its value in the main unit of its kind (lengths in mm, pitches in
       cents from A4). A text that a spreadsheet might take for a formula gets
       an apostrophe before it.

With --output the file appears when it is whole, and only you may read it.`,
		Example: "  canewright export november --format csv --output november.csv\n  canewright export > all.jsonl",
		RunE: func(cmd *cobra.Command, args []string) error {
			o.batches = args
			return runExport(cmd.Context(), c, o)
		},
	}
	cmd.Flags().StringVar(&o.format, "format", "jsonl", "`jsonl or csv`")
	cmd.Flags().StringVarP(&o.file, "output", "o", "", "write to this `FILE`, not to the screen")
	cmd.Flags().BoolVar(&o.force, "force", false, "write over a file that is there")
	c.offerBatches(cmd, true)
	return cmd
}

// exporter writes batches in one format.
type exporter interface {
	begin() error
	batch(ctx context.Context, book *logbook.Logbook, name string, step func()) error
}

func runExport(ctx context.Context, c *commander, o exportOptions) error {
	if o.format != "jsonl" && o.format != "csv" {
		return hinted{usagef("export: there is no format %q", diagnostic.Clean(o.format)), "jsonl has all that was kept, csv the readings"}
	}
	book, err := c.openBook(ctx)
	if err != nil {
		return err
	}
	defer book.Close()
	names, err := exported(ctx, book, o.batches)
	if err != nil {
		return err
	}
	to, err := newTarget(c, o, book.Path())
	if err != nil {
		return err
	}
	defer to.abandon()
	out := bufio.NewWriterSize(to, 64<<10)
	var e exporter = &jsonExport{to: out}
	if o.format == "csv" {
		e = newCSVExport(out)
	}
	if err := e.begin(); err != nil {
		return err
	}
	step := c.progress(o)
	for _, name := range names {
		if err := e.batch(ctx, book, name, step); err != nil {
			return err
		}
	}
	if err := out.Flush(); err != nil {
		return err
	}
	if err := to.finish(); err != nil {
		return err
	}
	if len(names) == 0 {
		fmt.Fprintln(c.sys.Err, "canewright: there is no batch yet; begin one with: canewright follow RECIPE")
	}
	return nil
}

// exported are the batches to write, in the order they were begun. An unknown
// one is found before anything is written.
func exported(ctx context.Context, book *logbook.Logbook, asked []string) ([]string, error) {
	all, err := book.Batches(ctx)
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(all, func(a, b logbook.Entry) int {
		return cmpOr(a.Started.Compare(b.Started), strings.Compare(a.Name, b.Name))
	})
	var names, there []string
	for _, b := range all {
		there = append(there, b.Name)
		if len(asked) == 0 || slices.Contains(asked, b.Name) {
			names = append(names, b.Name)
		}
	}
	for _, a := range asked {
		if !slices.Contains(there, a) {
			return nil, &logbook.NotFoundError{Name: a, All: there}
		}
	}
	return names, nil
}

func cmpOr(a, b int) int {
	if a != 0 {
		return a
	}
	return b
}

// progress says now and then how far it is, on a terminal that nothing else is
// written to; a line each time, which every terminal and screen reader can say.
func (c *commander) progress(o exportOptions) func() {
	if !isTerminal(c.sys.Err) || o.file == "" && isTerminal(c.sys.Out) {
		return func() {}
	}
	n, last := 0, c.sys.Now()
	return func() {
		if n++; n%1024 > 0 {
			return
		}
		if now := c.sys.Now(); now.Sub(last) >= 5*time.Second {
			last = now
			fmt.Fprintf(c.sys.Err, "%d lines so far\n", n)
		}
	}
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// target is where an export goes: standard output, or a file that appears under
// its name when it is whole.
type target struct {
	io.Writer
	path  string
	force bool
	draft *os.File // nil for standard output
}

func newTarget(c *commander, o exportOptions, book string) (*target, error) {
	if o.file == "" || o.file == "-" {
		return &target{Writer: c.sys.Out}, nil
	}
	info, err := os.Stat(o.file)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return nil, fmt.Errorf("export: %w", err)
	case info.IsDir():
		return nil, usagef("export to %s: this is a folder", o.file)
	case !info.Mode().IsRegular():
		return nil, usagef("export to %s: this is no ordinary file", o.file)
	case isOf(book, info):
		return nil, usagef("export to %s: this is the logbook itself", o.file)
	case !o.force:
		return nil, taken(o.file)
	}
	f, err := os.CreateTemp(filepath.Dir(o.file), ".canewright-export-")
	if err != nil {
		return nil, fmt.Errorf("export to %s: nothing can be written in its folder: %w", o.file, err)
	}
	return &target{Writer: f, path: o.file, force: o.force, draft: f}, nil
}

// Write says where it could not write.
func (t *target) Write(data []byte) (int, error) {
	n, err := t.Writer.Write(data)
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		err = e.Err
	}
	switch {
	case err == nil:
	case t.draft == nil:
		err = fmt.Errorf("export: %w", err)
	default:
		err = fmt.Errorf("export to %s: %w", t.path, err)
	}
	return n, err
}

func taken(file string) error {
	return hinted{usagef("export to %s: there is such a file already", file), "name another one, or write over it with --force"}
}

// isOf tells the logbook and the files SQLite keeps beside it.
func isOf(book string, info fs.FileInfo) bool {
	for _, end := range []string{"", "-wal", "-shm", "-journal"} {
		if b, err := os.Stat(book + end); err == nil && os.SameFile(b, info) {
			return true
		}
	}
	return false
}

// finish gives the file its name.
func (t *target) finish() error {
	if t.draft == nil {
		return nil
	}
	err := errors.Join(t.draft.Sync(), t.draft.Close())
	if err == nil && !t.force {
		// A link fails where a file of this name has come up since.
		err = os.Link(t.draft.Name(), t.path)
		if errors.Is(err, fs.ErrExist) {
			return taken(t.path)
		}
		if err == nil {
			return nil // abandon takes the other name away
		}
		if _, there := os.Lstat(t.path); there == nil {
			return taken(t.path)
		}
		err = nil // a file system without links
	}
	if err == nil {
		err = os.Rename(t.draft.Name(), t.path)
	}
	if err != nil {
		return fmt.Errorf("export to %s: %w", t.path, err)
	}
	return nil
}

// abandon removes what is left of the draft.
func (t *target) abandon() {
	if t.draft != nil {
		t.draft.Close()
		_ = os.Remove(t.draft.Name())
	}
}
