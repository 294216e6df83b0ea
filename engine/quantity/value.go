package quantity

// Value is a whole number of quanta of its kind. Comparable, sortable, an SQL
// INTEGER. |Q| is at most 2^53, so it is also an exact float64.
type Value struct {
	Kind Kind
	Q    int64
}

// largest: beyond it a float64 no longer holds every whole number.
const largest = 1 << 53

// Entered is what the hand typed and what it is worth.
type Entered struct {
	Text  string // as typed, without outer blanks
	Unit  Unit   // typed, or the style's bare unit
	Bare  bool   // no unit was typed
	Step  int64  // one digit of the last place typed, in quanta; 0 when it cannot be told
	Value Value
}

// String is the text as typed, with the unit when it was left out.
func (e Entered) String() string {
	if e.Bare && e.Unit.Name() != "" {
		return e.Text + " " + e.Unit.Name()
	}
	return e.Text
}

// Style is what reading a number needs besides its text.
type Style struct {
	Want  Kind  // the kind a value must be of
	Bare  Unit  // the unit of a number without one; zero: a unit is required
	A4    int64 // reference for Hz written as a pitch, in µHz; 0 means 440 Hz (ISO 16)
	Point bool  // only a decimal point is one: inside […], {…} and formulas
}

// Float is the value in products of base quanta, as formulas take it: whole
// quanta for base kinds (exact), the number itself for plain kinds and scores
// counted in quanta of their own.
func (v Value) Float() float64 {
	for _, n := range named {
		if n.kind == v.Kind {
			if n.inverse != 0 {
				return float64(v.Q) / n.inverse // 3e8/1e9 is 0.3; 3e8*1e-9 is not
			}
			return float64(v.Q) * n.scale
		}
	}
	return 0
}
