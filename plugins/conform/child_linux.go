package conform

import (
	"os/exec"
	"syscall"
)

// ownGroup: a process group of its own, and a signal from the kernel when the
// thread that started it is gone; Run keeps to one thread.
func ownGroup(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
}
