package recipe

import (
	"slices"

	"canewright/engine/dimension"
	"canewright/engine/tool"
)

// Tool is named here so that the bench need not know the catalogue.
type Tool = tool.Tool

// ToolsOf are the tools a remedy takes in hand: those its words speak of, and
// the one that what it touches is worked with.
func (b *Bound) ToolsOf(r *Remedy) []string {
	var out []string
	for _, t := range b.tools.Spoken(r.Name + ". " + r.Do).Tools {
		out = append(out, t.Name)
	}
	usual := map[dimension.Touches]string{
		dimension.TouchesWires: "pliers", dimension.TouchesKnife: "knife", dimension.TouchesLength: "tip cutter", dimension.TouchesEdge: "file",
	}[r.Touches]
	if usual != "" && !slices.Contains(out, usual) {
		out = append(out, usual)
	}
	return out
}
