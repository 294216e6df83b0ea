//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package terminal

import "errors"

// modes: this system's terminals are read line by line.
type modes struct{}

func readKeys(int) (*modes, error) {
	return nil, errors.New("not on this system")
}

func (*modes) restore() error { return nil }

func (*Keyboard) guard() func() { return func() {} }
