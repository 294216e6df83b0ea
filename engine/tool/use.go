package tool

import "slices"

// With is everything of u, then what o adds.
func (u Use) With(o Use) Use {
	out := Use{
		Tools:     slices.Clone(u.Tools),
		Materials: slices.Clone(u.Materials),
		Actions:   slices.Clone(u.Actions),
		Classes:   slices.Clone(u.Classes),
	}
	for _, t := range o.Tools {
		out.addTool(t)
	}
	for _, m := range o.Materials {
		out.addMaterial(m)
	}
	for _, a := range o.Actions {
		out.Actions = addWord(out.Actions, a)
	}
	for _, c := range o.Classes {
		out.Classes = addWord(out.Classes, c)
	}
	return out
}

// Has reports whether a tool or a material in use, or the evening itself, is
// of the class.
func (u Use) Has(class string) bool {
	return slices.Contains(u.Classes, class) ||
		slices.ContainsFunc(u.Tools, func(t Tool) bool { return slices.Contains(t.Classes, class) }) ||
		slices.ContainsFunc(u.Materials, func(m Material) bool { return slices.Contains(m.Classes, class) })
}

// Empty reports whether nothing is in use.
func (u Use) Empty() bool {
	return len(u.Tools) == 0 && len(u.Materials) == 0 && len(u.Actions) == 0 && len(u.Classes) == 0
}

func (u *Use) addTool(t Tool) {
	if !slices.ContainsFunc(u.Tools, func(have Tool) bool { return have.Name == t.Name }) {
		u.Tools = append(u.Tools, t)
	}
}

func (u *Use) addMaterial(m Material) {
	if !slices.ContainsFunc(u.Materials, func(have Material) bool { return have.Name == m.Name }) {
		u.Materials = append(u.Materials, m)
	}
}

func addWord(to []string, w string) []string {
	if slices.Contains(to, w) {
		return to
	}
	return append(to, w)
}
