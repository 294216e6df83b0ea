package quantity

import "strings"

// Find lists the numbers with a unit that stand in a text, in order: "Mark the
// wire at 27 mm (1 1/16 in)" has two. In "27 to 30 mm" both numbers have the
// unit. It would rather miss one than take a word for a unit: "put 3 in water"
// has none.
func Find(text string) []Printed {
	if !strings.ContainsAny(text, "0123456789") {
		return nil
	}
	p := &parser{src: []rune(text), target: true}
	for i, r := range p.src {
		if strings.ContainsRune("()[]:?!", r) {
			p.src[i] = ';' // a unit ends there
		}
	}
	var out []Printed
	var waiting *loose // the first number of a range, which has no unit yet
	for p.at < len(p.src) {
		if !isDigit(p.peek()) || p.at > 0 && joined(p.src[p.at-1]) {
			p.at++
			continue
		}
		start := p.at
		l, ok := p.found()
		if !ok {
			p.at = max(p.at, start+1)
			for p.at < len(p.src) && isDigit(p.peek()) {
				p.at++
			}
			waiting = nil
			continue
		}
		if l.unit.IsZero() {
			waiting = nil
			if p.rangeGoesOn() {
				waiting = l
			}
			continue
		}
		for _, n := range []*loose{waiting, l} {
			if n == nil {
				continue
			}
			n.unitFrom(l)
			q := *p
			q.style.Want = n.unit.d.kind
			if e, err := q.printed(n); err == nil {
				out = append(out, e)
			}
		}
		waiting = nil
	}
	return out
}

// joined: a digit behind it belongs to a word or to another number.
func joined(r rune) bool {
	return isDigit(r) || r == '.' || r == ',' || r == '/' || r == '_' || r == '#' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r > 0x7f && r != '±' && r != '–' && r != '≈' && !isBlank(r)
}

// found reads the number here and its unit, if a unit follows.
func (p *parser) found() (*loose, bool) {
	start := p.at
	n, step, err := p.number()
	if err != nil {
		return nil, false
	}
	l := &loose{num: n, step: step, from: start, to: p.at}
	u, err := p.unit()
	if err == nil && !u.IsZero() && p.isUnit(u, string(p.src[start:p.at])) {
		l.unit, l.to = u, p.at
	} else {
		p.at = l.to
	}
	return l, true
}

// behindInch are words that may follow inches; before others "in" is a word.
var behindInch = []string{"from", "below", "above", "beyond", "behind", "to", "of", "long", "wide", "thick", "deep", "and", "or", "apart", "up"}

// isUnit tells a unit from a word or a letter that is spelled like one;
// spelled is the number with it.
func (p *parser) isUnit(u Unit, spelled string) bool {
	if u.d == unitByName["in"] && strings.HasSuffix(spelled, "in") && !strings.Contains(spelled, "/") {
		rest := strings.TrimLeft(string(p.src[p.at:min(p.at+16, len(p.src))]), " ")
		word, _, _ := strings.Cut(rest, " ")
		word = strings.Trim(word, ".,;:)")
		if word == "" || !joined([]rune(word)[0]) || isDigit([]rune(word)[0]) {
			return true
		}
		for _, w := range behindInch {
			if word == w {
				return true
			}
		}
		return false
	}
	return u.d.kind != Temperature || strings.Contains(spelled, "°")
}

// rangeGoesOn: behind a bare number stand "to", "or", ".." or a dash, and a
// digit.
func (p *parser) rangeGoesOn() bool {
	save := p.at
	p.blanks()
	if p.word("to", "or", "..", "…", "–", "—", "-", "−") != "" {
		p.blanks()
		if isDigit(p.peek()) {
			return true
		}
	}
	p.at = save
	return false
}
