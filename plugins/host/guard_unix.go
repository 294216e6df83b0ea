//go:build unix

package host

import (
	"os"
	"os/exec"
	"strconv"
	"syscall"
)

// guard is a small shell that waits for this process to be gone, however it
// went, and then ends the plugin with all it has started and removes the
// private folder, with the socket in it. The kernel's signal (process_linux.go)
// does the first for the plugin alone, and there is none elsewhere.
type guard struct {
	shell *exec.Cmd
	alive *os.File // closed by the system when this process is gone
}

// newGuard watches over a process group. Without a shell there is no guard,
// and nil is returned: what is left then is what sweep is for.
func newGuard(group int, dir string) *guard {
	r, w, err := os.Pipe()
	if err != nil {
		return nil
	}
	cmd := exec.Command("/bin/sh", "-c", `read -r x; kill -s KILL -- "-$1"; rm -rf -- "$2"`, "sh", strconv.Itoa(group), dir)
	cmd.Stdin = r
	cmd.Dir = "/"
	cmd.Env = []string{"PATH=/usr/bin:/bin"}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // whoever ends our group does not end it
	err = cmd.Start()
	_ = r.Close()
	if err != nil {
		_ = w.Close()
		return nil
	}
	return &guard{shell: cmd, alive: w}
}

// dismiss ends the guard before it does anything.
func (g *guard) dismiss() {
	if g == nil {
		return
	}
	_ = g.shell.Process.Kill()
	_ = g.shell.Wait()
	_ = g.alive.Close()
}
