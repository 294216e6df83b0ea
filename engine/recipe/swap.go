package recipe

import (
	"slices"
	"strings"

	"canewright/engine/tool"
)

// Swap is a tool or a material that is really used, and the listed one whose
// place it takes; Instead is empty where it is used beside what is listed.
type Swap struct{ Instead, Name string }

// Named is the tool or material a word stands for; known is false for one that
// is not in the catalogue, of which the safety notes say so.
func (b *Bound) Named(word string, material bool) (u Use, known bool) {
	if t, ok := b.tools.Tool(word); ok {
		return Use{Tools: []tool.Tool{t}}, true
	}
	if m, ok := b.tools.Material(word); ok {
		return Use{Materials: []tool.Material{m}}, true
	}
	if material {
		return Use{Materials: []tool.Material{tool.UnknownMaterial(word)}}, false
	}
	return Use{Tools: []tool.Tool{tool.Unknown(word)}}, false
}

// Swapped is what is in use when the swaps are made. What the words of the
// stage speak of stays: the actions are the same.
func (b *Bound) Swapped(u Use, swaps []Swap) Use {
	for _, s := range swaps {
		material := slices.ContainsFunc(u.Materials, func(m tool.Material) bool { return m.Name == s.Instead })
		if !material && s.Instead == "" {
			material = len(u.Materials) > 0
		}
		with, _ := b.Named(s.Name, material)
		out := Use{Actions: u.Actions, Classes: u.Classes}
		for _, t := range u.Tools {
			if t.Name != s.Instead {
				out.Tools = append(out.Tools, t)
			}
		}
		for _, m := range u.Materials {
			if m.Name != s.Instead {
				out.Materials = append(out.Materials, m)
			}
		}
		u = out.With(with)
	}
	return u
}

// SwapOf is what is meant by using a word, named the thing it takes the place
// of or empty. choices are what could be meant where that is not plain.
func (b *Bound) SwapOf(u Use, word, named string) (s Swap, choices []string) {
	if named != "" {
		_, isTool := b.tools.Tool(word)
		for _, t := range u.Tools {
			if strings.EqualFold(t.Name, named) || b.sameTool(t.Name, named) {
				return Swap{t.Name, word}, nil
			}
			if isTool {
				choices = append(choices, t.Name)
			}
		}
		for _, m := range u.Materials {
			if strings.EqualFold(m.Name, named) || b.sameMaterial(m.Name, named) {
				return Swap{m.Name, word}, nil
			}
			if !isTool {
				choices = append(choices, m.Name)
			}
		}
		return Swap{}, choices
	}
	with, known := b.Named(word, len(u.Materials) > 0)
	s.Name = word
	var classes [][]string // of the choices
	if len(with.Tools) > 0 {
		s.Name = with.Tools[0].Name
		for _, t := range u.Tools {
			if !known || alike(t.Classes, with.Tools[0].Classes) {
				choices, classes = append(choices, t.Name), append(classes, t.Classes)
			}
		}
	} else {
		s.Name = with.Materials[0].Name
		for _, m := range u.Materials {
			if !known || alike(m.Classes, with.Materials[0].Classes) {
				choices, classes = append(choices, m.Name), append(classes, m.Classes)
			}
		}
	}
	switch {
	case len(choices) == 0:
		return s, nil // beside what is listed
	case !known:
		return Swap{}, choices // what nobody knows replaces nothing by itself
	}
	for i, c := range classes {
		if !slices.ContainsFunc(classes, func(o []string) bool { return !within(o, c) }) {
			s.Instead = choices[i] // the others only say the same less plainly: "glue" for a cement
			return s, nil
		}
	}
	return Swap{}, choices
}

// within reports whether all of a stand in b.
func within(a, b []string) bool {
	return !slices.ContainsFunc(a, func(c string) bool { return !slices.Contains(b, c) })
}

func (b *Bound) sameTool(name, word string) bool {
	t, ok := b.tools.Tool(word)
	return ok && t.Name == name
}

func (b *Bound) sameMaterial(name, word string) bool {
	m, ok := b.tools.Material(word)
	return ok && m.Name == name
}

// alike: two things of one class may stand for each other: two glues, two
// gauges.
func alike(a, b []string) bool {
	return slices.ContainsFunc(a, func(c string) bool { return slices.Contains(b, c) })
}

// ToolFor is the tool a measurement is read with when the swaps are made.
func (b *Bound) ToolFor(m *Measure, swaps []Swap) tool.Tool {
	t := m.Tool
	for _, s := range swaps {
		if s.Instead != "" && s.Instead == t.Name {
			if with, _ := b.Named(s.Name, false); len(with.Tools) > 0 {
				t = with.Tools[0]
			}
		}
	}
	return t
}
