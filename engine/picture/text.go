package picture

import (
	"strings"
	"unicode"
)

// advance is how wide a letter is at most, in sizes: with margin over the usual
// faces without serifs (their widest capital W takes 0.99 in bold, a digit
// 0.70: DejaVu Sans Bold), so that what fits here fits with any of them.
func advance(r rune) float64 {
	switch {
	case r == ' ' || r == '.' || r == ',' || r == ':' || r == ';' || r == '\'' || r == '|':
		return 0.40
	case r == 'W' || r == 'M' || r == 'm' || r == 'w' || r == '@' || r == '%' || r == '—':
		return 1.06
	case strings.ContainsRune("ijlIftr()[]/-", r):
		return 0.50
	case r >= '0' && r <= '9':
		return 0.70
	case r == '+' || r == '−' || r == '±' || r == '<' || r == '>' || r == '=':
		return 0.84
	case r < 0x80 && unicode.IsUpper(r):
		return 0.86
	case r < 0x250:
		return 0.72
	}
	return 1.1 // scripts whose letters fill a square
}

func width(text string, size float64) float64 {
	w := 0.0
	for _, r := range text {
		w += advance(r) * size
	}
	return w
}

// leastSize is the smallest letter that is still read, on paper, mm.
const leastSize = 1.8

// fitted is a label that is made smaller, then cut, until it fits.
func fitted(at rect, text string, size float64, anchor string) label {
	text = plain(text)
	size = min(size, at.h/1.25)
	if w := width(text, size); w > at.w {
		size = max(leastSize, size*at.w/w)
	}
	if width(text, size) > at.w+1e-9 {
		letters := []rune(text)
		for len(letters) > 0 && width(string(letters)+"…", size) > at.w {
			letters = letters[:len(letters)-1]
		}
		text = string(letters) + "…"
	}
	return label{at: at, text: text, size: size, anchor: anchor}
}

// broken breaks text at blanks into lines that fit; a word that is longer than a
// line is broken too.
func broken(text string, size, most float64) []string {
	var out []string
	cur := ""
	for _, w := range strings.Fields(plain(text)) {
		if cur != "" && width(cur+" "+w, size) <= most {
			cur += " " + w
			continue
		}
		if cur != "" {
			out = append(out, cur)
		}
		for cur = w; width(cur, size) > most; {
			letters := []rune(cur)
			n := 1
			for n < len(letters) && width(string(letters[:n+1]), size) <= most {
				n++
			}
			out = append(out, string(letters[:n]))
			cur = string(letters[n:])
		}
	}
	if cur != "" {
		out = append(out, cur)
	}
	return out
}

// plain is a text without what no reader sees or XML cannot hold: controls,
// signs that change the direction, halves of pairs.
func plain(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Co, r) || r == unicode.ReplacementChar || r&0xFFFE == 0xFFFE || r == '\u2028' || r == '\u2029':
			return unicode.ReplacementChar
		}
		return r
	}, strings.ToValidUTF8(text, string(unicode.ReplacementChar)))
}
