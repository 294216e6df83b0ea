//go:build unix

package logbook

import (
	"os/signal"
	"syscall"
)

// limitFiles lets no file of this process grow beyond n bytes: writing fails
// then, where the signal that comes with it is ignored.
func limitFiles(n uint64) error {
	signal.Ignore(syscall.SIGXFSZ)
	return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: n, Max: n})
}
