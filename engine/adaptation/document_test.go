package adaptation

import (
	"slices"
	"strings"
	"testing"

	"canewright/engine/yamldoc"
	"canewright/recipes"
)

// openAll opens every part that holds parts.
func openAll(b *block) {
	for _, p := range b.parts {
		plain := func(n *yamldoc.Node) bool { return n.Shape() != yamldoc.Map }
		if p.node.Shape() == yamldoc.Map || p.node.Shape() == yamldoc.List && !slices.ContainsFunc(p.node.Items(), plain) {
			p.open()
		}
		if p.block != nil {
			openAll(p.block)
		}
		if p.items != nil {
			for _, it := range p.items.all {
				openAll(it.block)
			}
		}
	}
}

// What is taken apart and put together again is the same text where it was
// written line by line, and says the same where it stood in brackets.
func TestTakenApartAndPutTogether(t *testing.T) {
	t.Parallel()
	for _, name := range recipes.All() {
		file, data, _ := recipes.Read(name)
		root, src, list := yamldoc.ParseBytes(file, data)
		if list.Failed() {
			t.Fatal(list.Sorted())
		}
		d := parse(src, root)
		if got := d.text(); got != string(data) {
			t.Errorf("%s, untouched: %s", name, firstDifference(got, string(data)))
		}
		d.root.get("stages").open()
		if got := d.text(); got != string(data) {
			t.Errorf("%s, stages opened: %s", name, firstDifference(got, string(data)))
		}
		openAll(d.root)
		again, _, list := yamldoc.ParseBytes(file, []byte(d.text()))
		if list.Failed() {
			t.Fatalf("%s, all opened: %v", name, list.Sorted())
		}
		if again.OneLine() != root.OneLine() {
			t.Errorf("%s says something else: %s", name, firstDifference(strings.ReplaceAll(again.OneLine(), "{", "\n{"), strings.ReplaceAll(root.OneLine(), "{", "\n{")))
		}
	}
}

func firstDifference(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range x {
		if i >= len(y) || x[i] != y[i] {
			if i >= len(y) {
				return "more: " + x[i]
			}
			return "line " + x[i] + "\nwant " + y[i]
		}
	}
	return "it ends early"
}
