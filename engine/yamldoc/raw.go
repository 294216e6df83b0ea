package yamldoc

import (
	"strings"
	"unicode/utf8"

	"canewright/engine/diagnostic"
)

// checkRaw looks at what the parser would not show or not place: bytes,
// characters, tabs, directives and document marks.
func checkRaw(src *diagnostic.Source, list *diagnostic.List) {
	if checkUTF8(src, list); list.Len() > 0 {
		return
	}
	for ln := 1; ln <= src.Lines(); ln++ {
		for i, r := range src.Line(ln) {
			if unsafe(r) && r != '\t' {
				unsafeAt(list, runes(src, ln, i, i+1), r)
				break
			}
		}
	}
	if list.Len() > 0 {
		return
	}
	checkTabs(src, list)
	checkMarks(src, list)
	if list.Len() == 0 {
		checkValues(src, list)
	}
}

// checkValues stops a file that holds far too many values: the parser makes
// them all before anybody can stop it. Signs in texts count too, for it does
// not know them from others.
func checkValues(src *diagnostic.Source, list *diagnostic.List) {
	count := 0
	var open []rune // brackets
	for ln := 1; ln <= src.Lines(); ln++ {
		line := src.Line(ln)
		i := indent(line)
		if i < len(line) && line[i] == '#' {
			continue
		}
		for i < len(line) && line[i] == '-' && (i+1 == len(line) || blank(line[i+1])) {
			count++
			i++
			i += indent(line[i:])
		}
		inside := rune(0)
		if len(open) > 0 {
			inside = open[len(open)-1]
		}
		for ; i < len(line); i++ {
			switch r := line[i]; r {
			case ':', '?':
				if inside != '{' && (i+1 == len(line) || blank(line[i+1])) {
					count += 2 // a key and its value
				}
			case ',':
				count += entry(inside)
			case '[', '{':
				open, inside = append(open, r), r
				count += entry(inside)
			case '"', '\'':
				// Brackets in a quoted text open nothing.
				if end := quoteEnd(line, i); end > 0 && beginsValue(line[:i]) {
					i = end
				}
			case ']', '}':
				if len(open) > 0 {
					open = open[:len(open)-1]
				}
				if inside = 0; len(open) > 0 {
					inside = open[len(open)-1]
				}
			}
		}
		if count > maxMarks {
			list.Hinted("yaml/too-many-nodes", whole(src, ln), "split the file", "the file holds more than %d values", maxNodes)
			return
		}
	}
}

// beginsValue reports that what follows on the line can only be a new value.
func beginsValue(before []rune) bool {
	n := trimmed(before)
	return n == 0 || strings.ContainsRune("-,:[{?", before[n-1])
}

// entry is how many values a bracket's next entry may have.
func entry(bracket rune) int {
	if bracket == '[' {
		return 1
	}
	return 2
}

func checkUTF8(src *diagnostic.Source, list *diagnostic.List) {
	line, col := 1, 0
	for text := src.Text(); text != ""; {
		r, size := utf8.DecodeRuneInString(text)
		if r == utf8.RuneError && size == 1 {
			list.Hinted("yaml/not-utf8", runes(src, line, col, col+1), "save the file as UTF-8",
				"this byte (%02X) is no UTF-8 text", text[0])
			return
		}
		text, col = text[size:], col+1
		if r == '\n' {
			line, col = line+1, 0
		}
	}
}

// unsafe adds the two non-characters that the parser refuses without a place.
func unsafe(r rune) bool { return diagnostic.Unsafe(r) || r == 0xfffe || r == 0xffff }

func unsafeAt(list *diagnostic.List, at diagnostic.Span, r rune) {
	list.Hinted("yaml/unsafe-character", at, "take it out; only visible text is read",
		"the character U+%04X is a control character or hides or reorders text", r)
}

// checkTabs refuses a tab before the text of a line, in blocks of lines too:
// what looks aligned in one editor is not in the next.
func checkTabs(src *diagnostic.Source, list *diagnostic.List) {
	for ln := 1; ln <= src.Lines(); ln++ {
		line := src.Line(ln)
		in := indent(line)
		if in == len(line) {
			continue // nothing but blanks
		}
		for i := range in {
			if line[i] == '\t' {
				list.Hinted("yaml/tab", runes(src, ln, i, i+1), "indent with blanks; most editors can change all tabs at once",
					"the line is indented with a tab")
				return // one is enough: they come in dozens
			}
		}
	}
}

// checkMarks refuses directives and second documents. A mark at the start of
// a line is one wherever it stands, even inside quotes.
func checkMarks(src *diagnostic.Source, list *diagnostic.List) {
	content, started, ended := false, false, false
	for ln := 1; ln <= src.Lines(); ln++ {
		line := src.Line(ln)
		in := indent(line)
		if in == len(line) || line[in] == '#' && !content {
			continue
		}
		switch {
		case ended && line[in] != '#', mark(line, "---") && (content || started):
			list.Hinted("yaml/second-document", whole(src, ln), "keep one document a file; take the marks --- and ... out",
				"a second document starts here")
			return
		case ended:
		case mark(line, "---"):
			started = true
			content = indent(line[3:]) < len(line[3:]) && line[3+indent(line[3:])] != '#'
		case mark(line, "..."):
			ended = true
		case line[0] == '%' && !content && !started:
			list.Hinted("yaml/directive", whole(src, ln), "take the line out",
				"a line that starts with %% gives orders to the YAML reader; none is taken")
			return
		default:
			content = true
		}
	}
}

func mark(line []rune, m string) bool {
	return len(line) >= 3 && string(line[:3]) == m && (len(line) == 3 || blank(line[3]))
}

func blank(r rune) bool { return r == ' ' || r == '\t' }

// indent is how many blanks and tabs a line starts with.
func indent(line []rune) int {
	i := 0
	for i < len(line) && blank(line[i]) {
		i++
	}
	return i
}

// trimmed is the length of a line without the blanks at its end.
func trimmed(line []rune) int {
	n := len(line)
	for n > 0 && blank(line[n-1]) {
		n--
	}
	return n
}

// runes is the stretch [from, to) of a line, counted from 0, kept within it.
func runes(src *diagnostic.Source, line, from, to int) diagnostic.Span {
	line = min(max(line, 1), src.Lines())
	n := len(src.Line(line))
	from = min(max(from, 0), n)
	to = min(max(to, from), n)
	return diagnostic.Span{Source: src, From: diagnostic.Pos{Line: line, Col: from + 1}, To: diagnostic.Pos{Line: line, Col: to + 1}}
}

// whole is the text of a line, without the blanks around it.
func whole(src *diagnostic.Source, line int) diagnostic.Span {
	l := src.Line(line)
	return runes(src, line, indent(l), trimmed(l))
}
