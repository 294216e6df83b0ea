package toolbox

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"canewright/engine/yamldoc"
)

// Template is a new file: every number of every tool, each behind # with how to
// measure it, for a player to fill in.
func Template() string {
	var s strings.Builder
	s.WriteString("canewright: " + Format + "\n" +
		"# Your own tools, in numbers. Take the # away from a line and write your\n" +
		"# number, with its unit: 15.0 mm, 0.575 in, 51.2 thou. Leave out what you do\n" +
		"# not know. Write every digit you read: 15.0 says more than 15.\n" +
		"# canewright my-tools ask   asks for one number after the other\n" +
		"# Who plays two instruments describes the tools of the second under\n" +
		"# only for:\n" +
		"#   contrabassoon:\n" +
		"#     shaper: …\n" +
		"# and nothing above counts for it.\n")
	for _, tool := range Tools() {
		s.WriteString("\n" + tool + ":\n")
		for _, f := range Fields() {
			if f.Tool == tool {
				s.WriteString("  # " + f.Title + ": " + f.How + "\n" + placeholder(f) + "\n")
			}
		}
	}
	return s.String()
}

func placeholder(f Field) string { return "  # " + f.Key + ": " + f.Example() }

// Change is one number to write into a file, or, with an empty Text, to take
// out of it. Instrument is empty for the tools of every instrument.
type Change struct {
	Instrument string
	Field      Field
	Text       string
}

// Edit writes one number into a file and leaves every other byte as it is. A
// file of nothing becomes the template first. The error says what the file's
// reader would say, or why this place cannot be written.
func Edit(name string, data []byte, c Change) ([]byte, error) {
	if len(strings.TrimSpace(string(data))) == 0 {
		data = []byte(Template())
	}
	before, list := Load(name, data)
	if before == nil {
		all := list.Sorted()
		return nil, fmt.Errorf("it has a finding at line %d: %s", all[0].Span.From.Line, all[0].Message)
	}
	root, src, _ := yamldoc.ParseBytes(name, data)
	text := strings.Join(strings.Fields(c.Text), " ")
	e := editor{lines: strings.Split(src.Text(), "\n")}
	path := []string{c.Field.Tool, c.Field.Key}
	if c.Instrument != "" {
		path = append([]string{OnlyFor, c.Instrument}, path...)
	}
	if err := e.put(root, path, text, c.Field); err != nil {
		return nil, err
	}
	out := strings.Join(e.lines, "\n")
	if strings.Contains(string(data), "\r\n") {
		out = strings.ReplaceAll(out, "\n", "\r\n")
	}
	after, list := Load(name, []byte(out))
	if after == nil {
		all := list.Sorted()
		return nil, fmt.Errorf("%s cannot be written so: %s", c.Field.Name(), all[0].Message)
	}
	if !onlyThat(before, after, c, text) {
		return nil, fmt.Errorf("%s cannot be written without changing something else; write it into the file by hand", c.Field.Name())
	}
	return []byte(out), nil
}

// onlyThat reports that two boxes differ in the change alone.
func onlyThat(before, after *Box, c Change, text string) bool {
	want := map[string]string{}
	for _, b := range []*Box{before} {
		flatten(b, want)
	}
	key := c.Instrument + "/" + c.Field.Name()
	if text == "" {
		delete(want, key)
	} else {
		want[key] = text
	}
	got := map[string]string{}
	flatten(after, got)
	if len(want) != len(got) {
		return false
	}
	for k, v := range want {
		if g, ok := got[k]; !ok || k != key && g != v {
			return false
		}
	}
	return true
}

func flatten(b *Box, into map[string]string) {
	for name, v := range b.All {
		into["/"+name] = v.Text
	}
	for _, s := range b.Only {
		for name, v := range s.Tools {
			into[s.Instrument+"/"+name] = v.Text
		}
	}
}

type editor struct{ lines []string }

// put walks down the path as far as it is written, and writes the rest.
func (e *editor) put(root *yamldoc.Node, path []string, text string, f Field) error {
	at, line, indent := root, 0, 0 // line: of the key at stands under, from 1; 0 for the file
	for depth, key := range path {
		i := slices.IndexFunc(at.Entries(), func(x yamldoc.Entry) bool { return x.Key.Value() == key })
		if i < 0 {
			if text == "" {
				return nil // it is not there
			}
			if at.Flow() {
				return fmt.Errorf("%s stands inside {…}; write it on lines of its own first", path[max(depth-1, 0)])
			}
			if len(at.Entries()) > 0 {
				indent = at.Entries()[0].Key.Span().From.Col - 1
			}
			e.insert(line, indent, path[depth:], text, f)
			return nil
		}
		found := at.Entries()[i]
		line, indent = found.Key.Span().From.Line, found.Key.Span().From.Col+1
		if depth == len(path)-1 {
			return e.replace(found, text)
		}
		if s := found.Value.Shape(); s != yamldoc.Map && s != yamldoc.Empty {
			return fmt.Errorf("%s is no tool there", key)
		}
		at = found.Value
		if at.Shape() == yamldoc.Empty && found.Key.Flow() {
			return fmt.Errorf("%s stands inside {…}; write it on lines of its own first", key)
		}
	}
	return nil
}

// replace puts a text in the place of a value; none takes the line out.
func (e *editor) replace(found yamldoc.Entry, text string) error {
	key, span := found.Key.Span(), found.Value.Span()
	if text == "" {
		if found.Key.Flow() {
			return fmt.Errorf("%s stands inside {…}; take it out by hand", found.Key.Value())
		}
		e.lines = slices.Delete(e.lines, key.From.Line-1, max(span.To.Line, key.From.Line))
		return nil
	}
	if found.Value.Flow() {
		text = strings.ReplaceAll(text, ",", ".")
	}
	if found.Value.Shape() == yamldoc.Empty {
		line := []rune(e.lines[key.To.Line-1])
		at := min(key.To.Col-1, len(line))
		for at < len(line) && line[at] != ':' {
			at++
		}
		at = min(at+1, len(line))
		e.lines[key.To.Line-1] = string(line[:at]) + " " + text + string(line[at:])
		return nil
	}
	if span.From.Line != span.To.Line {
		return fmt.Errorf("the number of %s goes over several lines; write it on one", found.Key.Value())
	}
	line := []rune(e.lines[span.From.Line-1])
	e.lines[span.From.Line-1] = string(line[:span.From.Col-1]) + text + string(line[min(span.To.Col-1, len(line)):])
	return nil
}

// insert writes keys below a line, each deeper than the one before; the number
// takes the place of its placeholder where there is one.
func (e *editor) insert(line, indent int, path []string, text string, f Field) {
	if len(path) == 1 && line > 0 {
		waiting := regexp.MustCompile(`^\s*#\s*` + regexp.QuoteMeta(f.Key) + `:`)
		for i := line; i < len(e.lines); i++ {
			t := e.lines[i]
			if trimmed := strings.TrimSpace(t); trimmed != "" && !strings.HasPrefix(trimmed, "#") && len(t)-len(strings.TrimLeft(t, " ")) < indent {
				break
			}
			if waiting.MatchString(t) {
				e.lines[i] = strings.Repeat(" ", indent) + f.Key + ": " + text
				return
			}
		}
	}
	var add []string
	for i, key := range path {
		s := strings.Repeat(" ", indent+2*i) + key + ":"
		if i == len(path)-1 {
			s += " " + text
		}
		add = append(add, s)
	}
	if line > 0 {
		e.lines = slices.Insert(e.lines, line, add...)
		return
	}
	for len(e.lines) > 0 && strings.TrimSpace(e.lines[len(e.lines)-1]) == "" {
		e.lines = e.lines[:len(e.lines)-1]
	}
	e.lines = append(append(e.lines, ""), append(add, "")...)
}
