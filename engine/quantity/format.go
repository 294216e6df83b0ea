package quantity

import (
	"math/big"
	"strconv"
	"strings"
)

// Format writes v in u with as many decimals as step (in quanta) has in that
// unit: 1.30 mm stays 1.30 mm, and 1 1/8 in with a step of 1/8 in stays so.
// Step 0 writes all digits the value has, at most nine decimals. A pitch is
// written as a note, a time in its parts when u is the zero Unit; a wire gauge
// is written only for a value that is one, else mm.
func Format(v Value, u Unit, step int64) string {
	u = shownIn(v, u)
	s := Number(v, u, step)
	if v.Kind == Pitch || u.IsZero() {
		return s
	}
	switch n := u.Name(); n {
	case "":
		return s
	case "°", "′":
		return s + n
	default:
		return s + " " + n
	}
}

// Number is Format without the unit.
func Number(v Value, u Unit, step int64) string {
	u = shownIn(v, u)
	switch {
	case v.Kind == Pitch:
		return formatPitch(v.Q, step)
	case u.IsZero() && v.Kind == Time:
		return formatTime(v.Q, step)
	case u.IsZero(): // a kind without a name: it has no unit
		return strconv.FormatInt(v.Q, 10)
	case u.Quanta() == nil:
		g, _ := gaugeOf(v.Q)
		return strconv.FormatInt(g, 10)
	}
	q := v.Q
	if v.Kind.Point {
		q -= u.Zero()
	}
	d, den := places(u, step)
	r := new(big.Rat).Quo(big.NewRat(q, 1), u.Quanta())
	if den == 0 {
		return decimal(r, d, step > 0)
	}
	k, ok := round(new(big.Rat).Mul(r, big.NewRat(den, 1)))
	if !ok || !isWhole(u, k, den, q) {
		return decimal(r, d+1, true) // between two marks of the scale
	}
	if v.Kind == Time || v.Kind == Angle {
		return decimal(r, enough(u, q, d), true)
	}
	return fraction(k, den)
}

// shownIn is the unit v is really written in.
func shownIn(v Value, u Unit) Unit {
	if u.IsZero() && v.Kind != Time {
		return Main(v.Kind)
	}
	if !u.IsZero() && u.Quanta() == nil {
		if _, is := gaugeOf(v.Q); !is {
			return Main(v.Kind)
		}
	}
	return u
}

// gaugeOf is the wire gauge of a diameter in nm.
func gaugeOf(q int64) (int64, bool) {
	for g := int64(0); g <= thinnest; g++ {
		if gaugeQuanta(g) == q {
			return g, true
		}
	}
	return 0, false
}

// Main is the unit a kind is shown in when nobody chose one.
func Main(k Kind) Unit {
	switch k {
	case Ratio, Count, Score:
		return Bare(k)
	case Humidity:
		return Unit{unitByName["%"]}
	case TempDiff:
		return Unit{unitByName["K"]}
	}
	if us := UnitsOf(k); len(us) > 0 {
		return us[0]
	}
	return Unit{}
}

// places: the fewest decimals whose last place in u is no coarser than step,
// more where the step itself needs them (0.25 mm); or, where the step is one
// part in den of the unit that decimals do not write (1/64 in, 1/3), that den.
func places(u Unit, step int64) (decimals int, den int64) {
	if step <= 0 {
		return 9, 0
	}
	// Half a quantum of slack: a step is a whole number of quanta, and one of
	// 0.0001 in was rounded to be so.
	s := new(big.Rat).Add(big.NewRat(step, 1), big.NewRat(1, 2))
	place := u.Quanta()
	ten := big.NewRat(10, 1)
	for place.Cmp(s) > 0 && decimals < 15 {
		place.Quo(place, ten)
		decimals++
	}
	if multiple(step, place) {
		return decimals, 0
	}
	n, ok := round(new(big.Rat).Quo(u.Quanta(), big.NewRat(step, 1)))
	if !ok || n < 2 || n > finestPart {
		return decimals, 0
	}
	if one, ok := round(new(big.Rat).Quo(u.Quanta(), big.NewRat(n, 1))); !ok || one != step {
		return decimals, 0
	}
	if u.d != unitByName["in"] || n&(n-1) != 0 {
		for more, tens := 1, int64(10); more <= 7; more, tens = more+1, tens*10 { // 1/128 has seven decimals
			if tens%n == 0 {
				return max(more, decimals), 0
			}
		}
	}
	return decimals, n
}

// multiple: step is a whole number of places, to half a quantum.
func multiple(step int64, place *big.Rat) bool {
	r := new(big.Rat).Quo(big.NewRat(step, 1), place)
	n, ok := round(r)
	if !ok || n == 0 {
		return ok && step <= 1
	}
	r.Sub(new(big.Rat).Mul(big.NewRat(n, 1), place), big.NewRat(step, 1))
	return r.Abs(r).Cmp(big.NewRat(1, 2)) <= 0
}

// native: step is a whole number of last places of u, or a part of u; not the
// step of another unit.
func native(u Unit, step int64) bool {
	d, den := places(u, step)
	if step <= 0 || den != 0 {
		return true
	}
	place := u.Quanta()
	for range d {
		place.Quo(place, big.NewRat(10, 1))
	}
	return multiple(step, place)
}

// isWhole: q is k parts in den of the unit, rounded as Parse rounds.
func isWhole(u Unit, k, den, q int64) bool {
	n, ok := round(new(big.Rat).Mul(big.NewRat(k, den), u.Quanta()))
	return ok && n == q
}

// enough is the fewest decimals, at least d, that read back as q.
func enough(u Unit, q int64, d int) int {
	for ; d < 15; d++ {
		r, _ := new(big.Rat).SetString(new(big.Rat).Quo(big.NewRat(q, 1), u.Quanta()).FloatString(d))
		if n, ok := round(r.Mul(r, u.Quanta())); ok && n == q {
			break
		}
	}
	return d
}

// fraction writes k/den as a whole number and a fraction in lowest terms.
func fraction(k, den int64) string {
	sign := ""
	if k < 0 {
		sign, k = "-", -k
	}
	whole, rest := k/den, big.NewRat(k%den, den)
	switch {
	case rest.Sign() == 0:
		return sign + strconv.FormatInt(whole, 10)
	case whole == 0:
		return sign + rest.String()
	}
	return sign + strconv.FormatInt(whole, 10) + " " + rest.String()
}

// decimal writes r with d decimals, halves away from zero; keep says whether
// trailing zeros stay.
func decimal(r *big.Rat, d int, keep bool) string {
	s := r.FloatString(d)
	if !keep && strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// formatTime writes a time in its parts, "2 d 4 h", "1 h 30 min", to the
// nearest step; 0 leaves no part out.
func formatTime(q, step int64) string {
	neg := ""
	if q < 0 {
		neg, q = "-", -q
	}
	if step > 1 {
		q = (q + step/2) / step * step
	}
	parts := []struct {
		name string
		ms   int64
	}{{"d", 86400000}, {"h", 3600000}, {"min", 60000}, {"s", 1000}, {"ms", 1}}
	if week := int64(604800000); q != 0 && q%week == 0 { // 10 d, not 1 week 3 d
		n := q / week
		if n == 1 {
			return neg + "1 week"
		}
		return neg + strconv.FormatInt(n, 10) + " weeks"
	}
	var out []string
	for _, p := range parts {
		if n := q / p.ms; n > 0 {
			out = append(out, strconv.FormatInt(n, 10)+" "+p.name)
			q -= n * p.ms
		}
	}
	if len(out) == 0 {
		return "0 s"
	}
	return neg + strings.Join(out, " ")
}
