package formula

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"canewright/engine/quantity"
)

const (
	longestNumber = 40      // digits; the same as package quantity reads
	largestNumber = 1 << 53 // beyond it a float64 no longer holds every whole number
	longestUnit   = 12      // runes
)

// number reads a literal whose digits start at i; the current place is there or
// at a sign before them.
func (s *scanner) number(i int) {
	end, ok := s.digits(i)
	if !ok {
		return
	}
	to, unit := s.unit(end)
	if to == 0 && s.rune(end) == '/' && !s.hasPoint(i, end) { // 1/8 in
		if k := s.skipDigits(end + 1); k > end+1 {
			if t, u := s.unit(k); t > 0 {
				end, to, unit = k, t, u
			}
		}
	}
	if to > 0 {
		s.measure(to, unit)
		return
	}
	if s.strayWord(end) {
		return
	}
	s.bare(end)
}

func (s *scanner) hasPoint(from, to int) bool {
	return slices.Contains(s.src[from:to], '.')
}

// digits finds the end of a decimal or of a whole number and a fraction.
func (s *scanner) digits(i int) (end int, ok bool) {
	j := s.skipDigits(i)
	switch {
	case s.rune(j) == ',' && digit(s.rune(j+1)):
		k := s.skipDigits(j + 1)
		s.refuse(BadNumber, s.at, k, "write a point: "+clip(s.text(i, j)+"."+s.text(j+1, k))+" (or a blank behind the comma between two values)", "a formula has no decimal comma")
		return 0, false
	case s.rune(j) == '.' && s.rune(j+1) != '.':
		k := s.skipDigits(j + 1)
		if k == j+1 || s.rune(k) == '.' && digit(s.rune(k+1)) {
			s.refuse(BadNumber, s.at, s.wordEnd(k), "", "%s is not a number", clip(s.text(s.at, s.wordEnd(k))))
			return 0, false
		}
		if s.rune(k) == ',' && digit(s.rune(k+1)) {
			s.refuse(BadNumber, s.at, s.skipDigits(k+1), "write it without the comma", "a formula has no thousands separator")
			return 0, false
		}
		return k, true
	}
	if k := s.skipBlanks(j); k > j { // 1 1/8
		if m := s.skipDigits(k); m > k && s.rune(m) == '/' {
			if n := s.skipDigits(m + 1); n > m+1 {
				return n, true
			}
		}
	}
	return j, true
}

// unit finds the longest unit behind a number that ends at i; to is 0 when
// there is none.
func (s *scanner) unit(i int) (to int, u quantity.Unit) {
	from := s.skipBlanks(i)
	for to := min(len(s.src), from+longestUnit); to > from; to-- {
		last, next := s.src[to-1], s.rune(to)
		if wordly(last) && (wordly(next) || next == '²' || next == '³' || next == '.' && wordly(s.rune(to+1))) {
			continue
		}
		if u, ok := quantity.UnitNamed(s.text(from, to)); ok {
			return to, u
		}
	}
	return 0, quantity.Unit{}
}

// measure puts a number with its unit; the unit ends at to.
func (s *scanner) measure(to int, unit quantity.Unit) {
	if unit.Kind() == quantity.Time { // 1 h 30 min
		for {
			i := s.skipBlanks(to)
			j := s.skipDigits(i)
			t, u := s.unit(j)
			if j == i || t == 0 || u.Kind() != quantity.Time {
				break
			}
			to = t
		}
	}
	o := operand{to: to, text: s.text(s.at, to), literal: true, kind: unit.Kind()}
	v, err := quantity.Parse(o.text, quantity.Style{Want: o.kind, Point: true})
	if err != nil {
		s.badNumber(s.at, to, err)
		return
	}
	o.value = v.Value.Float()
	s.put(o)
}

// bare puts a number without a unit, which ends at end.
func (s *scanner) bare(end int) {
	o := operand{to: end, text: s.text(s.at, end), literal: true, bare: true, kind: quantity.Ratio}
	if end-s.at > longestNumber {
		s.refuse(BadNumber, s.at, end, "", "this number is too long")
		return
	}
	if strings.Contains(o.text, "/") {
		v, err := quantity.Parse(o.text, quantity.Style{Want: quantity.Ratio, Bare: quantity.Bare(quantity.Ratio), Point: true})
		if err != nil {
			s.badNumber(s.at, end, err)
			return
		}
		o.value = v.Value.Float()
	} else {
		v, err := strconv.ParseFloat(o.text, 64)
		if err != nil || v > largestNumber {
			s.refuse(BadNumber, s.at, end, "", "this number is too large")
			return
		}
		o.value = v
		o.whole = v == float64(int64(v))
	}
	s.put(o)
}

// badNumber hands on what package quantity says, at its place.
func (s *scanner) badNumber(from, to int, err error) {
	var e *quantity.Error
	if !errors.As(err, &e) {
		s.refuse(BadNumber, from, to, "", "%v", err)
		return
	}
	s.refuse(BadNumber, min(from+e.From, to), min(from+max(e.To, e.From), to), e.Hint, "%s", e.Message)
}

// strayWord reports a word behind a number that is no unit and nothing else.
func (s *scanner) strayWord(end int) bool {
	i := s.skipBlanks(end)
	if !letter(s.rune(i)) && s.rune(i) != '°' {
		return false
	}
	j := i + 1
	if letter(s.src[i]) {
		j = s.wordEnd(i)
	}
	for wordly(s.rune(j)) || unicode.IsNumber(s.rune(j)) {
		j++
	}
	w := s.text(i, j)
	if i > end {
		_, known := s.scope.Lookup(w)
		if known || slices.Contains(operators, w) || slices.Contains(calls, w) || slices.Contains(foreign, w) || w == "true" || w == "false" || s.scope.Grid(w) || s.function(w) != nil || s.noteEnd(i) > 0 {
			return false
		}
	}
	if _, known := s.scope.Lookup(w); i == end && (known || strings.Contains(w, ".")) {
		s.refuse(Syntax, i, j, "", "put a blank or an operator before %s", clip(w))
		return true
	}
	s.refuse(BadNumber, i, j, unitLike(s.text(s.at, end)+" "+w), "%s is not a unit", clip(w))
	return true
}

// unitLike asks package quantity what a misspelt unit may have been.
func unitLike(text string) string {
	for _, name := range quantity.KindNames() {
		k, _ := quantity.KindNamed(name)
		_, err := quantity.Parse(text, quantity.Style{Want: k, Point: true})
		var e *quantity.Error
		if errors.As(err, &e) && strings.HasPrefix(e.Hint, "did you mean ") {
			return e.Hint
		}
	}
	return ""
}

// signedPoint reads -5 °C: a point on a scale has no negative, so its sign is
// part of the literal.
func (s *scanner) signedPoint() bool {
	i := s.skipBlanks(s.at + 1)
	j := s.skipDigits(i)
	if s.rune(j) == '.' {
		j = s.skipDigits(j + 1)
	}
	if j == i {
		return false
	}
	to, u := s.unit(j)
	if to == 0 || !u.Kind().Point {
		return false
	}
	s.number(i)
	return true
}

// noteEnd is where the note that starts at i ends, or 0: F4, Bb3, F#4.
func (s *scanner) noteEnd(i int) int {
	if r := s.rune(i); r < 'A' || r > 'G' {
		return 0
	}
	j := i + 1
	switch s.rune(j) {
	case '#', '♯', 'b', '♭':
		j++
	}
	if !digit(s.rune(j)) || wordly(s.rune(j+1)) || s.rune(j+1) == '.' && wordly(s.rune(j+2)) {
		return 0
	}
	return j + 1
}

func (s *scanner) note() bool {
	end := s.noteEnd(s.at)
	if end == 0 {
		return false
	}
	v, err := quantity.Parse(s.text(s.at, end), quantity.Style{Want: quantity.Pitch, Point: true})
	if err != nil {
		s.badNumber(s.at, end, err)
		return true
	}
	s.put(operand{to: end, literal: true, kind: quantity.Pitch, value: v.Value.Float()})
	return true
}
