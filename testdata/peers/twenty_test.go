package peers

import (
	"strings"
)

// peerRule is a rule in the forms of all engines, and what it should answer.
type peerRule struct {
	ours string // as a recipe has it
	bare string // in millimetres, as expr has it; cel-go and grule spell it otherwise
	// rego holds the bodies of which one must hold: rego has no "or".
	rego []string
	want func(x *exact, v vector) bool
}

// vector holds one value for each of many, in whole micrometres.
type vector [10]int64

// The places in a vector, in the order of many.
const (
	centre = iota
	side
	firstEnd
	secondEnd
	wire1
	wire2
	wire3
	tipWidth
	tipOpening
	overall
)

// exact compares whole numbers and notes when both sides are equal: there a
// floating-point engine answers by luck.
type exact struct{ edge bool }

func (x *exact) atLeast(a, b int64) bool {
	x.edge = x.edge || a == b
	return a >= b
}

func (x *exact) above(a, b int64) bool {
	x.edge = x.edge || a == b
	return a > b
}

func (x *exact) between(a, low, high int64) bool {
	return x.atLeast(a, low) && x.atLeast(high, a)
}

func apart(a, b int64) int64 { return max(a-b, b-a) }

// twenty rules of an invented reed. The answers wanted are worked out apart from
// every engine, in whole micrometres; divisions are multiplied out.
func twenty() []peerRule {
	return []peerRule{
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre - gouge.side >= 0.10", nil,
			func(x *exact, v vector) bool { return x.atLeast(v[centre]-v[side], 100) }},
		{"abs(gouge.first_end - gouge.second_end) <= 0.05 mm", "abs(gouge.first_end - gouge.second_end) <= 0.05", nil,
			func(x *exact, v vector) bool { return x.atLeast(50, apart(v[firstEnd], v[secondEnd])) }},
		{"(gouge.first_end + gouge.second_end) / 2 <= gouge.centre + 0.02 mm", "(gouge.first_end + gouge.second_end) / 2.0 <= gouge.centre + 0.02", nil,
			func(x *exact, v vector) bool { return x.atLeast(2*v[centre]+40, v[firstEnd]+v[secondEnd]) }},
		{"max(gouge.first_end, gouge.second_end) <= 1.36 mm", "max(gouge.first_end, gouge.second_end) <= 1.36", nil,
			func(x *exact, v vector) bool { return x.atLeast(1360, max(v[firstEnd], v[secondEnd])) }},
		{"min(gouge.first_end, gouge.second_end) >= 1.24 mm", "min(gouge.first_end, gouge.second_end) >= 1.24", nil,
			func(x *exact, v vector) bool { return x.atLeast(min(v[firstEnd], v[secondEnd]), 1240) }},
		{"between(gouge.side, 1.02 mm, 1.18 mm)", "gouge.side >= 1.02 and gouge.side <= 1.18", nil,
			func(x *exact, v vector) bool { return x.between(v[side], 1020, 1180) }},
		{"wire.first - wire.second >= 7.5 mm", "wire.first - wire.second >= 7.5", nil,
			func(x *exact, v vector) bool { return x.atLeast(v[wire1]-v[wire2], 7500) }},
		{"wire.second - wire.third >= 14 mm", "wire.second - wire.third >= 14.0", nil,
			func(x *exact, v vector) bool { return x.atLeast(v[wire2]-v[wire3], 14000) }},
		{"abs(wire.first - wire.second - 8 mm) <= 0.6 mm", "abs(wire.first - wire.second - 8.0) <= 0.6", nil,
			func(x *exact, v vector) bool { return x.atLeast(600, apart(v[wire1]-v[wire2], 8000)) }},
		{"between(wire.third, 4.3 mm, 5.4 mm)", "wire.third >= 4.3 and wire.third <= 5.4", nil,
			func(x *exact, v vector) bool { return x.between(v[wire3], 4300, 5400) }},
		{"wire.first > 26.4 mm and wire.first < 27.6 mm", "wire.first > 26.4 and wire.first < 27.6", nil,
			func(x *exact, v vector) bool { return x.above(v[wire1], 26400) && x.above(27600, v[wire1]) }},
		{"wire.second < 18.6 mm or wire.first - wire.second > 8.2 mm", "wire.second < 18.6 or wire.first - wire.second > 8.2", nil,
			func(x *exact, v vector) bool { return x.above(18600, v[wire2]) || x.above(v[wire1]-v[wire2], 8200) }},
		{"overall - wire.first >= 28 mm", "overall - wire.first >= 28.0", nil,
			func(x *exact, v vector) bool { return x.atLeast(v[overall]-v[wire1], 28000) }},
		{"(overall - wire.first) * 2 > 57 mm", "(overall - wire.first) * 2.0 > 57.0", nil,
			func(x *exact, v vector) bool { return x.above(2*(v[overall]-v[wire1]), 57000) }},
		{"tip.width >= 13.8 mm and tip.width <= 15.2 mm", "tip.width >= 13.8 and tip.width <= 15.2", nil,
			func(x *exact, v vector) bool { return x.between(v[tipWidth], 13800, 15200) }},
		{"tip.opening * 20 > tip.width or tip.opening >= 0.80 mm", "tip.opening * 20.0 > tip.width or tip.opening >= 0.80", nil,
			func(x *exact, v vector) bool {
				return x.above(20*v[tipOpening], v[tipWidth]) || x.atLeast(v[tipOpening], 800)
			}},
		{"not (tip.opening > 0.95 mm)", "not (tip.opening > 0.95)", []string{"not tip.opening > 0.95"},
			func(x *exact, v vector) bool { return !x.above(v[tipOpening], 950) }},
		{"max(gouge.centre - gouge.side, gouge.first_end - gouge.side) < 0.25 mm", "max(gouge.centre - gouge.side, gouge.first_end - gouge.side) < 0.25", nil,
			func(x *exact, v vector) bool {
				return x.above(250, max(v[centre]-v[side], v[firstEnd]-v[side]))
			}},
		{"overall >= 54 mm and overall <= 56.5 mm and tip.opening > 0.5 mm", "overall >= 54.0 and overall <= 56.5 and tip.opening > 0.5", nil,
			func(x *exact, v vector) bool {
				return x.between(v[overall], 54000, 56500) && x.above(v[tipOpening], 500)
			}},
		{"(overall - wire.first) / tip.width >= 1.95", "(overall - wire.first) / tip.width >= 1.95", nil,
			func(x *exact, v vector) bool { return x.atLeast(100*(v[overall]-v[wire1]), 195*v[tipWidth]) }},
	}
}

// edges are rules whose two sides are equal to the last digit, over readings as
// they are typed, and what they should answer.
type edgeCase struct {
	peerRule
	says string // with the numbers put in
	v    vector
}

func edges() []edgeCase {
	at := func(where ...int64) vector { // place, µm, place, µm …
		var v vector
		for i := range v {
			v[i] = 1000
		}
		for i := 0; i < len(where); i += 2 {
			v[where[i]] = where[i+1]
		}
		return v
	}
	return []edgeCase{
		{peerRule{"wire.first <= wire.second + 0.04 mm", "wire.first <= wire.second + 0.04", nil,
			func(x *exact, v vector) bool { return x.atLeast(v[wire2]+40, v[wire1]) }},
			"10.05 <= 10.01 + 0.04", at(wire1, 10050, wire2, 10010)},
		{peerRule{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre - gouge.side >= 0.10", nil,
			func(x *exact, v vector) bool { return x.atLeast(v[centre]-v[side], 100) }},
			"1.30 - 1.20 >= 0.10", at(centre, 1300, side, 1200)},
		{peerRule{"gouge.centre + gouge.side <= 0.3 mm", "gouge.centre + gouge.side <= 0.3", nil,
			func(x *exact, v vector) bool { return x.atLeast(300, v[centre]+v[side]) }},
			"0.1 + 0.2 <= 0.3", at(centre, 100, side, 200)},
		{peerRule{"abs(gouge.first_end - gouge.second_end) <= 0.05 mm", "abs(gouge.first_end - gouge.second_end) <= 0.05", nil,
			func(x *exact, v vector) bool { return x.atLeast(50, apart(v[firstEnd], v[secondEnd])) }},
			"abs(1.31 - 1.36) <= 0.05", at(firstEnd, 1310, secondEnd, 1360)},
		{peerRule{"wire.first - wire.second > 7.6 mm", "wire.first - wire.second > 7.6", nil,
			func(x *exact, v vector) bool { return x.above(v[wire1]-v[wire2], 7600) }},
			"26.8 - 19.2 > 7.6", at(wire1, 26800, wire2, 19200)},
		{peerRule{"tip.opening * 3 <= 3.3 mm", "tip.opening * 3.0 <= 3.3", nil,
			func(x *exact, v vector) bool { return x.atLeast(3300, 3*v[tipOpening]) }},
			"1.1 * 3 <= 3.3", at(tipOpening, 1100)},
		{peerRule{"(gouge.first_end + gouge.second_end) / 2 <= gouge.centre", "(gouge.first_end + gouge.second_end) / 2.0 <= gouge.centre", nil,
			func(x *exact, v vector) bool { return x.atLeast(2*v[centre], v[firstEnd]+v[secondEnd]) }},
			"(1.29 + 1.34) / 2 <= 1.315", at(firstEnd, 1290, secondEnd, 1340, centre, 1315)},
		{peerRule{"max(gouge.first_end, gouge.second_end) - gouge.side < 0.15 mm", "max(gouge.first_end, gouge.second_end) - gouge.side < 0.15", nil,
			func(x *exact, v vector) bool { return x.above(150, max(v[firstEnd], v[secondEnd])-v[side]) }},
			"max(1.28, 1.25) - 1.13 < 0.15", at(firstEnd, 1280, secondEnd, 1250, side, 1130)},
		{peerRule{"(overall - wire.first) / tip.width >= 1.9", "(overall - wire.first) / tip.width >= 1.9", nil,
			func(x *exact, v vector) bool { return x.atLeast(10*(v[overall]-v[wire1]), 19*v[tipWidth]) }},
			"(54.3 - 27.13) / 14.3 >= 1.9", at(overall, 54300, wire1, 27130, tipWidth, 14300)},
		{peerRule{"between(gouge.centre - gouge.side, 0.12 mm, 0.25 mm)", "gouge.centre - gouge.side >= 0.12 and gouge.centre - gouge.side <= 0.25", nil,
			func(x *exact, v vector) bool { return x.between(v[centre]-v[side], 120, 250) }},
			"between(1.27 - 1.15, 0.12, 0.25)", at(centre, 1270, side, 1150)},
	}
}

// celForm spells a bare rule as cel-go does.
func celForm(bare string) string {
	return strings.NewReplacer(" and ", " && ", " or ", " || ", "not (", "!(",
		"abs(", "math.abs(", "max(", "math.greatest(", "min(", "math.least(").Replace(bare)
}

// gruleForm spells it as grule does, whose facts are fields of a struct.
func gruleForm(bare string) string {
	s := strings.NewReplacer(" and ", " && ", " or ", " || ", "not (", "!(",
		"abs(", "Abs(", "max(", "Max(", "min(", "Min(").Replace(bare)
	return named(s, func(n string) string { return "Reed." + fieldOf(n) })
}

// regoForms are the bodies of a rule in rego, of which one must hold.
func regoForms(r peerRule) []string {
	bodies := r.rego
	if bodies == nil {
		bodies = strings.Split(r.bare, " or ")
	}
	out := make([]string, len(bodies))
	for i, b := range bodies {
		b = strings.ReplaceAll(b, " and ", "; ")
		for _, f := range []string{"max(", "min("} { // rego's take one list
			if from := strings.Index(b, f); from >= 0 {
				to := from + strings.Index(b[from:], ")")
				b = b[:from] + f + "[" + b[from+len(f):to] + "]" + b[to:]
			}
		}
		out[i] = named(b, func(n string) string { return "input." + n })
	}
	return out
}

// named puts another name in the place of every dimension's.
func named(s string, as func(string) string) string {
	pairs := make([]string, 0, 2*len(many))
	for _, n := range many {
		pairs = append(pairs, n, as(n))
	}
	return strings.NewReplacer(pairs...).Replace(s)
}

// fieldOf: gouge.first_end is GougeFirstEnd.
func fieldOf(name string) string {
	var b strings.Builder
	for _, w := range strings.FieldsFunc(name, func(r rune) bool { return r == '.' || r == '_' }) {
		b.WriteString(strings.ToUpper(w[:1]) + w[1:])
	}
	return b.String()
}
