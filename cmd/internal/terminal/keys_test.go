package terminal

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf8"

	"golang.org/x/term"
)

// at reads all lines a keyboard that sends these bytes gives.
func at(t *testing.T, in io.Reader) []string {
	t.Helper()
	k := &Keyboard{keys: newKeys(in)}
	k.edit = term.NewTerminal(struct {
		io.Reader
		io.Writer
	}{k.keys, io.Discard}, prompt)
	k.edit.History = forgetful{}
	k.edit.AutoCompleteCallback = k.special
	var out []string
	for {
		line, err := k.edit.ReadLine()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, plain(line))
	}
}

func TestKeys(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		in   string
		want []string
	}{
		"Enter":                            {"1,31\r", []string{"1,31"}},
		"CR LF is one Enter":               {"1.31\r\n1.32\r\n\r\n", []string{"1.31", "1.32", ""}},
		"LF":                               {"1.31\n\n", []string{"1.31", ""}},
		"CR LF LF is two":                  {"1.31\r\n\n", []string{"1.31", ""}},
		"LF CR is two":                     {"\n\r", []string{"", ""}},
		"Tab behind a reading":             {"1.31\t1.32\t", []string{"1.31", "1.32"}},
		"Tab on an empty line":             {"\t\t1.31\r", []string{"1.31"}},
		"Tab after all is erased":          {"1\x7f\t2\r", []string{"2"}},
		"Tab and then Enter":               {"1.31\t\r", []string{"1.31", ""}},
		"page down":                        {"\x1b[6~\x1b[6~", []string{"", ""}},
		"page down behind a reading":       {"1.31\x1b[6~", []string{"1.31"}},
		"page up on an empty line":         {"\x1b[5~", []string{"-"}},
		"page up behind a reading":         {"1.31\x1b[5~\r", []string{"1.31"}},
		"page up after all is erased":      {"12\x15\x1b[5~", []string{"-"}},
		"keypad in application mode":       {"\x1bOq\x1bOn\x1bOs\x1bOq\x1bOM", []string{"1.31"}},
		"keypad minus":                     {"\x1bOm\x1bOM", []string{"-"}},
		"arrows move":                      {"131\x1b[D\x1b[D.\r", []string{"1.31"}},
		"arrows in application mode":       {"131\x1bOD\x1bOD.\r", []string{"1.31"}},
		"home, end and delete":             {"x131\x1b[1~\x1b[3~\x1b[4~!\r", []string{"131!"}},
		"arrow up brings nothing back":     {"1.31\r\x1b[A\r", []string{"1.31", ""}},
		"function and modified keys":       {"\x1b[15~1\x1b[1;5C.\x1bOP3\x1b[Z1\r", []string{"1.31"}},
		"Escape swallows no digit":         {"\x1b1.31\r", []string{"1.31"}},
		"Escape and Enter":                 {"1.31\x1b\r", []string{"1.31"}},
		"broken off sequence":              {"\x1b[1\r1.31\r", []string{"", "1.31"}},
		"backspace, two ways":              {"1.33\x7f1\r1.33\x081\r", []string{"1.31", "1.31"}},
		"cut the line, cut a word":         {"12 13\x15x y\x17z\r", []string{"x z"}},
		"keys that repaint do not":         {"1\x0c.\x12\x0e\x10\x143\x161\r", []string{"1.31"}},
		"end of input on an empty line":    {"1.31\r\x04", []string{"1.31"}},
		"half a line is no answer":         {"1.31\r1.3", []string{"1.31"}},
		"any script":                       {"µ 二 ש ♯\r", []string{"µ 二 ש ♯"}},
		"broken UTF-8 is seen":             {"1.\xff31\r", []string{"1.?31"}},
		"invisible and private signs":      {"1.\u200b3\u202e1\ue001\u009b\r", []string{"1.31"}},
		"pasted in brackets":               {"\x1b[200~1.31\x1b[201~\r", []string{"1.31"}},
		"five readings at once":            {"1.31\r\n1.32\r\n1.33\r\n1.34\r\n1.35\r\n", []string{"1.31", "1.32", "1.33", "1.34", "1.35"}},
		"a hundred, longer than the queue": {strings.Repeat("1.31\t", 100), strings.Fields(strings.Repeat("1.31 ", 100))},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for how, r := range map[string]io.Reader{
				"at once":     strings.NewReader(c.in),
				"byte a time": iotest.OneByteReader(strings.NewReader(c.in)),
				"with end":    iotest.DataErrReader(strings.NewReader(c.in)),
			} {
				if got := at(t, r); strings.Join(got, "|") != strings.Join(c.want, "|") || len(got) != len(c.want) {
					t.Errorf("%s: got %q, want %q", how, got, c.want)
				}
			}
		})
	}
}

// FuzzKeys: every input ends; cut into single bytes it gives the same lines;
// digits outside sequences all arrive.
func FuzzKeys(f *testing.F) {
	for _, s := range []string{"1.31\r\n", "\x1b[6~\x1b[5~", "1\t\t\xe4\xba", "\x1b\x1b\x1bO", "\x1b[1;5", "a\x7f\x7f\x04b\r"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		whole := at(t, bytes.NewReader(in))
		single := at(t, iotest.OneByteReader(bytes.NewReader(in)))
		if strings.Join(whole, "|") != strings.Join(single, "|") || len(whole) != len(single) {
			t.Fatalf("at once %q, byte by byte %q", whole, single)
		}
		if len(whole) > len(in) {
			t.Fatalf("%d lines of %d bytes", len(whole), len(in))
		}
		for _, l := range whole {
			if !utf8.ValidString(l) || strings.ContainsFunc(l, func(r rune) bool { return r < 0x20 || r == keyBack }) {
				t.Fatalf("%q", l)
			}
		}
	})
}
