//go:build unix && !linux

package host

import (
	"os"
	"os/exec"
	"syscall"
)

// ownGroup: a process group of its own. There is no parent-death signal here;
// the plugin looks for its parent itself (plugins/sdk).
func ownGroup(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} }

func killGroup(p *os.Process) { _ = syscall.Kill(-p.Pid, syscall.SIGKILL) }

// alive reports whether a process of this number exists.
func alive(pid int) bool { return syscall.Kill(pid, 0) != syscall.ESRCH }
