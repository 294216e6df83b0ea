package host

import (
	"os"
	"os/exec"
	"syscall"
)

// ownGroup: a process group of its own, so that the interrupt key does not
// reach it and everything it starts can be ended with it; and a signal from
// the kernel when the thread that started it is gone, which is when this
// process is, since process.Start keeps the thread.
func ownGroup(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
}

func killGroup(p *os.Process) { _ = syscall.Kill(-p.Pid, syscall.SIGKILL) }

// alive reports whether a process of this number exists.
func alive(pid int) bool { return syscall.Kill(pid, 0) != syscall.ESRCH }
