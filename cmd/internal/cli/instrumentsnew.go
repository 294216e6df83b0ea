package cli

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"canewright/plugins/folder"
)

// The files of a new instrument. A Go file under its own name would be
// compiled here.
//
//go:embed start
var start embed.FS

// startName stands in them for the instrument's.
const startName = "yourinstrument"

func newInstrumentsNewCmd(c *commander) *cobra.Command {
	code := false
	cmd := &cobra.Command{
		Use: "new NAME", Short: "Write an instrument to begin with", Args: cobra.ExactArgs(1),
		Long: `Write a folder NAME with an instrument that works, its numbers invented, to put
your own in their place: one file, instrument.yaml, with a few cases that are
tried whenever it is read.

With --code it is a program in Go with a test. Its go.mod has one line you must
fill in: where the source of canewright lies.`,
		Example: "  canewright instruments new shawm\n  canewright instruments new shawm --code",
		RunE:    func(_ *cobra.Command, args []string) error { return runInstrumentsNew(c, args[0], code) },
	}
	cmd.Flags().BoolVar(&code, "code", false, "a program in Go instead of a file")
	cmd.ValidArgsFunction = cobra.NoFileCompletions
	return cmd
}

func runInstrumentsNew(c *commander, name string, code bool) error {
	if err := c.mayBeCalled(c.works().Store(), name); err != nil {
		return err
	}
	files := map[string]string{folder.File: folder.File}
	order := []string{folder.File}
	if code {
		order = []string{"go.mod", "main.go", "main_test.go"}
		files = map[string]string{"go.mod": "go.mod.txt", "main.go": "main.go.txt", "main_test.go": "main_test.go.txt"}
	}
	if err := os.Mkdir(name, 0o755); errors.Is(err, fs.ErrExist) {
		return hinted{usagef("write instrument %s: there is a file or folder of this name here already", name), "nothing of yours is written over; choose another name, or another folder to work in"}
	} else if err != nil {
		return fmt.Errorf("write instrument %s: %w", name, err)
	}
	for _, f := range order {
		text, err := start.ReadFile("start/" + files[f])
		if err != nil {
			return fmt.Errorf("write instrument %s: %w", name, err)
		}
		if err := os.WriteFile(filepath.Join(name, f), []byte(strings.ReplaceAll(string(text), startName, name)), 0o644); err != nil {
			return fmt.Errorf("write instrument %s: %w", name, err)
		}
		c.printf("wrote %s\n", filepath.Join(name, f))
	}
	if code {
		c.wrap("", "Its numbers are invented: put your own in their place. Before it compiles, "+filepath.Join(name, "go.mod")+" needs to know where the source of canewright lies; it says how to go on.")
		return nil
	}
	c.wrap("", "Its numbers are invented: put your own in their place. Then:")
	c.printf("  canewright instruments add %s --only-check\n  canewright instruments add %s\n", name, name)
	return nil
}
