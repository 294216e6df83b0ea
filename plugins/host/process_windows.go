package host

import (
	"os"
	"os/exec"
	"syscall"
)

// ownGroup: the interrupt key does not reach it. There is no parent-death
// signal here; the plugin ends when its last connection does (plugins/sdk).
func ownGroup(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{CreationFlags: syscall.CREATE_NEW_PROCESS_GROUP, HideWindow: true}
}

func killGroup(p *os.Process) { _ = p.Kill() }

// alive reports whether a process of this number exists.
func alive(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	_ = p.Release()
	return true
}
