package library

import (
	"bytes"
	"fmt"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// headKeys are the keys a list shows; the stages need not be read for them.
var headKeys = []string{"canewright", "title", "id", "version", "instrument", "author", "licence", "about"}

// marker makes a file that cannot be read a recipe that cannot be read.
const marker = "canewright: recipe "

// longest is the most letters kept of each text of a head: there may be
// thousands, and each is a stranger's.
const longest = 4000

func clip(s string) string {
	if len(s) <= longest {
		return s
	}
	return strings.ToValidUTF8(s[:longest], "") + "…"
}

// head reads what a recipe says of itself. False: the file is no recipe.
func (e *Entry) head(data []byte) bool {
	data = bytes.ReplaceAll(bytes.TrimPrefix(data, []byte("\ufeff")), []byte("\r\n"), []byte("\n"))
	if len(data) > yamldoc.MaxBytes {
		if !bytes.Contains(data[:4<<10], []byte(marker)) {
			return false
		}
		e.Fault = fmt.Sprintf("the file has more than %d KiB", yamldoc.MaxBytes>>10)
		return true
	}
	text := headOf(data)
	root, _, list := yamldoc.ParseBytes(e.File, text)
	if (root.Get("canewright") == nil || list.Failed()) && bytes.Contains(data, []byte("canewright")) {
		// Perhaps it is written in another way than by lines.
		root, _, list = yamldoc.ParseBytes(e.File, data)
	}
	if root == nil || list.Failed() {
		if !bytes.Contains(text, []byte(marker)) {
			return false
		}
		e.Fault = "it cannot be read"
		if all := list.Sorted(); len(all) > 0 {
			e.Fault = all[0].Message
		}
		return true
	}
	format := root.Get("canewright").Value()
	if !strings.HasPrefix(format, "recipe ") && !strings.HasPrefix(format, "own version ") {
		return false
	}
	say := func(key string) string { return clip(strings.TrimSpace(root.Get(key).Value())) }
	e.Title, e.ID, e.Version, e.Instrument = say("title"), say("id"), say("version"), say("instrument")
	e.Author, e.Licence, e.About = say("author"), say("licence"), say("about")
	switch {
	case e.ID == "":
		e.Fault = "it has no id"
	case strings.ContainsFunc(e.ID+e.Instrument+e.Version, diagnostic.Unsafe):
		e.Fault = "its id holds what cannot be printed"
	}
	return true
}

// headOf are the lines of the keys of headKeys, with what belongs to each. A
// line that begins at the margin begins a key; so the lines between two of them
// belong to the first.
func headOf(data []byte) []byte {
	var out []byte
	in := false
	for len(data) > 0 {
		line := data
		if n := bytes.IndexByte(data, '\n'); n >= 0 {
			line = data[:n+1]
		}
		data = data[len(line):]
		if c := line[0]; c != ' ' && c != '\n' && c != '#' && c != '\t' {
			key, _, _ := bytes.Cut(line, []byte(":"))
			in = false
			for _, k := range headKeys {
				in = in || string(key) == k
			}
		}
		if in {
			out = append(out, line...)
		}
	}
	return out
}
