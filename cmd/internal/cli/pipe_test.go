//go:build unix

package cli_test

import (
	"bytes"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"canewright/cmd/internal/cli"
)

// A pipe in a file's place, in a shared folder say, once kept these waiting, deaf
// to a signal; a device without an end filled the memory.
func TestAPipeIsNoFileToRead(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Skip("no pipes here:", err)
	}
	for _, args := range [][]string{
		{"check", pipe}, {"open", pipe}, {"review", pipe}, {"new", "--resume", pipe}, {"new", "--resume", "/dev/zero"},
		{"my-tools", "carry", "bassoon/from-tube", "--file", pipe}, {"adapt", pipe, "-o", filepath.Join(dir, "mine.yaml")},
	} {
		var said bytes.Buffer
		done := make(chan int, 1)
		go func() {
			done <- cli.Main(args, cli.System{In: strings.NewReader(""), Out: &said, Err: &said, Now: time.Now,
				Env: func(k string) string { return map[string]string{"HOME": dir}[k] }})
		}()
		select {
		case code := <-done:
			if code == 0 {
				t.Errorf("%q: was read: %s", args, &said)
			}
		case <-time.After(10 * time.Second):
			t.Errorf("%q: still waiting", args)
		}
	}
}
