package tool

import (
	"slices"
	"strings"
)

// Standard is the catalogue of the trade's words. Every call builds its own,
// so nobody can change another's.
func Standard() *Catalogue {
	c := &Catalogue{tools: tools(), materials: materials(), actions: actions(), toolAt: map[string]int{}, materialAt: map[string]int{}}
	for i, t := range c.tools {
		for _, n := range append([]string{t.Name}, t.Aliases...) {
			c.toolAt[plain(n)] = i
		}
	}
	for i, m := range c.materials {
		for _, n := range append([]string{m.Name}, m.Aliases...) {
			c.materialAt[plain(n)] = i
		}
	}
	return c
}

// Tool finds a tool by name or alias; case, hyphens and extra blanks do not
// matter.
func (c *Catalogue) Tool(word string) (Tool, bool) {
	i, ok := c.toolAt[plain(word)]
	if !ok {
		return Tool{}, false
	}
	return c.tools[i].clone(), true
}

// Material finds a material by name or alias, like Tool.
func (c *Catalogue) Material(word string) (Material, bool) {
	i, ok := c.materialAt[plain(word)]
	if !ok {
		return Material{}, false
	}
	return c.materials[i].clone(), true
}

// Action finds an action by its name.
func (c *Catalogue) Action(name string) (Action, bool) {
	for _, a := range c.actions {
		if a.Name == plain(name) {
			a.Words = slices.Clone(a.Words)
			return a, true
		}
	}
	return Action{}, false
}

// Tools lists all tools in the order of the catalogue.
func (c *Catalogue) Tools() []Tool {
	out := make([]Tool, len(c.tools))
	for i, t := range c.tools {
		out[i] = t.clone()
	}
	return out
}

// Materials lists all materials in the order of the catalogue.
func (c *Catalogue) Materials() []Material {
	out := make([]Material, len(c.materials))
	for i, m := range c.materials {
		out[i] = m.clone()
	}
	return out
}

// ToolNames lists names and aliases, sorted, for finding a near miss.
func (c *Catalogue) ToolNames() []string {
	var out []string
	for _, t := range c.tools {
		out = append(append(out, t.Name), t.Aliases...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// MaterialNames lists names and aliases, sorted.
func (c *Catalogue) MaterialNames() []string {
	var out []string
	for _, m := range c.materials {
		out = append(append(out, m.Name), m.Aliases...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// ActionNames lists the names of actions, sorted.
func (c *Catalogue) ActionNames() []string {
	var out []string
	for _, a := range c.actions {
		out = append(out, a.Name)
	}
	slices.Sort(out)
	return out
}

func (t Tool) clone() Tool {
	t.Aliases, t.Classes = slices.Clone(t.Aliases), slices.Clone(t.Classes)
	return t
}

func (m Material) clone() Material {
	m.Aliases, m.Classes = slices.Clone(m.Aliases), slices.Clone(m.Classes)
	return m
}

// plain is a word as it is compared: lower case, hyphens as blanks, single
// blanks.
func plain(word string) string { return strings.Join(words(word), " ") }
