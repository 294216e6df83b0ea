package host

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// goneAfter is how long a plugin may live on, and its socket lie about, after
// its host was killed.
const goneAfter = 5 * time.Second

// Whatever a plugin is at when its host is killed, five seconds later there is
// no process and no socket file.
func TestAKilledHostLeavesNoProcessAndNoSocket(t *testing.T) {
	t.Parallel()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	socket := func(temp string) bool { return len(socketsIn(t, temp)) > 0 }
	for _, c := range []struct {
		mode  string
		ready func(temp string) bool // nil: at once
	}{
		{"hangs-at-start", nil},
		{"listens-only", socket},       // it listens, and the host is about to connect
		{"shakes-hands-only", nil},     // there is nobody to connect to
		{"hangs-in-a-call", nil},       // somewhere on the way to the call
		{"ignores-cancel", socketGone}, // in the call
		{"hangs-with-a-child", socketGone},
	} {
		t.Run(c.mode, func(t *testing.T) {
			t.Parallel()
			_, marker := testHost(t)
			temp := shortTempDir(t)
			cmd := exec.Command(exe, beHost, c.mode, marker)
			cmd.Env = append(os.Environ(), "TMPDIR="+temp)
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			waitFor(t, 30*time.Second, "the plugin", func() bool { return len(processes(t, marker)) > 0 })
			if c.ready != nil {
				waitFor(t, 30*time.Second, "the moment", func() bool { return c.ready(temp) })
			}
			if c.mode == "hangs-with-a-child" {
				waitFor(t, 30*time.Second, "the child", func() bool { return len(processes(t, marker)) > 1 })
			}
			if err := cmd.Process.Kill(); err != nil {
				t.Fatal(err)
			}
			killed := time.Now()
			_ = cmd.Wait()
			waitFor(t, goneAfter, "the plugin and what it started to go", func() bool { return len(processes(t, marker)) == 0 })
			waitFor(t, goneAfter-time.Since(killed), "the socket to go", func() bool { return !socket(temp) })
			t.Logf("all gone after %s", time.Since(killed).Round(time.Millisecond))
		})
	}
}

// socketGone: the host removes the socket's folder when the first call is
// answered.
func socketGone(temp string) bool {
	dirs, _ := filepath.Glob(filepath.Join(temp, folderPrefix+"*"))
	sockets, _ := filepath.Glob(filepath.Join(temp, folderPrefix+"*", "plugin-dir*"))
	return len(dirs) > 0 && len(sockets) == 0
}

func socketsIn(t *testing.T, dir string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.Type()&fs.ModeSocket != 0 {
			out = append(out, path)
		}
		return nil // folders go while we look
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
