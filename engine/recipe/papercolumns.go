package recipe

import (
	"fmt"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

// columns looks at every target and setting: is it one number that is written
// twice, and in parts of an inch that a ruler has?
func (c *paperCheck) columns() {
	kinds := map[string]quantity.Kind{}
	for _, s := range c.Settings {
		kinds[s.Name] = s.Value.Value.Kind
	}
	for i := range c.File.settings {
		s := &c.File.settings[i]
		if c.full() {
			return
		}
		c.written(s.value, quantity.Style{Want: kinds[s.name.Value], Point: s.flow})
	}
	seen := map[*target]bool{}
	for _, s := range c.Aims {
		if c.full() {
			return
		}
		if t := s.Target.raw; !seen[t] {
			seen[t] = true
			c.written(t.tolerance, quantity.Style{Want: s.Target.Tolerance.Kind, Point: t.flow})
		}
	}
}

// written checks a value of one or two columns.
func (c *paperCheck) written(t diagnostic.Text, style quantity.Style) {
	if style.Want != quantity.Length && !strings.HasSuffix(t.Value, ")") {
		return // nothing but inches has odd parts
	}
	first, second, at := quantity.Columns(t.Value)
	one, err := quantity.PrintedIn(first, style)
	if err != nil {
		return
	}
	c.odd(t, one, 0)
	if second == "" {
		return
	}
	two, err := quantity.PrintedIn(second, style)
	if err != nil {
		return
	}
	c.odd(t, two, at)
	if len(one) != len(two) {
		c.warn("recipe/two-columns", t.Span(at, at+len([]rune(second))), "write as many numbers in the brackets as before them: 27 .. 30 mm (1 1/16 .. 1 3/16 in)",
			fmt.Sprintf("one column has %s, the other %s", numbers(len(one)), numbers(len(two))))
		return
	}
	for i := range one {
		c.pair(t, one[i], two[i], at, diagnostic.Warning)
	}
}

func numbers(n int) string {
	if n == 1 {
		return "one number"
	}
	return "a range"
}

// odd reports fractions of an inch that no ruler is marked in; the numbers
// stand at offset in the text.
func (c *paperCheck) odd(t diagnostic.Text, all []quantity.Printed, offset int) {
	for _, n := range all {
		if !n.Odd() {
			continue
		}
		hint := "rulers are marked in halves, 4ths, 8ths, 16ths, 32nds and 64ths of an inch"
		if s := slips(n.Text); len(s) > 0 && !s[0].guess {
			hint = "is " + s[0].text + " meant? " + hint
		}
		c.warn("recipe/odd-fraction", t.Span(offset+n.From, offset+n.To), hint, fmt.Sprintf("no ruler is marked in the parts of %s", clip(n.Text)))
	}
}

// pair compares the two columns of one number; the second stands at offset. As
// far apart as both may be rounded they are one number: a warning beyond that
// (worst), and a remark beyond what the finer one leaves room for. Inches are
// 25.4 mm exactly (NIST SP 811, 2008, B.8).
func (c *paperCheck) pair(t diagnostic.Text, a, b quantity.Printed, offset int, worst diagnostic.Severity) {
	apart := a.Value.Q - b.Value.Q
	if apart < 0 {
		apart = -apart
	}
	ra, rb := a.Rounding(), b.Rounding()
	finer := min(ra, rb)
	if finer == 0 {
		finer = max(ra, rb) // a wire gauge is not rounded
	}
	if 2*apart <= finer {
		return
	}
	k := a.Value.Kind
	d := diagnostic.Diagnostic{Code: "recipe/two-columns", Severity: diagnostic.Remark, Span: t.Span(offset+b.From, offset+b.To),
		Message: fmt.Sprintf("%s and %s%s are %s apart", shown(a), shown(b), in(b), amount(k, apart))}
	d.Hint = "the first counts"
	if 2*apart > ra+rb {
		d.Severity = worst
		d.Message += ", more than rounding explains"
		d.Hint += meant(a, b, finer)
	}
	d.Hint += marks(a, b)
	c.list.Add(d)
}

// in is the number in the kind's own unit, where that is not how it is printed.
func in(n quantity.Printed) string {
	if n.Unit == quantity.Main(n.Value.Kind) {
		return ""
	}
	return " (" + amount(n.Value.Kind, n.Value.Q) + ")"
}

// shown is the number with its unit, which may stand further on.
func shown(n quantity.Printed) string {
	if s := n.Unit.Name(); s != "" && !n.Bare && strings.TrimRight(n.Text, "0123456789") != n.Text {
		return clip(n.Text + " " + s)
	}
	return clip(n.String())
}

// meant says what would fit if one of the two has a slip.
func meant(a, b quantity.Printed, finer int64) string {
	fits := func(one, other quantity.Printed) (string, bool) {
		for _, s := range slips(one.Text) {
			e, err := quantity.Parse(s.text, quantity.Style{Want: one.Value.Kind, Bare: one.Unit})
			if err == nil && 2*abs(e.Value.Q-other.Value.Q) <= max(finer, one.Rounding()/8) {
				return e.String(), true
			}
		}
		return "", false
	}
	if s, ok := fits(b, a); ok {
		return "; " + s + " would fit beside " + shown(a)
	}
	if s, ok := fits(a, b); ok {
		return "; " + s + " would fit beside " + shown(b)
	}
	return ""
}

// marks says what of a ruler's 64ths is nearest to the one column, and what
// the other is in the first one's unit.
func marks(a, b quantity.Printed) string {
	metric, inch := a, b
	if a.Inch() {
		metric, inch = b, a
	}
	if !inch.Inch() || metric.Inch() || metric.Unit.Quanta() == nil {
		return ""
	}
	const mark = 25_400_000 / 64
	q := (metric.Value.Q + mark/2) / mark * mark
	out := "; nearest to " + shown(metric) + " is " + quantity.Format(quantity.Value{Kind: quantity.Length, Q: q}, inch.Unit, mark)
	if step := metric.Rounding(); step > 0 {
		out += ", to " + shown(inch) + " " + quantity.Format(inch.Value, metric.Unit, step)
	}
	return out
}

func abs(q int64) int64 {
	if q < 0 {
		return -q
	}
	return q
}

// claims: the text says that two numbers are one, "27 mm (1 1/16 in)" or
// "1/64 in = 1/2 mm".
func claims(r []rune, n, m quantity.Printed) bool {
	behind := between(r, n, m)
	closed := strings.HasPrefix(strings.TrimLeft(string(r[m.To:min(m.To+4, len(r))]), " "), ")")
	return (behind == "=" || behind == "(" && closed) && m.Value.Kind == n.Value.Kind && m.Unit != n.Unit && !hedged(r[:n.From])
}

// claimsRange: so it says of two ranges, "27 to 30 mm (1 1/16 to 1 3/16 in)".
func claimsRange(r []rune, n []quantity.Printed) bool {
	return ranges(r, n[0], n[1]) && ranges(r, n[2], n[3]) && (between(r, n[1], n[2]) == "(" || between(r, n[1], n[2]) == "=") &&
		n[0].Value.Kind == n[2].Value.Kind && n[0].Unit != n[2].Unit && !hedged(r[:n[0].From])
}

// between is what stands between two numbers, up to a few letters.
func between(r []rune, n, m quantity.Printed) string {
	return strings.TrimSpace(string(r[n.To:min(m.From, n.To+8)]))
}

// ranges: two numbers are the ends of a range.
func ranges(r []rune, n, m quantity.Printed) bool {
	return n.Unit == m.Unit && slices.Contains([]string{"to", "..", "…", "–", "—", "-"}, between(r, n, m))
}

// hedges: behind such a word a number claims nothing exact.
var hedges = []string{"about", "nearly", "roughly", "just", "under", "over", "almost", "ca", "ca.", "approx.", "around", "circa", "say", "~", "≈", "<", ">", "barely", "some", "plus", "minus", "less", "and", "to"}

// texts looks at instructions and at what the recipe says of itself: two
// readings of one number, "27 mm (1 1/16 in)" or "1/64 in = 1/2 mm", that are
// not one, and distances that are counted from nowhere.
func (c *paperCheck) texts() {
	c.text(c.File.aboutText, false)
	allStages(c.File.stages, func(s *stage) {
		for _, t := range s.do {
			if c.full() {
				return
			}
			c.text(t, true)
		}
	})
}

func (c *paperCheck) text(t diagnostic.Text, todo bool) {
	value := t.Value
	if len(value) > longestText {
		value = strings.ToValidUTF8(value[:longestText], "")
	}
	found := quantity.Find(value)
	if len(found) == 0 {
		return
	}
	r := []rune(value)
	c.odd(t, found, 0)
	todo = todo && !anchored.MatchString(value)
	for i, n := range found {
		if c.full() {
			return
		}
		if i+1 < len(found) && claims(r, n, found[i+1]) {
			c.pair(t, n, found[i+1], 0, diagnostic.Remark)
		}
		if i+3 < len(found) && claimsRange(r, found[i:i+4]) {
			c.pair(t, n, found[i+2], 0, diagnostic.Remark)
			c.pair(t, found[i+1], found[i+3], 0, diagnostic.Remark)
		}
		if todo && n.Value.Kind == quantity.Length {
			c.nowhere(t, value, r, n)
		}
	}
}

// longestText, in bytes, is how much of a text is looked at.
const longestText = 10_000

// hedged: the last word before a number takes its claim back, or the number is
// one of a sum.
func hedged(before []rune) bool {
	words := strings.Fields(strings.ToLower(string(before[max(0, len(before)-24):])))
	if len(words) == 0 {
		return false
	}
	last := words[len(words)-1]
	return slices.Contains(hedges, last) || strings.ContainsRune("+-−×*/±", []rune(last)[len([]rune(last))-1])
}
