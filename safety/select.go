package safety

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"canewright/engine/tool"
)

// errEmpty: without notes nobody can say that a stage is harmless.
var errEmpty = errors.New("choose safety notes: no catalogue was read")

// selector holds where any one of its words is in use.
type selector struct {
	tools, materials, classes, actions []string
}

// match is the words in use that the selector asks for, none where it does
// not hold.
func (s selector) match(u tool.Use) []string {
	var out []string
	for _, t := range u.Tools {
		if slices.Contains(s.tools, t.Name) || overlap(s.classes, t.Classes) {
			out = append(out, t.Name)
		}
	}
	for _, m := range u.Materials {
		if slices.Contains(s.materials, m.Name) || overlap(s.classes, m.Classes) {
			out = append(out, m.Name)
		}
	}
	for _, a := range u.Actions {
		if slices.Contains(s.actions, a) {
			out = append(out, a)
		}
	}
	for _, c := range u.Classes {
		if slices.Contains(s.classes, c) {
			out = append(out, c)
		}
	}
	return out
}

func overlap(a, b []string) bool {
	return slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}

// For is the notes for a stage that uses now, where evening is everything used
// in this session so far, for what is dangerous only together. Highest signal
// first, then by id.
func (c *Catalogue) For(now, evening tool.Use) ([]Note, error) {
	if c == nil || len(c.entries) == 0 {
		return nil, errEmpty
	}
	now, evening = c.known(now), c.known(evening)
	now = now.With(tool.Use{Classes: evening.Classes})
	all := now.With(evening)
	var out []Note
	for _, e := range c.entries {
		because := append(e.when.match(now), e.pair(now, all)...)
		if len(because) == 0 {
			continue
		}
		n := e.note.Clone()
		n.Because = unique(because)
		n.Remarks = remarks(e, now)
		if n.Signal == Caution && slices.ContainsFunc(e.raisedBy, all.Has) {
			n.Signal = Warning
		}
		out = append(out, n)
	}
	rank(out)
	return out, nil
}

// pair is the words of a danger that needs two: all sides hold over the
// evening, and now adds one of them.
func (e entry) pair(now, all tool.Use) []string {
	var out []string
	added := false
	for _, s := range e.together {
		m := s.match(all)
		if len(m) == 0 {
			return nil
		}
		added = added || len(s.match(now)) > 0
		out = append(out, m...)
	}
	if !added {
		return nil
	}
	return out
}

// known gives every word its classes again, whatever came with it: a tool
// that is stored or made up elsewhere must not lose its dangers on the way.
func (c *Catalogue) known(u tool.Use) tool.Use {
	all := tool.Use{Actions: u.Actions, Classes: u.Classes}
	add := func(t tool.Tool, isTool bool, m tool.Material, isMaterial bool) {
		if isTool {
			all.Tools = append(all.Tools, t)
		}
		if isMaterial {
			all.Materials = append(all.Materials, m)
		}
	}
	for _, given := range u.Tools {
		t, isTool := c.words.Tool(given.Name)
		m, isMaterial := c.words.Material(given.Name)
		if !isTool {
			t = tool.Unknown(given.Name)
			isTool = !isMaterial // "household cement" among the tools is no unknown tool
		}
		t.Classes = unique(append(t.Classes, given.Classes...))
		add(t, isTool, m, isMaterial)
	}
	for _, given := range u.Materials {
		m, isMaterial := c.words.Material(given.Name)
		t, isTool := c.words.Tool(given.Name)
		if !isMaterial {
			m = tool.UnknownMaterial(given.Name)
			isMaterial = !isTool
		} else {
			isTool = false
		}
		m.Classes = unique(append(m.Classes, given.Classes...))
		add(t, isTool, m, isMaterial)
	}
	return tool.Use{}.With(all) // each once
}

// remarks says of every unknown word that selected the note that it is one.
func remarks(e entry, now tool.Use) []string {
	var out []string
	asks := func(classes []string) bool {
		return slices.ContainsFunc(classes, func(c string) bool { return strings.HasPrefix(c, "unknown ") && slices.Contains(e.when.classes, c) })
	}
	for _, t := range now.Tools {
		if t.Unknown && asks(t.Classes) {
			out = append(out, fmt.Sprintf("%q is not in the catalogue of tools: nobody has looked at its dangers.", t.Name))
		}
	}
	for _, m := range now.Materials {
		if m.Unknown && asks(m.Classes) {
			out = append(out, fmt.Sprintf("%q is not in the catalogue of materials: nobody has looked at its dangers.", m.Name))
		}
	}
	return out
}
