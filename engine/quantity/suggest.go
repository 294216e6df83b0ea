package quantity

import "strings"

// likely: the units a hand mixes up, likeliest first. Centimetres are not
// among them: that slip is a moved decimal point.
var likely = []string{"thou", "in", "mm", "µm", "g", "mg", "oz", "gr", "N", "gf", "mN", "ozf", "lbf", "s", "min", "h", "d", "°C", "°F", "Hz", "kHz"}

// Suggest is what the hand may have meant by a reading outside the plausible
// range: the same digits in another unit, else a decimal point moved by one,
// two or three places. It is the first of these inside the range, as text to
// show and to read again: "31.4 thou". false when the reading is plausible or
// nothing fits.
func Suggest(e Entered, plausible Tolerance, s Style) (string, bool) {
	if plausible.Side(e.Value.Q) == Inside {
		return "", false
	}
	p := &parser{src: []rune(e.Text), style: s}
	if _, _, err := p.number(); err != nil {
		return "", false // a note
	}
	digits := strings.TrimSpace(string(p.src[:p.at]))
	if _, err := p.unit(); err != nil || p.end() != nil {
		return "", false // a time in parts
	}
	fits := func(text string) bool {
		c, err := Parse(text, s)
		return err == nil && plausible.Side(c.Value.Q) == Inside
	}
	for _, name := range likely {
		u := Unit{unitByName[name]}
		if text := digits + " " + name; u != e.Unit && accepts(s.Want, u.d.kind) && fits(text) {
			return text, true
		}
	}
	unit := e.Unit.Name()
	if unit != "" && unit != "°" && unit != "′" {
		unit = " " + unit
	}
	if e.Unit.Quanta() == nil {
		return "", false // no wire gauge has a decimal point
	}
	for places := 1; places <= 3; places++ {
		for _, by := range []int{-places, places} {
			if moved, ok := movePoint(digits, by); ok && fits(moved+unit) {
				return moved + unit, true
			}
		}
	}
	return "", false
}

// movePoint moves the decimal mark of a decimal number to the right (by > 0)
// or left, keeping the digits and the mark typed.
func movePoint(number string, by int) (string, bool) {
	if strings.Contains(number, "/") || strings.ContainsAny(number, " \u00a0") {
		return "", false
	}
	sign := strings.TrimRight(number, "0123456789.,")
	number = number[len(sign):]
	mark := "."
	if strings.Contains(number, ",") {
		mark = ","
	}
	whole, frac, _ := strings.Cut(number, mark)
	digits := whole + frac
	at := len(whole) + by
	if at <= 0 {
		digits, at = strings.Repeat("0", 1-at)+digits, 1
	}
	if at > len(digits) {
		digits += strings.Repeat("0", at-len(digits))
	}
	whole, frac = strings.TrimLeft(digits[:at], "0"), digits[at:]
	if whole == "" {
		whole = "0"
	}
	if frac == "" {
		return sign + whole, true
	}
	return sign + whole + mark + frac, true
}
