//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package logbook

import (
	"errors"
	"os"
	"syscall"
)

// hold locks an open file until it is closed; false when another has it.
func hold(f *os.File) (bool, error) {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return false, nil
	}
	return err == nil, err
}
