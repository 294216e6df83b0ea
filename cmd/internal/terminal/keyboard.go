package terminal

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"sync"

	"golang.org/x/term"
)

// Keyboard reads answers at a real terminal, key by key: Enter, Return on the
// number pad, Tab behind a reading (some calipers end with it) and page down
// (a pedal) end an answer; page up on an empty line takes back the last one.
//
// The terminal is not raw: interrupt and suspend keys still make signals, and
// its output is left alone, so that a program that is killed leaves a terminal
// that can be used. Close puts it back as it was.
type Keyboard struct {
	file  *os.File
	edit  *term.Terminal
	keys  *keys
	was   *modes
	close sync.Once
	stop  func() // listening to signals
}

// OpenKeyboard begins to read keys at in, a terminal, and shows what is typed
// at out. It fails where that cannot be done; a LineReader can.
func OpenKeyboard(in *os.File, out io.Writer) (*Keyboard, error) {
	was, err := readKeys(int(in.Fd()))
	if err != nil {
		return nil, fmt.Errorf("read keys: %w", err)
	}
	k := &Keyboard{file: in, keys: newKeys(in), was: was}
	k.edit = term.NewTerminal(struct {
		io.Reader
		io.Writer
	}{k.keys, newlines{out}}, prompt)
	k.edit.History = forgetful{}
	k.edit.AutoCompleteCallback = k.special
	k.stop = k.guard()
	return k, nil
}

// Close puts the terminal back as it was. It may be called more than once.
func (k *Keyboard) Close() (err error) {
	k.close.Do(func() {
		k.stop()
		err = k.was.restore()
	})
	return err
}

// ReadLine shows the prompt and returns what was typed, without its end.
func (k *Keyboard) ReadLine() (string, error) {
	width, height, err := term.GetSize(int(k.file.Fd()))
	if err != nil || width <= 0 {
		width, height = 80, 24
	}
	if err := k.edit.SetSize(width, height); err != nil {
		return "", err
	}
	line, err := k.edit.ReadLine()
	if err != nil {
		return "", err
	}
	return plain(line), nil
}

// Interrupt says something while a line is being typed; prompt and line stand
// below it again.
func (k *Keyboard) Interrupt(text string) error {
	_, err := io.WriteString(k.edit, text)
	return err
}

// special decides about the keys that depend on whether the line is empty.
func (k *Keyboard) special(line string, _ int, key rune) (string, int, bool) {
	switch key {
	case keyTab:
		if line != "" {
			k.keys.press()
		}
	case keyBack:
		if line == "" {
			k.keys.press()
			return "-", 1, true
		}
	}
	return "", 0, false // as if the key were none
}

// newlines undoes the line ends the editor writes for raw terminals: this one's
// output makes its own.
type newlines struct{ w io.Writer }

func (n newlines) Write(p []byte) (int, error) {
	if _, err := n.w.Write(bytes.ReplaceAll(p, []byte("\r\n"), []byte("\n"))); err != nil {
		return 0, err
	}
	return len(p), nil
}

// forgetful keeps no history: an old reading, or the old answer to a note, must
// not come back under an arrow key.
type forgetful struct{}

func (forgetful) Add(string)    {}
func (forgetful) Len() int      { return 0 }
func (forgetful) At(int) string { return "" }
