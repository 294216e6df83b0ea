package cli

import (
	"strings"

	"canewright/engine/cane"
	"canewright/engine/recipe"
)

// showFunctions lists what formulas may call.
func showFunctions(c *commander) error {
	sources := map[string]string{}
	for _, f := range cane.Functions() {
		sources[f.Name] = f.Source
	}
	type line struct {
		Name   string   `json:"name"`
		Form   string   `json:"form"`
		Takes  []string `json:"takes"`
		Gives  string   `json:"gives"`
		Help   string   `json:"help"`
		Source string   `json:"source"`
	}
	all := []line{}
	for _, f := range recipe.Functions() {
		l := line{Name: f.Name, Form: f.Form(), Gives: f.Result.String(), Help: f.Help, Source: sources[f.Name]}
		for i, k := range f.Params {
			word := k.String()
			if i < len(f.Words) {
				word = f.Words[i] + " (" + word + ")"
			}
			l.Takes = append(l.Takes, word)
		}
		all = append(all, l)
	}
	if c.json {
		return c.printJSON(all)
	}
	c.wrap("", "Formulas may also say abs, min, max, near(a, b, largest difference), between(x, low, high), wet(x), dry(x) and length(x).")
	for _, l := range all {
		c.printf("\n%s\n", l.Form)
		c.wrap("    ", l.Help)
		c.wrap("    ", "takes "+strings.Join(l.Takes, ", ")+"; gives "+l.Gives)
		c.wrap("    ", "from: "+l.Source)
	}
	return nil
}
