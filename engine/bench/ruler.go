package bench

import (
	"math"
	"strconv"
	"strings"

	"canewright/engine/gauging"
	"canewright/engine/quantity"
)

// ruler writes numbers of a kind in one unit, as sums are done on paper.
type ruler struct {
	unit  string
	per   float64 // quanta in one unit; 0 for a kind without quanta
	zero  float64 // the unit's zero, quanta
	float float64 // products of base quanta in one unit, as formulas have them
}

// rulerOf is in unit u where that can be; notes are counted in cents from A4.
func rulerOf(k quantity.Kind, u quantity.Unit) ruler {
	if k.Scale() == 0 {
		return productRuler(k)
	}
	if u.Quanta() == nil || u.Kind().Difference() != k.Difference() || k == quantity.Pitch {
		u = quantity.Main(k)
		if k.Difference() == quantity.Interval {
			u = quantity.Main(quantity.Interval)
		}
	}
	if u.Quanta() == nil {
		return ruler{per: 1, float: k.Scale()}
	}
	per, _ := u.Quanta().Float64()
	r := ruler{unit: u.Name(), per: per, float: per * k.Scale()}
	if k.Point {
		r.zero = float64(u.Zero())
	}
	return r
}

// productRuler is for a kind that only lives inside formulas: mm⁴, N·mm.
func productRuler(k quantity.Kind) ruler {
	r := ruler{float: 1}
	var parts []string
	for i, b := range []quantity.Kind{quantity.Length, quantity.Mass, quantity.Force, quantity.Angle, quantity.Time,
		quantity.TempDiff, quantity.Interval, quantity.Frequency, quantity.Score} {
		n := int(k.Exp[i])
		if n == 0 {
			continue
		}
		per, _ := quantity.Main(b).Quanta().Float64()
		r.float *= math.Pow(per, float64(n))
		name := quantity.Main(b).Name()
		if n != 1 {
			name += strings.NewReplacer("-", "⁻", "0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹").Replace(strconv.Itoa(n))
		}
		parts = append(parts, name)
	}
	r.unit = strings.Join(parts, "·")
	return r
}

// difference is the ruler of differences of the same kind.
func (r ruler) difference() ruler { r.zero = 0; return r }

// at is the number of a value in quanta.
func (r ruler) at(q float64) float64 { return (q - r.zero) / r.per }

// of is the number of a value as formulas have it.
func (r ruler) of(v float64) float64 {
	if r.per == 0 {
		return v / r.float
	}
	return (v*r.per/r.float - r.zero) / r.per
}

// with puts the unit behind a number.
func (r ruler) with(x float64, figures int) string { return behindUnit(digits(x, figures), r.unit) }

func behindUnit(number, unit string) string {
	switch unit {
	case "":
		return number
	case "°", "′":
		return number + unit
	}
	return number + " " + unit
}

// Figures of a number: a mean, or a limit, needs more than an uncertainty, for
// they are subtracted from each other.
const (
	manyFigures = 8
	someFigures = 5
)

// digits writes a number with so many figures and no nought at the end.
func digits(x float64, figures int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strings.Replace(strconv.FormatFloat(x+0, 'f', -1, 64), "-0", "0", 1)
	}
	size := int(math.Floor(math.Log10(math.Abs(x))))
	if size < -9 || size > 14 {
		return minus(strconv.FormatFloat(x, 'g', figures, 64))
	}
	s := strconv.FormatFloat(x, 'f', max(figures-1-size, 0), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return minus(s)
}

func minus(s string) string { return strings.ReplaceAll(s, "-", "−") }

// bracketed puts a negative number between brackets, as it stands in a product.
func bracketed(x float64, figures int) string {
	s := digits(x, figures)
	if x < 0 {
		return "(" + s + ")"
	}
	return s
}

// percent writes a probability with two figures of what is left of certainty,
// or more.
func percent(p float64) string {
	rest := 100 * min(p, 1-p)
	switch {
	case p == 0 || p == 1:
		return strconv.FormatFloat(100*p, 'f', 0, 64) + " %"
	case rest < 1e-6 && p > 0.5:
		return "almost 100 %"
	case rest < 1e-6:
		return "almost 0 %"
	}
	places := max(1-int(math.Floor(math.Log10(rest))), 1)
	s := strconv.FormatFloat(100*p, 'f', places, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".") + " %"
}

// percentBeside writes a probability so that it does not read as another one
// that it is not.
func percentBeside(p, other float64) string {
	s := percent(p)
	for figures := 4; s == percent(other) && p != other && figures < 12; figures++ {
		s = digits(100*p, figures) + " %"
	}
	return s
}

// chance is P(T <= t) of the distribution verdicts are taken from: Student's t
// with this freedom, the normal where it has no end.
func chance(t, freedom float64) float64 {
	return gauging.JudgeMargin(gauging.Combined{Value: t, U: 1, Freedom: freedom}, t >= 0, 1).Probability
}

// distribution names it. From ten million degrees of freedom on the two agree
// to 1e-8 and the normal one is taken.
func distribution(freedom float64) (name, letter string) {
	if freedom > 1e7 {
		return "the normal distribution", "z"
	}
	return "Student's t with " + digits(freedom, 4) + " degrees of freedom", "t"
}
