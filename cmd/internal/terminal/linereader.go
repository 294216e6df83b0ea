package terminal

import (
	"bufio"
	"errors"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longest line that is read, in bytes; nobody types more.
const longest = 4096

// ErrLongLine: a line was over the limit and was left out whole.
var ErrLongLine = errors.New("this line is too long to be an answer")

// LineReader reads answers. Control characters and the escape sequences that
// arrow and function keys send are dropped, so that only text comes through.
type LineReader struct{ r *bufio.Reader }

// NewLineReader reads from r.
func NewLineReader(r io.Reader) *LineReader {
	return &LineReader{bufio.NewReaderSize(r, longest)}
}

// ReadLine returns the next line without its end. A last line without an end
// counts; after it comes io.EOF. ErrLongLine leaves the reader at the next line.
func (l *LineReader) ReadLine() (string, error) {
	var line []byte
	for {
		part, err := l.r.ReadSlice('\n')
		long := len(line)+len(part) > longest
		if !long {
			line = append(line, part...)
		}
		switch {
		case errors.Is(err, bufio.ErrBufferFull) || long && err == nil && part[len(part)-1] != '\n':
			for errors.Is(err, bufio.ErrBufferFull) {
				_, err = l.r.ReadSlice('\n')
			}
			if err != nil && !errors.Is(err, io.EOF) {
				return "", err
			}
			return "", ErrLongLine
		case long:
			return "", ErrLongLine
		case errors.Is(err, io.EOF) && len(line) > 0, err == nil:
			return plain(string(line)), nil
		default:
			return "", err
		}
	}
}

// plain drops what is not text. An escape sequence ends at its final byte
// (ECMA-48, 5.4: parameters 0x30–0x3F, intermediates 0x20–0x2F, final
// 0x40–0x7E); SS3 takes one character more.
func plain(line string) string {
	line = strings.TrimRight(line, "\r\n")
	var b strings.Builder
	for i := 0; i < len(line); {
		r, n := utf8.DecodeRuneInString(line[i:])
		switch {
		case r == 0x1b && i+1 < len(line) && line[i+1] == '[':
			i += 2
			for i < len(line) && line[i] >= 0x20 && line[i] <= 0x3f {
				i++
			}
			if i < len(line) && line[i] >= 0x40 && line[i] <= 0x7e {
				i++
			}
			continue
		case r == 0x1b && i+1 < len(line) && line[i+1] == 'O':
			i += 2
			if i < len(line) && line[i] >= 0x40 && line[i] <= 0x7e {
				i++
			}
			continue
		case r == '\t':
			b.WriteByte(' ')
		case r == utf8.RuneError && n == 1:
			b.WriteRune(unicode.ReplacementChar)
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r):
		default:
			b.WriteRune(r)
		}
		i += n
	}
	return strings.TrimSpace(b.String())
}
