package recipe

// BoxKind is what a box on a paper card takes.
type BoxKind string

const (
	BoxReading BoxKind = "reading"
	BoxLook    BoxKind = "look"
	BoxDone    BoxKind = "done"
	BoxPieces  BoxKind = "pieces" // how many pieces a tube was split into
)

// Box is one box of a piece's row on a paper card: what is written there with
// wet hands and typed back later.
type Box struct {
	Kind    BoxKind
	Measure int // index in the stage's Measures; -1 for the other kinds
	Turn    int // which of the repeats, from 1
}

// Boxes are the boxes of a piece at a stage, in the order the bench asks:
// readings, each repeat its own, then the look, then into how many pieces a tube
// was split; one "done" where the stage asks for nothing else. number is the piece's place in the batch, from 1.
func (b *Bound) Boxes(stage, number int) []Box {
	st := &b.Stages[stage]
	var out []Box
	for i, m := range st.Measures {
		if !m.Each.For(number) {
			continue
		}
		for turn := 1; turn <= m.Repeat; turn++ {
			out = append(out, Box{BoxReading, i, turn})
		}
	}
	if st.Look != nil {
		out = append(out, Box{Kind: BoxLook, Measure: -1, Turn: 1})
	}
	if len(out) == 0 && st.Into == 0 {
		out = append(out, Box{Kind: BoxDone, Measure: -1, Turn: 1})
	}
	if st.Into > 0 {
		out = append(out, Box{Kind: BoxPieces, Measure: -1, Turn: 1})
	}
	return out
}
