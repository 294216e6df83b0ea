package quantity

import "math/big"

// Bound is one end of a tolerance, or its nominal. Q is rounded once from the
// exact sum of nominal and deviation. Set false: open.
type Bound struct {
	Q   int64
	Set bool
}

// Tolerance is what a target asks for: limits, both inside, and a nominal
// where one was written.
type Tolerance struct {
	Text               string // as written
	Kind               Kind
	Unit               Unit  // of the number it is written in, for showing
	Step               int64 // last place written, in quanta, for showing
	Nominal, Low, High Bound
}

// Side is where a value falls. A limit is inside.
type Side int8

const (
	Below  Side = -1
	Inside Side = 0
	Above  Side = 1
)

func (s Side) String() string {
	switch s {
	case Below:
		return "below"
	case Above:
		return "above"
	}
	return "inside"
}

// Side compares one value, in quanta.
func (t Tolerance) Side(q int64) Side { return t.SideOfSum(q, 1) }

// SideOfSum compares the mean of n readings, given as their sum, with the
// limits by whole numbers: the sum against n × the limit.
func (t Tolerance) SideOfSum(sum int64, n int) Side {
	switch {
	case t.Low.Set && compareProduct(sum, t.Low.Q, n) < 0:
		return Below
	case t.High.Set && compareProduct(sum, t.High.Q, n) > 0:
		return Above
	}
	return Inside
}

// OnLimit reports whether the mean of n readings lies exactly on a limit.
func (t Tolerance) OnLimit(sum int64, n int) bool {
	return t.Low.Set && compareProduct(sum, t.Low.Q, n) == 0 || t.High.Set && compareProduct(sum, t.High.Q, n) == 0
}

func compareProduct(sum, limit int64, n int) int {
	if n <= 512 && limit <= largest && limit >= -largest {
		p := limit * int64(n)
		switch {
		case sum < p:
			return -1
		case sum > p:
			return 1
		}
		return 0
	}
	p := new(big.Int).Mul(big.NewInt(limit), big.NewInt(int64(n)))
	return big.NewInt(sum).Cmp(p)
}

// String is the tolerance as written.
func (t Tolerance) String() string { return t.Text }

// Limits writes the limits in the tolerance's own unit: "1.28 to 1.33 mm",
// "at most 1.0 mm".
func (t Tolerance) Limits() string { return t.LimitsIn(t.Unit) }

// LimitsIn writes the limits in another unit of the kind, with all the digits
// they have there, at most six decimals.
func (t Tolerance) LimitsIn(u Unit) string {
	number := func(b Bound) string {
		v := Value{t.Kind, b.Q}
		shown := shownIn(v, u)
		if t.Kind == Pitch || shown.IsZero() || shown.Quanta() == nil {
			return Number(v, u, t.Step)
		}
		if t.Kind.Point {
			v.Q -= shown.Zero()
		}
		decimals := 6
		if u == t.Unit {
			if native(shown, t.Step) {
				return Number(Value{t.Kind, b.Q}, u, t.Step)
			}
			d, _ := places(shown, t.Step)
			decimals = d + 2 // 27 mm ± 1/64 in is no round number of mm
		}
		return decimal(new(big.Rat).Quo(big.NewRat(v.Q, 1), shown.Quanta()), decimals, false)
	}
	unit := ""
	switch n := shownIn(Value{Kind: t.Kind}, u).Name(); {
	case t.Kind == Pitch || n == "" || u.IsZero() && t.Kind == Time:
	case n == "°" || n == "′":
		unit = n
	default:
		unit = " " + n
	}
	switch {
	case t.Low.Set && t.High.Set && t.Low.Q == t.High.Q:
		return "exactly " + number(t.Low) + unit
	case t.Low.Set && t.High.Set:
		return number(t.Low) + " to " + number(t.High) + unit
	case t.High.Set:
		return "at most " + number(t.High) + unit
	case t.Low.Set:
		return "at least " + number(t.Low) + unit
	}
	return "anything"
}

// ParseAnyTolerance reads a tolerance whose unit tells its kind. The error is
// that of the kind the text comes closest to.
func ParseAnyTolerance(text string) (Tolerance, error) {
	var best *Error
	for _, n := range named {
		if n.kind.IsPlain() && n.kind != Ratio || n.kind == TempDiff || n.kind == Score {
			continue
		}
		t, err := ParseTolerance(text, Style{Want: n.kind})
		if err == nil {
			return t, nil
		}
		if e, ok := err.(*Error); ok && (best == nil || e.From > best.From) {
			best = e
		}
	}
	if t, err := ParseTolerance(text, Style{Want: Count}); err == nil {
		return t, nil
	}
	return Tolerance{}, best
}
