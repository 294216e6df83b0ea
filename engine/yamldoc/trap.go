package yamldoc

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
)

// trap is something makers write that YAML reads otherwise: runes [from, to)
// of a line. The rest of the file can be read with runes [from, paint) painted
// over; paint 0 says that it cannot.
type trap struct {
	code, message, hint string
	from, to            int
	paint               int
}

// start is a place where a value may begin.
type start struct {
	at   int
	flow bool
}

// starts is where values may begin on a line: after dashes, after a key's
// colon, and inside brackets. Flow says that the line begins inside one.
func starts(line []rune, flow bool) []start {
	var out []start
	depth := 0
	if flow {
		depth = 1
	}
	i := indent(line)
	for i+1 < len(line) && line[i] == '-' && blank(line[i+1]) && depth == 0 {
		i++
		i += indent(line[i:])
	}
	begins := true
	for i < len(line) {
		if begins {
			i += indent(line[i:])
			if i == len(line) || line[i] == '#' {
				break
			}
			out = append(out, start{i, depth > 0})
			begins = false
			if line[i] == '"' || line[i] == '\'' {
				end := quoteEnd(line, i)
				if end < 0 {
					break
				}
				i = end + 1
				continue
			}
			if line[i] == '{' || line[i] == '[' {
				depth++
				i, begins = i+1, true
				continue
			}
		}
		switch {
		case line[i] == ':' && (i+1 == len(line) || blank(line[i+1])):
			begins = true
		case line[i] == '#' && i > 0 && blank(line[i-1]):
			return out
		case depth > 0 && line[i] == ',':
			begins = true
		case depth > 0 && (line[i] == '}' || line[i] == ']'):
			depth--
		}
		i++
	}
	return out
}

// quoteEnd is where the quote at from is closed on its line, -1 if it is not.
func quoteEnd(line []rune, from int) int {
	for i := from + 1; i < len(line); i++ {
		switch {
		case line[from] == '"' && line[i] == '\\':
			i++
		case line[i] != line[from]:
		case line[from] == '\'' && i+1 < len(line) && line[i+1] == '\'':
			i++
		default:
			return i
		}
	}
	return -1
}

func closing(open rune) rune {
	if open == '{' {
		return '}'
	}
	return ']'
}

// openBracket is the last bracket of the line that is not closed on it.
func openBracket(line []rune) (int, bool) {
	var open []int
	for i := 0; i < len(line); i++ {
		switch r := line[i]; {
		case r == '"' || r == '\'' && (i == 0 || !unicode.IsLetter(line[i-1])):
			if end := quoteEnd(line, i); end >= 0 {
				i = end
			}
		case r == '#' && i > 0 && blank(line[i-1]):
			i = len(line)
		case r == '{' || r == '[':
			open = append(open, i)
		case (r == '}' || r == ']') && len(open) > 0:
			open = open[:len(open)-1]
		}
	}
	if len(open) == 0 {
		return 0, false
	}
	return open[len(open)-1], true
}

// bracketEnd is where the bracket at from is closed on its line, -1 if not.
func bracketEnd(line []rune, from int) int {
	depth := 0
	for i := from; i < len(line); i++ {
		switch line[i] {
		case '{', '[':
			depth++
		case '}', ']':
			if depth--; depth == 0 {
				return i
			}
		}
	}
	return -1
}

var blockHeader = regexp.MustCompile(`^[|>]([+-]?[1-9]?|[1-9][+-])[ \t]*([ \t]#.*)?$`)

// special is what YAML makes of a value that starts with *, & or !.
func special(sign rune) (code, message string) {
	switch sign {
	case '*':
		return "yaml/alias", "a value that starts with * stands for one named elsewhere, which is refused"
	case '&':
		return "yaml/anchor", "a value that starts with & is named for use elsewhere, which is refused"
	}
	return "yaml/tag", "a value that starts with ! is given a type, which is refused"
}

var tabAfterDash = regexp.MustCompile(`^ *(?:- +)*-\t`)

// findTrap is the first trap on a line at which the parser stopped.
func findTrap(line []rune, flow bool) (trap, bool) {
	if m := tabAfterDash.FindString(string(line)); m != "" {
		return trap{"yaml/tab", "a tab follows the dash", "put a blank there", len(m) - 1, len(m), 0}, true
	}
	for _, s := range starts(line, flow) {
		if t, ok := trapAt(line, s); ok {
			return t, true
		}
	}
	if at, ok := lostComment(line, 0); ok {
		return lost(line, at, "put the whole text between '…'"), true
	}
	return trap{}, false
}

func trapAt(line []rune, s start) (trap, bool) {
	to := valueEnd(line, s)
	t := trap{from: s.at, to: to, paint: to}
	value := string(line[s.at:to])
	t.hint = inQuotes(value)
	switch r := line[s.at]; r {
	case '>':
		if !s.flow && blockHeader.MatchString(value) {
			return t, false
		}
		t.code, t.message = "yaml/comparison-as-block", "a value that starts with > is not read as a comparison"
		if rest, ok := strings.CutPrefix(value, ">="); ok && !s.flow {
			t.hint = fmt.Sprintf("write `at least %s`, or put it in quotes: '%s'", strings.TrimSpace(rest), value)
		}
	case '|':
		if !s.flow && blockHeader.MatchString(value) {
			return t, false
		}
		t.code, t.message = "yaml/bar-as-block", "a value that starts with | is read as a block of lines"
	case '*', '&', '!':
		t.code, t.message = special(r)
	case '%', '@', '`', ',', '}', ']':
		if s.flow && strings.ContainsRune(",}]", r) {
			return t, false
		}
		t.code, t.message = "yaml/reserved-start", fmt.Sprintf("a value cannot start with %c", r)
	case '-':
		if s.flow || s.at == indent(line) || s.at+1 < len(line) && !blank(line[s.at+1]) || !strings.Contains(string(line[:s.at]), ":") {
			return t, false
		}
		t.code, t.message, t.hint = "yaml/list-on-key-line", "a list cannot begin on the line of its key", "put each `- …` on a line of its own below the key"
	case '"', '\'', '{', '[':
		end := -1
		if r == '"' || r == '\'' {
			end = quoteEnd(line, s.at)
			if last := len([]rune(value)) - 1; r == '\'' && last > 1 && line[to-1] == r {
				inner := strings.ReplaceAll(string(line[s.at+1:to-1]), "''", "'")
				t.hint = "an apostrophe between quotes is written twice: '" + strings.ReplaceAll(inner, "'", "''") + "'"
			}
			t.code, t.message = "yaml/text-after-quote", "text goes on after the closing quote"
		} else if !s.flow {
			end = bracketEnd(line, s.at)
			t.code, t.message = "yaml/text-after-bracket", fmt.Sprintf("text that starts with %c is not read as text", r)
		}
		if end < 0 || !goesOn(line, end+1, s.flow) {
			return t, false
		}
	default:
		return t, false
	}
	return t, true
}

// goesOn reports that what stands at i can only be more of a text.
func goesOn(line []rune, i int, flow bool) bool {
	gap := indent(line[i:])
	if i += gap; i == len(line) || line[i] == '#' && gap > 0 {
		return false
	}
	if flow && strings.ContainsRune(",]}:", line[i]) {
		return false
	}
	return line[i] != ':' || i+1 < len(line) && !blank(line[i+1])
}

// valueEnd is where the value ends: at the end of the line, a comment, or in
// brackets a comma or closing bracket.
func valueEnd(line []rune, s start) int {
	i := s.at
	if end := quoteEnd(line, s.at); (line[i] == '"' || line[i] == '\'') && end >= 0 {
		i = end
	}
	for ; i < len(line); i++ {
		if line[i] == '#' && i > 0 && blank(line[i-1]) && (i+1 == len(line) || blank(line[i+1])) {
			break
		}
		if s.flow && i > s.at && strings.ContainsRune(",]}", line[i]) {
			break
		}
	}
	return max(s.at+1, trimmed(line[:i]))
}

// secondColon is a value that holds another colon and blank.
func secondColon(line []rune) (trap, bool) {
	all := starts(line, false)
	if len(all) < 3 || all[1].flow || all[2].flow || strings.ContainsRune(`"'{[`, line[all[1].at]) {
		return trap{}, false
	}
	to := valueEnd(line, all[1])
	return trap{"yaml/second-colon", "a text with a colon and a blank in it needs quotes", inQuotes(string(line[all[1].at:to])), all[1].at, to, to}, true
}

var tight = regexp.MustCompile(`^[ \t]*(?:- +)*([^\s:#'"{}\[\],&*!|>%@-][^\s:]*)(?::| :)[^\s:/]`)

// keyWithoutBlank is a line like key:value.
func keyWithoutBlank(line []rune) (trap, bool) {
	m := tight.FindStringSubmatchIndex(string(line))
	if m == nil || len(starts(line, false)) > 1 {
		return trap{}, false
	}
	from := len([]rune(string(line)[:m[2]]))
	colon := len([]rune(string(line)[:m[3]]))
	key := string(line[from:colon])
	colon += indent(line[colon:])
	return trap{"yaml/key-without-blank", "a colon without a blank behind it ends no key",
		fmt.Sprintf("write `%s: %s`", key, string(line[colon+1:trimmed(line)])), from, trimmed(line), 0}, true
}

// lostComment is a # after a blank, at or behind rune from, with a letter or
// digit right behind it.
func lostComment(line []rune, from int) (int, bool) {
	for i := max(from, 1); i+1 < len(line); i++ {
		if line[i] == '#' && blank(line[i-1]) {
			lost := unicode.IsLetter(line[i+1]) || unicode.IsDigit(line[i+1])
			return i, lost && indent(line) < i
		}
	}
	return 0, false
}

func lost(line []rune, at int, hint string) trap {
	return trap{"yaml/lost-comment", "the rest of the line is a comment and is lost", hint + "; a comment has a blank: # like this", at, trimmed(line), at + 1}
}

// inQuotes is the advice to quote a text, shown with the text if it is short.
func inQuotes(text string) string {
	if len([]rune(text)) > 60 {
		return "put the whole text between '…'"
	}
	return "put the whole text in quotes: '" + strings.ReplaceAll(text, "'", "''") + "'"
}
