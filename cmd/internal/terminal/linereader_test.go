package terminal_test

import (
	"errors"
	"io"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"canewright/cmd/internal/terminal"
)

func TestReadLine(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		in   string
		want []string
	}{
		"plain lines":            {"1.31\n1,32\n", []string{"1.31", "1,32"}},
		"no end on the last":     {"1.31\nquit", []string{"1.31", "quit"}},
		"carriage returns":       {"1.31\r\n\r\nok\r\n", []string{"1.31", "", "ok"}},
		"blanks around":          {"  1.31 \t\n", []string{"1.31"}},
		"tab between":            {"1.31\t1.32\n", []string{"1.31 1.32"}},
		"arrow key":              {"1.3\x1b[D1\n", []string{"1.31"}},
		"page down":              {"\x1b[6~\n", []string{""}},
		"function key, SS3":      {"\x1bOP1.31\n", []string{"1.31"}},
		"modified key":           {"\x1b[1;5C1.31\n", []string{"1.31"}},
		"bare escape":            {"\x1b1.31\n", []string{"1.31"}},
		"escape at the end":      {"1.31\x1b[\n", []string{"1.31"}},
		"bell and delete":        {"1\a.3\x7f1\n", []string{"1.31"}},
		"C1 control":             {"1.\u009b31\n", []string{"1.31"}},
		"invisible and reversed": {"1.\u200b3\u202e1\n", []string{"1.31"}},
		"broken UTF-8 is seen":   {"1.\xff31\n", []string{"1.\ufffd31"}},
		"unit letters stay":      {"0.9 µm\nF♯4\n", []string{"0.9 µm", "F♯4"}},
		"empty":                  {"", nil},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := terminal.NewLineReader(strings.NewReader(c.in))
			var got []string
			for {
				l, err := r.ReadLine()
				if errors.Is(err, io.EOF) {
					break
				}
				if err != nil {
					t.Fatal(err)
				}
				got = append(got, l)
			}
			if strings.Join(got, "|") != strings.Join(c.want, "|") || len(got) != len(c.want) {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestALongLineIsLeftOutWhole(t *testing.T) {
	t.Parallel()
	for _, n := range []int{4095, 4096, 4097, 10_000, 1 << 20} {
		r := terminal.NewLineReader(strings.NewReader(strings.Repeat("1", n) + "\n1.31\n"))
		l, err := r.ReadLine()
		switch {
		case n < 4096 && (err != nil || len(l) != n):
			t.Errorf("%d: %d bytes, %v", n, len(l), err)
		case n >= 4096 && !errors.Is(err, terminal.ErrLongLine):
			t.Errorf("%d: %d bytes, %v", n, len(l), err)
		}
		if next, err := r.ReadLine(); next != "1.31" || err != nil {
			t.Errorf("%d: the next line is %q, %v", n, next, err)
		}
	}
}

func TestALongLineAtTheEnd(t *testing.T) {
	t.Parallel()
	r := terminal.NewLineReader(strings.NewReader(strings.Repeat("1", 5000)))
	if _, err := r.ReadLine(); !errors.Is(err, terminal.ErrLongLine) {
		t.Error(err)
	}
	if _, err := r.ReadLine(); !errors.Is(err, io.EOF) {
		t.Error(err)
	}
}

func TestAReaderThatFails(t *testing.T) {
	t.Parallel()
	broken := errors.New("the terminal is gone")
	r := terminal.NewLineReader(io.MultiReader(strings.NewReader("1.3"), failing{broken}))
	if l, err := r.ReadLine(); !errors.Is(err, broken) || l != "" {
		t.Errorf("%q, %v: half a line must not count as an answer", l, err)
	}
}

type failing struct{ error }

func (f failing) Read([]byte) (int, error) { return 0, f.error }

// FuzzReadLine: no panic; every line is valid text without controls, within the
// limit; lines come in order and the reader ends.
func FuzzReadLine(f *testing.F) {
	for _, s := range []string{"1.31\n", "1,31 1.32;1.33\r\nquit", "\x1b[6~\n", "\x1b", "\x1b[", "\x1b[\x1b[A\n", "\x1bO", "a\xffb\n", "\x00\n", strings.Repeat("x", 5000) + "\ny\n", "\u202e1\n", "\r\r\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		r := terminal.NewLineReader(strings.NewReader(string(in)))
		lines := 0
		for {
			l, err := r.ReadLine()
			if errors.Is(err, io.EOF) {
				if l != "" {
					t.Fatalf("text %q with the end", l)
				}
				break
			}
			if lines++; lines > len(in)+1 {
				t.Fatal("more lines than bytes")
			}
			if errors.Is(err, terminal.ErrLongLine) {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			if len(l) > 4*4096 || !utf8.ValidString(l) || strings.TrimSpace(l) != l {
				t.Fatalf("%q", l)
			}
			for _, c := range l {
				if unicode.IsControl(c) || unicode.Is(unicode.Cf, c) {
					t.Fatalf("%q has %U", l, c)
				}
			}
		}
		if most := strings.Count(string(in), "\n") + 1; lines > most {
			t.Fatalf("%d lines of %d", lines, most)
		}
	})
}
