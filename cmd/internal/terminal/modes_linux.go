package terminal

import "golang.org/x/sys/unix"

const readTermios, writeTermios = unix.TCGETS, unix.TCSETS
