//go:build darwin || dragonfly || freebsd || netbsd || openbsd

package terminal

import "golang.org/x/sys/unix"

const readTermios, writeTermios = unix.TIOCGETA, unix.TIOCSETA
