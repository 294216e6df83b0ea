//go:build unix

package conform

import "syscall"

func killGroup(group int) { _ = syscall.Kill(-group, syscall.SIGKILL) }
