package paper

import (
	"math/big"
	"strconv"
	"strings"

	"canewright/engine/quantity"
)

// The inch is 25.4 mm exactly (NIST SP 811 (2008), B.6), in nm; so a 64th is a
// whole number of nm.
const (
	inch       = 25_400_000
	sixtyforth = inch / 64
	millimetre = 1_000_000
)

// finest is how many decimals are ever printed of an inch or a mm.
const finest = 5

// said is a tolerance in the system its author did not write it in. Empty texts
// say nothing.
type said struct {
	Nominal string // "about 1.063 in"
	Limits  string // "1.044 to 1.082 in"
	Marks   string // on a rule of 64ths: "1 3/64 to 1 5/64 in"
}

// other says a length's tolerance in inches, and one written in inches in mm.
//
// A nominal gets as many figures as it was written with, and one more where its
// first figure is the smaller one (rounding of converted values, NIST SP 1038
// (2006); from memory). A limit is rounded inward, so that what is inside as
// printed is inside as written (for maximums and minimums "in a way that does
// not violate the original limits", ASME A112.18.1-2018, annex A.2 e). One figure
// more is given where the last place is more than a tenth of the tolerance.
func other(t quantity.Tolerance, ruler bool) said {
	if t.Kind != quantity.Length || far(t.Nominal) || far(t.Low) || far(t.High) {
		return said{}
	}
	var s said
	unit, one := "in", int64(inch)
	if n := t.Unit.Name(); n == "in" || n == "thou" {
		unit, one = "mm", millimetre
	}
	figure := func(q int64) int { return places(q, t.Unit, t.Step, one) }
	if t.Nominal.Set {
		s.Nominal = "about " + rounded(t.Nominal.Q, one, figure(t.Nominal.Q), 0) + " " + unit
	}
	if t.Nominal.Set && t.Nominal.Q == 0 {
		s.Nominal = "0 " + unit
	}
	low, high := "", ""
	d := 0
	for _, b := range []quantity.Bound{t.Low, t.High} {
		if b.Set {
			d = max(d, figure(b.Q))
		}
	}
	if t.Low.Set && t.High.Set {
		if d < finest && one/tens(d)*10 > t.High.Q-t.Low.Q {
			d++
		}
		for d < finest && inward(t.Low.Q, one, d, 1) > inward(t.High.Q, one, d, -1) {
			d++
		}
	}
	if t.Low.Set {
		low = rounded(t.Low.Q, one, d, 1)
	}
	if t.High.Set {
		high = rounded(t.High.Q, one, d, -1)
	}
	crossed := false
	if t.Low.Set && t.High.Set { // nothing, or one value alone, may be left
		l, h := steps(t.Low.Q, one, d, 1), steps(t.High.Q, one, d, -1)
		crossed = l > h || l == h && t.Low.Q < t.High.Q
	}
	s.Limits = between(low, high, unit)
	if crossed {
		s.Limits = ""
	}
	if ruler && unit == "in" {
		s.Marks = onRule(t)
	}
	return s
}

// far is beyond what a bench measures, a kilometre; whole numbers could overflow.
func far(b quantity.Bound) bool { return b.Set && (b.Q > 1e12 || b.Q < -1e12) }

func between(low, high, unit string) string {
	switch {
	case low != "" && high != "":
		return low + " to " + high + " " + unit
	case low != "":
		return "at least " + low + " " + unit
	case high != "":
		return "at most " + high + " " + unit
	}
	return ""
}

// onRule is the marks of a rule of 64ths that lie inside.
func onRule(t quantity.Tolerance) string {
	low, high := ceil(t.Low.Q, sixtyforth), floor(t.High.Q, sixtyforth)
	switch {
	case t.Low.Set && t.High.Set && low > high:
		return "no mark of 1/64 in lies inside"
	case t.Low.Set && t.High.Set && low == high:
		return sixtyfourths(low) + " in alone"
	}
	l, h := "", ""
	if t.Low.Set {
		l = sixtyfourths(low)
	}
	if t.High.Set {
		h = sixtyfourths(high)
	}
	return between(l, h, "in")
}

func sixtyfourths(k int64) string {
	sign := ""
	if k < 0 {
		sign, k = "−", -k
	}
	part := big.NewRat(k%64, 64)
	switch {
	case part.Sign() == 0:
		return sign + strconv.FormatInt(k/64, 10)
	case k < 64:
		return sign + part.String()
	}
	return sign + strconv.FormatInt(k/64, 10) + " " + part.String()
}

// places is how many decimals of the other unit a value written in unit to
// step is worth.
func places(q int64, unit quantity.Unit, step, one int64) int {
	text := strings.TrimLeft(quantity.Number(quantity.Value{Kind: quantity.Length, Q: q}, unit, step), "−-+")
	figures, first := significant(text)
	switch {
	case q == 0:
		return 2
	case strings.Contains(text, "/") || unit.Quanta() == nil || figures == 0:
		figures, first = 4, '0' // as a caliper shows it
	}
	value := new(big.Rat).Abs(big.NewRat(q, one))
	exponent := 0
	for ten := big.NewRat(10, 1); value.Cmp(ten) >= 0; exponent++ {
		value.Quo(value, ten)
	}
	for unity, ten := big.NewRat(1, 1), big.NewRat(10, 1); value.Cmp(unity) < 0; exponent-- {
		value.Mul(value, ten)
	}
	if lead := value.FloatString(9)[0]; lead < first {
		figures++
	}
	return min(max(figures-1-exponent, 0), finest)
}

// significant counts the figures of a number and gives the first.
func significant(text string) (n int, first byte) {
	for i := range len(text) {
		c := text[i]
		if c < '0' || c > '9' || n == 0 && c == '0' {
			continue
		}
		if n == 0 {
			first = c
		}
		n++
	}
	return n, first
}

// rounded writes q with d decimals of a unit: to nearest, or up (1) or down (-1).
func rounded(q, one int64, d, way int) string {
	n := steps(q, one, d, way)
	if n == 0 {
		return "0"
	}
	return strings.Replace(big.NewRat(n, tens(d)).FloatString(d), "-", "−", 1)
}

// inward is the nm that rounded writes; rounded up to a whole nm for a lower
// limit, down for an upper.
func inward(q, one int64, d, way int) int64 {
	n := steps(q, one, d, way)
	if way > 0 {
		return ceil(n*one, tens(d))
	}
	return floor(n*one, tens(d))
}

func steps(q, one int64, d, way int) int64 {
	p := q * tens(d)
	switch way {
	case 1:
		return ceil(p, one)
	case -1:
		return floor(p, one)
	}
	return floor(2*p+one, 2*one)
}

func tens(d int) int64 {
	n := int64(1)
	for range d {
		n *= 10
	}
	return n
}

func floor(a, b int64) int64 {
	n := a / b
	if a%b != 0 && a < 0 {
		n--
	}
	return n
}

func ceil(a, b int64) int64 { return -floor(-a, b) }
