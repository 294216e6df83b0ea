package wire_test

import (
	"testing"

	"canewright/cmd/internal/wire"
	"canewright/engine/tool"
)

// What the bundled instruments are read with is in the tool list, or the bench
// would know neither its step nor its uncertainty.
func TestTheToolsOfBundledInstrumentsAreKnown(t *testing.T) {
	t.Parallel()
	all, read := tool.Standard(), 0
	for name, instrument := range wire.Bundled() {
		for _, d := range instrument().Dimensions {
			if d.Tool == "" {
				continue
			}
			read++
			if _, ok := all.Tool(d.Tool); !ok {
				t.Errorf("%s: %s is read with %q", name, d.Name, d.Tool)
			}
		}
	}
	if read < 100 {
		t.Errorf("only %d dimensions name a tool", read)
	}
}
