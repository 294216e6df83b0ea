package cli

import (
	"io"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
)

// helpWidth line of a help text: a window of 80 columns.
const helpWidth = 80

// Help is read in a window of 80 columns; every example names a command and
// flags that are there; every flag says what its value is.
func TestHelpIsReadInEightyColumns(t *testing.T) {
	t.Parallel()
	seen := 0
	var walk func(cmd *cobra.Command)
	walk = func(cmd *cobra.Command) {
		seen++
		path := cmd.CommandPath()
		for _, l := range strings.Split(cmd.Long+"\n"+cmd.UsageString(), "\n") {
			// What is there to be copied stands in one line.
			if n := utf8.RuneCountInString(l); n > helpWidth && !strings.HasPrefix(l, "  canewright ") {
				t.Errorf("%s: a line of its help has %d columns: %s", path, n, l)
			}
		}
		for _, l := range strings.Split(cmd.LocalNonPersistentFlags().FlagUsages(), "\n") {
			if strings.Contains(l, " string ") {
				t.Errorf("%s: a flag does not say what its value is: %s", path, l)
			}
		}
		for _, l := range strings.Split(cmd.Example, "\n") {
			words := exampleWords(l)
			if len(words) == 0 || words[0] != "canewright" {
				continue
			}
			root := newRootCmd(newCommander(System{Out: io.Discard, Err: io.Discard, Env: func(string) string { return "" }}))
			found, rest, err := root.Find(words[1:])
			if err != nil || found == root {
				t.Errorf("%s: this example is no command: %s", path, l)
				continue
			}
			if err := found.ParseFlags(rest); err != nil {
				t.Errorf("%s: %v: %s", path, err, l)
				continue
			}
			if err := found.ValidateArgs(found.Flags().Args()); err != nil {
				t.Errorf("%s: %v: %s", path, err, l)
			}
		}
		for _, sub := range cmd.Commands() {
			if !sub.Hidden && sub.Name() != "help" {
				walk(sub)
			}
		}
	}
	walk(newRootCmd(newCommander(System{Out: io.Discard, Err: io.Discard, Env: func(string) string { return "" }})))
	if seen < 30 {
		t.Errorf("only %d commands were seen", seen)
	}
}

// exampleWords splits a line as a shell does, as far as examples need it.
func exampleWords(line string) []string {
	var out []string
	var word strings.Builder
	begun, quoted := false, rune(0)
	for _, r := range strings.TrimSpace(line) {
		switch {
		case quoted != 0 && r == quoted:
			quoted = 0
		case quoted != 0:
			word.WriteRune(r)
		case r == '"' || r == '\'':
			quoted, begun = r, true
		case r == ' ' && begun:
			out, begun = append(out, word.String()), false
			word.Reset()
		case r == ' ':
		case r == '>' || r == '|' || r == '<' || r == '#':
			return out
		default:
			word.WriteRune(r)
			begun = true
		}
	}
	if begun {
		out = append(out, word.String())
	}
	return out
}
