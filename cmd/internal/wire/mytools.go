package wire

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"canewright/engine/toolbox"
	"canewright/engine/yamldoc"
)

// ToolsFile is the name of the file of the player's own tools, in the data
// folder.
const ToolsFile = "my-tools.yaml"

// ToolsPath is where the player's own tools are described.
func (w *Works) ToolsPath() (string, error) {
	folder, err := w.dataFolder()
	if err != nil {
		return "", fmt.Errorf("find the place of your tools: %w", err)
	}
	return filepath.Join(folder, ToolsFile), nil
}

// NoToolsError: nobody has described any tools yet.
type NoToolsError struct{ Path string }

func (e *NoToolsError) Error() string {
	return fmt.Sprintf("read your tools: there is no %s yet", e.Path)
}

// ReadTools is the text of a file of tools, bounded. The error is a
// *NoToolsError where there is no such file.
func (w *Works) ReadTools(path string) ([]byte, error) {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() { // to open a pipe waits
		return nil, fmt.Errorf("read your tools: %s is no ordinary file", path)
	}
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &NoToolsError{path}
	}
	if err != nil {
		return nil, fmt.Errorf("read your tools: %w", err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, yamldoc.MaxBytes+1)) // one more than the reader takes, so that it says so
	if err != nil {
		return nil, fmt.Errorf("read your tools: %w", err)
	}
	return data, nil
}

// MyTools reads the player's own tools, or those of another file. An error in the
// file is an *InvalidError.
func (w *Works) MyTools(path string) (*toolbox.Box, *InvalidError, error) {
	data, err := w.ReadTools(path)
	if err != nil {
		return nil, nil, err
	}
	box, list := toolbox.Load(path, data)
	if box == nil {
		return nil, nil, &InvalidError{path, list}
	}
	if list.Len() > 0 {
		return box, &InvalidError{path, list}, nil
	}
	return box, nil, nil
}
