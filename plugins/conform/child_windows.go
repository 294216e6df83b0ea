package conform

import (
	"os"
	"os/exec"
	"syscall"
)

func ownGroup(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{CreationFlags: syscall.CREATE_NEW_PROCESS_GROUP, HideWindow: true}
}

func killGroup(group int) {
	if p, err := os.FindProcess(group); err == nil {
		_ = p.Kill()
	}
}
