package yamldoc

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"canewright/engine/diagnostic"
)

// mistake is why the parser stopped. Repair is the finding's line with what
// is wrong painted over, "" if the rest cannot be read without it.
type mistake struct {
	finding    diagnostic.Diagnostic
	understood bool
	repair     string
}

// stop is where the parser stopped: context is the line it names itself,
// mostly where the construct began that went wrong; problem the line that
// holds the mistake, or the same where the parser names that.
type stop struct {
	msg              string
	context, problem int
	read             int // the last line read until then
}

// explain finds the place and the cause of a syntax error in lines, which is
// the text of src with earlier mistakes painted over.
func explain(src *diagnostic.Source, lines []string, err error) mistake {
	e := &explainer{src: src, lines: lines, stop: locate(lines, err)}
	return e.explain()
}

// lineReader hands out one line at a time, so that the parser has read hardly
// more than the line where it stops.
type lineReader struct {
	whole string
	text  string // what is left of it
	lines int    // begun
	open  bool
}

func (l *lineReader) Read(b []byte) (int, error) {
	if l.text == "" {
		return 0, io.EOF
	}
	end := strings.IndexByte(l.text, '\n') + 1
	if end == 0 {
		end = len(l.text)
	}
	n := copy(b, l.text[:end])
	if !l.open {
		l.lines++
	}
	l.open = n < end
	l.text = l.text[n:]
	return n, nil
}

// locate reads the text again behind one empty line: the parser names no line
// for what begins on the first, and then may name a wrong one.
func locate(lines []string, err error) stop {
	r := &lineReader{whole: "\n" + strings.Join(lines, "\n")}
	r.text = r.whole
	if _, again := load(r); again != nil {
		err = again
	}
	msg, line := message(err)
	s := stop{msg: msg, read: min(max(r.lines-1, 1), len(lines))}
	if !fromParser(msg) {
		line-- // the scanner counts from 1, the parser from 0
	}
	s.context = min(max(line, 0), len(lines))
	s.problem = s.context
	if !strings.HasPrefix(msg, "did not find expected key") && !strings.HasPrefix(msg, "did not find expected '") {
		return s
	}
	// The parser has looked ahead, at most over the rest of a text. Shorter
	// beginnings of the file still stop for the same reason until the line
	// with the mistake is cut off.
	s.problem = s.read
	most := 8
	if len(r.whole) > maxPainted/4 {
		most = 2 // each reads all of it again
	}
	for tries := 0; s.problem > max(s.context, 1) && tries < most; s.problem-- {
		last := strings.TrimSpace(lines[s.problem-1])
		if last == "" || last[0] == '#' {
			continue
		}
		tries++
		if s.problem > 1 {
			_, err := load(strings.NewReader(strings.Join(lines[:s.problem-1], "\n") + "\n"))
			if m, _ := message(err); m != msg {
				break
			}
		}
	}
	return s
}

var lineNumber = regexp.MustCompile(`^line ([0-9]+): `)

// message is the parser's text without its prefix, and the line it names, 0 if
// none.
func message(err error) (string, int) {
	if err == nil {
		return "", 0
	}
	msg := strings.TrimPrefix(err.Error(), "yaml: ")
	m := lineNumber.FindStringSubmatch(msg)
	if m == nil {
		return msg, 0
	}
	n, _ := strconv.Atoi(m[1])
	return msg[len(m[0]):], n
}

func fromParser(msg string) bool {
	for _, p := range []string{"did not find expected key", "did not find expected '", "did not find expected node content",
		"did not find expected <", "found undefined tag handle", "found duplicate %", "found incompatible"} {
		if strings.HasPrefix(msg, p) {
			return true
		}
	}
	return false
}

type explainer struct {
	stop
	src   *diagnostic.Source
	lines []string
}

func (e *explainer) line(n int) []rune {
	if n < 1 || n > len(e.lines) {
		return nil
	}
	return []rune(e.lines[n-1])
}

// before is the last line with text before line n, 0 if none.
func (e *explainer) before(n int) int {
	for n--; n > 0; n-- {
		if l := e.line(n); indent(l) < len(l) && l[indent(l)] != '#' {
			return n
		}
	}
	return 0
}

func (e *explainer) explain() mistake {
	switch {
	case e.msg == secondDocument:
		return e.known("yaml/second-document", diagnostic.Span{Source: e.src}, "keep one document a file", "the file holds a second document")
	case strings.HasPrefix(e.msg, "found unexpected end of stream"), strings.HasPrefix(e.msg, "found unexpected document indicator"):
		if at, ok := e.openQuote(e.context); ok {
			return e.known("yaml/unclosed-quote", at, "close it at the end of the text", "the quote is not closed")
		}
	case strings.HasPrefix(e.msg, "found unknown escape"), strings.HasPrefix(e.msg, "did not find expected hex"), strings.HasPrefix(e.msg, "found invalid Unicode"):
		if at, ok := e.backslash(); ok {
			return e.known("yaml/bad-escape", at, `write \\ for a backslash, or put the text between '…', where a backslash is only that`,
				"a backslash between double quotes must be followed by a known letter")
		}
	case strings.HasPrefix(e.msg, "exceeded max depth"):
		return e.known("yaml/too-deep", e.place(e.problem), "", "lists and maps are nested deeper than %d", maxDepth)
	case strings.HasPrefix(e.msg, "unknown anchor"):
		for n := len(e.lines); n > 0; n-- {
			if t, ok := findTrap(e.line(n), false); ok && t.code == "yaml/alias" {
				return e.trapped(n, t)
			}
		}
	}
	for _, n := range []int{e.problem, e.context} {
		if t, ok := findTrap(e.line(n), e.open(n)); ok {
			return e.trapped(n, t)
		}
	}
	if m, ok := e.structure(); ok {
		return m
	}
	if at, ok := e.question(); ok {
		m := e.known("yaml/question-in-brackets", at, "put the whole question between '…'", "inside brackets a text that ends in a question mark needs quotes")
		m.understood = false
		return m
	}
	m := e.known("yaml/syntax", e.place(e.problem), "", "the file cannot be read from here: %s", e.msg)
	m.understood = false
	return m
}

// structure explains what is wrong between lines, not within one.
func (e *explainer) structure() (mistake, bool) {
	at := e.place(e.problem)
	switch {
	case strings.HasPrefix(e.msg, "mapping values"):
		if t, ok := secondColon(e.line(e.problem)); ok {
			return e.trapped(e.problem, t), true
		}
		above := e.before(e.problem)
		if t, ok := keyWithoutBlank(e.line(above)); ok {
			return e.trapped(above, t), true
		}
		return e.known("yaml/indentation", at, "start the line below the first letter of its neighbours; a text of several lines with a colon in it needs quotes",
			"the line is indented as if the text above went on"), true
	case strings.HasPrefix(e.msg, "could not find expected ':'"):
		if t, ok := keyWithoutBlank(e.line(e.problem)); ok {
			return e.trapped(e.problem, t), true
		}
		return e.known("yaml/syntax", at, "write `key: value`; a text of several lines is indented further than its key", "the line has no key and colon"), true
	case strings.HasPrefix(e.msg, "did not find expected ',' or"):
		if from, ok := openBracket(e.line(e.context)); ok {
			b := e.line(e.context)[from]
			return e.known("yaml/unclosed-bracket", runes(e.src, e.context, from, from+1),
				fmt.Sprintf("close it with %c; between values stands a comma", closing(b)), "the bracket %c is not closed", b), true
		}
	case strings.HasPrefix(e.msg, "did not find expected key"), strings.HasPrefix(e.msg, "did not find expected '-'"), strings.HasPrefix(e.msg, "did not find expected <document"):
		if from, ok := e.quoteEndingOn(e.problem); ok {
			m := e.known("yaml/unclosed-quote", from, "close it at the end of the text", "the quote is not closed on its line")
			m.finding.Related = []diagnostic.Related{{Message: "it is closed only here", Span: at}}
			return m, true
		}
		return e.known("yaml/indentation", at, "keys of one map, and the dashes of one list, start in the same column",
			"the line does not fit the lines above it"), true
	}
	return mistake{}, false
}

func (e *explainer) known(code string, at diagnostic.Span, hint, format string, a ...any) mistake {
	return mistake{diagnostic.Diagnostic{Code: code, Span: at, Hint: hint, Message: fmt.Sprintf(format, a...)}, true, ""}
}

func (e *explainer) trapped(line int, t trap) mistake {
	m := e.known(t.code, runes(e.src, line, t.from, t.to), t.hint, "%s", t.message)
	if t.paint > t.from {
		l := e.line(line)
		m.repair = string(l[:t.from]) + strings.Repeat("x", t.paint-t.from) + string(l[t.paint:])
	}
	return m
}

// place is the text of the line, or of the last one before it that has any;
// without a line only the file is known.
func (e *explainer) place(n int) diagnostic.Span {
	if n < 1 {
		return diagnostic.Span{Source: e.src}
	}
	if l := e.line(n); indent(l) == len(l) {
		n = max(1, e.before(n))
	}
	return whole(e.src, n)
}

var escapes = regexp.MustCompile(`^\\(?:[0abtnvfre "'/\\N_LP\t]|x[0-9A-Fa-f]{2}|u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8}|$)`)

// question finds a question mark that ends a text inside brackets: the parser
// takes it for the sign of a key.
func (e *explainer) question() (diagnostic.Span, bool) {
	if !strings.Contains(e.msg, "did not find expected ','") {
		return diagnostic.Span{}, false
	}
	for _, n := range []int{e.problem, e.context} {
		line := e.line(n)
		for i, r := range line {
			if r != '?' {
				continue
			}
			if rest := strings.TrimLeft(string(line[i+1:]), " "); rest != "" && strings.ContainsRune(",}]", rune(rest[0])) {
				return diagnostic.Span{Source: e.src, From: diagnostic.Pos{Line: n, Col: i + 1}, To: diagnostic.Pos{Line: n, Col: i + 2}}, true
			}
		}
	}
	return diagnostic.Span{}, false
}

// backslash is the first one with nothing known behind it, between double
// quotes on the last line read or the one before.
func (e *explainer) backslash() (diagnostic.Span, bool) {
	for n := e.read; n >= max(e.context, e.read-1, 1); n-- {
		line := e.line(n)
		i := 0
		if n == e.context {
			i = max(0, slices.Index(line, '"'))
		}
		for ; i < len(line); i++ {
			if line[i] != '\\' {
				continue
			}
			known := escapes.FindString(string(line[i:]))
			if known == "" || surrogate(known) {
				return runes(e.src, n, i, i+max(2, len(known))), true
			}
			i++
		}
	}
	return diagnostic.Span{}, false
}

// surrogate reports an escape like \ud800, half of a character.
func surrogate(escape string) bool {
	v, err := strconv.ParseUint(strings.TrimLeft(escape, `\uU`), 16, 32)
	return err == nil && len(escape) > 4 && (v >= 0xd800 && v <= 0xdfff || v > 0x10ffff)
}

// openQuote is the quote on line n that is not closed there.
func (e *explainer) openQuote(n int) (diagnostic.Span, bool) {
	line := e.line(n)
	for _, s := range starts(line, e.open(n)) {
		if s.at < len(line) && (line[s.at] == '"' || line[s.at] == '\'') && quoteEnd(line, s.at) < 0 {
			return runes(e.src, n, s.at, trimmed(line)), true
		}
	}
	return diagnostic.Span{}, false
}

// quoteEndingOn is a quote opened on an earlier line whose end is on line n.
func (e *explainer) quoteEndingOn(n int) (diagnostic.Span, bool) {
	for from := n - 1; from >= max(1, n-200); from-- {
		at, ok := e.openQuote(from)
		if !ok {
			continue
		}
		quote := e.line(from)[at.From.Col-1]
		for ln := from + 1; ln <= n; ln++ {
			l := append([]rune{quote}, e.line(ln)...)
			if quoteEnd(l, 0) >= 0 {
				if ln == n {
					return at, true
				}
				break
			}
		}
	}
	return diagnostic.Span{}, false
}

// open reports that line n lies inside a bracket that the stop is about.
func (e *explainer) open(n int) bool {
	return n > e.context && strings.HasPrefix(e.msg, "did not find expected ',' or")
}
