//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package terminal

import (
	"os"
	"os/signal"
	"syscall"

	"golang.org/x/sys/unix"
)

// modes are a terminal's settings as they were found, and as they are set.
type modes struct {
	fd         int
	found, set unix.Termios
}

// readKeys turns off line mode, echo and the translation of CR, and nothing
// else. Nothing typed ahead is thrown away.
func readKeys(fd int) (*modes, error) {
	found, err := unix.IoctlGetTermios(fd, readTermios)
	if err != nil {
		return nil, err
	}
	m := &modes{fd: fd, found: *found, set: *found}
	m.set.Iflag &^= unix.ICRNL | unix.INLCR | unix.IGNCR | unix.ISTRIP | unix.IXON
	m.set.Lflag &^= unix.ICANON | unix.ECHO | unix.ECHONL | unix.IEXTEN
	m.set.Lflag |= unix.ISIG
	m.set.Oflag |= unix.OPOST
	m.set.Cc[unix.VMIN], m.set.Cc[unix.VTIME] = 1, 0
	return m, m.again()
}

func (m *modes) again() error {
	t := m.set
	return unix.IoctlSetTermios(m.fd, writeTermios, &t)
}

func (m *modes) restore() error {
	t := m.found
	return unix.IoctlSetTermios(m.fd, writeTermios, &t)
}

// guard puts the terminal back when a signal ends or stops the program that
// nobody else waits for, and takes it again when the program goes on. The
// returned func ends that.
func (k *Keyboard) guard() func() {
	deadly := make(chan os.Signal, 1)
	for _, s := range []os.Signal{syscall.SIGHUP, syscall.SIGQUIT} {
		if !signal.Ignored(s) {
			signal.Notify(deadly, s)
		}
	}
	paused := make(chan os.Signal, 1)
	signal.Notify(paused, syscall.SIGTSTP)
	resumed := make(chan os.Signal, 1)
	signal.Notify(resumed, syscall.SIGCONT)
	done := make(chan struct{})
	go func() {
		for {
			select {
			case s := <-deadly:
				k.was.restore()
				signal.Reset(s)
				syscall.Kill(syscall.Getpid(), s.(syscall.Signal))
			case <-paused:
				k.was.restore()
				syscall.Kill(0, syscall.SIGSTOP) // the whole job, as the key would
			case <-resumed:
				k.was.again()
				k.Interrupt("\n")
			case <-done:
				return
			}
		}
	}()
	return func() {
		signal.Stop(deadly)
		signal.Stop(paused)
		signal.Stop(resumed)
		close(done)
	}
}
