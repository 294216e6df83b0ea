//go:build unix

package host

import (
	"syscall"
)

// limitMemory is ulimit -v of half a gigabyte more than the program has
// reserved at its start; Linux counts what it reserves for the collector too.
func limitMemory() {
	const most = 2 << 30
	_ = syscall.Setrlimit(syscall.RLIMIT_AS, &syscall.Rlimit{Cur: most, Max: most})
}

// closeSockets closes whatever is open but for the three standard files.
func closeSockets() {
	for fd := 3; fd < 64; fd++ {
		if _, err := syscall.Getsockname(fd); err == nil {
			_ = syscall.Shutdown(fd, syscall.SHUT_RDWR)
		}
	}
}
