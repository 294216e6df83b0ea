package yamldoc

import "canewright/engine/diagnostic"

// Shape is what a node is.
type Shape int

// Empty is nothing written, or ~. The words null, yes and no are texts.
const (
	Empty Shape = iota
	Scalar
	List
	Map
)

// String names a shape the way messages do.
func (s Shape) String() string {
	switch s {
	case Scalar:
		return "a text"
	case List:
		return "a list"
	case Map:
		return "a map"
	}
	return "nothing"
}

// Node is one value of a file. It does not change after Parse. The methods of
// a nil Node answer as an Empty one without a place.
type Node struct {
	shape   Shape
	text    diagnostic.Text
	span    diagnostic.Span
	plain   bool // a scalar without quotes that stands on one or more lines
	written bool // false for an Empty node of which nothing stands in the file
	flow    bool
	items   []*Node
	entries []Entry
}

// Entry is one key of a map and its value.
type Entry struct{ Key, Value *Node }

// Shape is what the node is.
func (n *Node) Shape() Shape {
	if n == nil {
		return Empty
	}
	return n.shape
}

// Text is a scalar as written, decoded; the zero Text for anything else.
func (n *Node) Text() diagnostic.Text {
	if n.Shape() != Scalar {
		return diagnostic.Text{}
	}
	return n.text
}

// Value is the scalar's text, "" if the node is no scalar.
func (n *Node) Value() string { return n.Text().Value }

// Quoted reports a scalar written as '…', "…", | or >.
func (n *Node) Quoted() bool { return n.Shape() == Scalar && !n.plain }

// Flow reports that the node stands inside […] or {…}, where a comma ends a
// value and so is no decimal comma.
func (n *Node) Flow() bool { return n != nil && n.flow }

// Span is the node's place: a scalar with its quotes, a list or map from its
// first item or key to the end of its last, an Empty value its key.
func (n *Node) Span() diagnostic.Span {
	if n == nil {
		return diagnostic.Span{}
	}
	return n.span
}

// Items is what a list holds, nil for anything else.
func (n *Node) Items() []*Node {
	if n == nil {
		return nil
	}
	return n.items
}

// Entries is what a map holds, in the order of the file. A key that stands
// twice is here twice.
func (n *Node) Entries() []Entry {
	if n == nil {
		return nil
	}
	return n.entries
}

// Get is the value of the first key of that name, nil if there is none.
func (n *Node) Get(key string) *Node {
	for _, e := range n.Entries() {
		if e.Key.Value() == key {
			return e.Value
		}
	}
	return nil
}
