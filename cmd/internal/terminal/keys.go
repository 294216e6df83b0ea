package terminal

import (
	"io"
	"unicode"
	"unicode/utf8"
)

// Keys the line editor does not know, told to it as control characters that it
// does not act on itself.
const (
	keyTab  = '\t'
	keyBack = '\x1d' // take back the last answer
)

// keys reads what a keyboard, a caliper that types like one, or a page-turn
// pedal sends, and hands the line editor one key at each Read. One at a time,
// so that whether the line is empty is known when a key is judged; what was
// typed ahead waits here in its order.
type keys struct {
	r       io.Reader
	in      []byte // read and not yet looked at
	buf     [256]byte
	out     []byte // of one key, not yet handed on
	before  byte   // the byte before: an LF behind a CR belongs to it
	pressed bool   // the editor found that the key ends the line
	err     error
}

func newKeys(r io.Reader) *keys { return &keys{r: r} }

// press makes the next key Enter.
func (k *keys) press() { k.pressed = true }

// Read hands over one key.
func (k *keys) Read(p []byte) (int, error) {
	if k.pressed {
		k.pressed = false
		p[0] = '\r'
		return 1, nil
	}
	for len(k.out) == 0 {
		n := 0
		if len(k.in) > 0 {
			n = k.next()
		}
		if n > 0 {
			k.in = k.in[n:]
			continue
		}
		if k.err != nil {
			return 0, k.err // half a sequence at the end is nobody's answer
		}
		got, err := k.r.Read(k.buf[:])
		k.in = append(k.in, k.buf[:got]...)
		k.err = err
	}
	n := copy(p, k.out)
	k.out = k.out[n:]
	return n, nil
}

// next looks at the first key of in: it puts what the editor is to get into
// out and returns how many bytes the key took, 0 when more must be read first.
func (k *keys) next() int {
	b := k.in[0]
	cr := k.before == '\r'
	k.before = b
	switch {
	case b == '\n' && cr:
		k.before = 0
		return 1 // the second half of one Enter
	case b == '\r', b == '\n':
		k.out = append(k.out, '\r')
		return 1
	case b == 0x1b:
		return k.escape()
	case b == '\t':
		k.out = append(k.out, keyTab)
		return 1
	case b < 0x20 || b == 0x7f:
		switch b {
		// Home, left, end of input, end, right, backspace twice, cut to the
		// end, cut to the beginning, cut a word.
		case 0x01, 0x02, 0x04, 0x05, 0x06, 0x08, 0x7f, 0x0b, 0x15, 0x17:
			k.out = append(k.out, b)
		}
		return 1
	}
	if !utf8.FullRune(k.in) {
		if k.err == nil {
			return 0
		}
		return len(k.in)
	}
	r, n := utf8.DecodeRune(k.in)
	switch {
	case r == utf8.RuneError: // the editor would stop at it
		k.out = append(k.out, '?')
	case unicode.IsControl(r), unicode.Is(unicode.Cf, r), unicode.Is(unicode.Co, r):
	default:
		k.out = utf8.AppendRune(k.out, r)
	}
	return n
}

// escape looks at a sequence (ECMA-48, 5.4) or at the Escape key itself, which
// does nothing: what follows it is not swallowed.
func (k *keys) escape() int {
	if len(k.in) == 1 {
		return 0
	}
	switch k.in[1] {
	case '[':
		for i := 2; i < len(k.in); i++ {
			switch c := k.in[i]; {
			case c >= 0x20 && c <= 0x3f:
			case c >= 0x40 && c <= 0x7e:
				k.sequence(string(k.in[2 : i+1]))
				return i + 1
			default:
				return i // broken off: c is a key of its own
			}
		}
		return 0
	case 'O': // keypad and function keys in application mode: one letter more
		if len(k.in) == 2 {
			return 0
		}
		switch c := k.in[2]; {
		case c == 'M':
			k.out = append(k.out, '\r')
		case c < 0x20 || c > 0x7e:
			return 2
		case c >= 'j' && c <= 'y': // keypad: * + , - . / and 0 to 9
			k.out = append(k.out, c-'j'+'*')
		case c == 'A' || c == 'B' || c == 'C' || c == 'D' || c == 'H' || c == 'F':
			k.sequence(string(c))
		}
		return 3
	}
	return 1
}

// sequence is a key by what follows ESC [.
func (k *keys) sequence(s string) {
	switch s {
	case "6~": // page down: a pedal goes on
		k.out = append(k.out, '\r')
	case "5~": // page up: a pedal goes back
		k.out = append(k.out, keyBack)
	case "C", "D", "H", "F", "3~": // right, left, home, end, delete
		k.out = append(append(k.out, 0x1b, '['), s...)
	case "1~", "7~":
		k.out = append(k.out, "\x1b[H"...)
	case "4~", "8~":
		k.out = append(k.out, "\x1b[F"...)
	}
}
