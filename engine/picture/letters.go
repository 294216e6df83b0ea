package picture

import (
	"image/color"
	"strings"
)

// Letters of a PNG file are drawn with a pen, line by line: this program brings
// no typeface. A letter is strokes parted by blanks; a stroke is points of two
// signs, x and y, each 0 to 9 and on with a for 10. The writing line is y 4, low
// letters reach c, capitals and digits g, tails 0.
const (
	gridUnit   = 0.06 // sizes a step of the grid; capitals are 0.72 high
	gridBase   = 4
	letterGap  = 3
	blankWide  = 3
	penWide    = 0.085 // sizes
	boldWide   = 0.13
	lowAccent  = 14 // where an accent stands over a low letter, and a capital
	highAccent = 18
)

// strokesOf a letter; ok is false where there is none.
func strokesOf(r rune) (string, bool) {
	const letters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.,:;-–−—+±=×/()%'’\"°<>?!_&[]…·µ′″|*#^`~\\{}$@ı"
	drawn := [...]string{
		"6a4c2c0a06244466 6c64", "0g04 0a2c4c6a66442406", "6a4c2c0a06244466", "6g64 6a4c2c0a06244466", "08686a4c2c0a06244465",
		"4g3g1e14 0c3c", "6c62402001 6a4c2c0a06244466", "0g04 0a2c4c6a64", "0c04 0g0f", "2c221000 2g2f",
		"0g04 5c07 2954", "0g0514", "0c04 0a2c3c5a54 5a7c8caaa4", "0c04 0a2c4c6a64", "2444666a4c2c0a0624",
		"0c00 0a2c4c6a66442406", "6c60 6a4c2c0a06244466", "0c04 092b3c4c", "5b4c1c0b0a19475655441405", "1g152444 0c4c",
		"0c06244466 6c64", "0c346c", "0c244a648c", "0c64 046c", "0c35 6c2000", "0c6c0464",
		"044g84 1878", "040g5g7e7c5a0a 5a78765404", "8e6g2g0e06246486", "040g4g7d774404", "6g0g0464 0a5a",
		"6g0g04 0a5a", "8e6g2g0e062464868959", "0g04 7g74 0a7a", "0g04", "5g56341406",
		"0g04 7g09 2b74", "0g0464", "040g488g84", "040g747g", "2464868e6g2g0e0624",
		"040g5g7e7b5909", "2464868e6g2g0e0624 5884", "040g5g7e7b5909 4974", "7e5g2g0e0c2a5a7876542406", "0g8g 4g44",
		"0g062454767g", "0g448g", "0g245e84ag", "0g74 047g", "0g4a8g 4a44", "0g7g0474",
		"2444666e4g2g0e0624", "0d3g34", "0e2g4g6e6c0464", "0e2g4g6e6c4a2a 4a6866442406", "545g0878",
		"6g0g0b4b6966442406", "6e4g2g0e06244466684a2a08", "0g6g24", "2a0c0e2g4g6e6c4a2a0806244466684a", "062444666e4g2g0e0c2a4a6c",
		"0405", "1502", "0405 0b0c", "1502 1b1c", "0949", "0969", "0969", "0999", "0969 3c36", "0b6b 3e38 0565", "0b6b 0767", "0b65 056b",
		"045g", "3g1d1632", "0g2d2602", "048g 0g2g2d0d0g 6787846467", "0g0e", "0g0e", "0g0e 2g2e", "0f1g2g3f3e2d1d0e0f", "6d0966", "0d6906",
		"0e2g4g6e6c3a38 3534", "0g08 0504", "0262", "841e2g4g5e5d080624548a", "2g0g0222", "0g2g2202", "0405 3435 6465", "0809", "0c00 06244466 6c64",
		"0g0e", "0g0e 2g2e", "0g02", "3g3a 0e6c 0c6e", "2g14 6g54 0d7d 0777", "0d3g6d", "0g2e", "092b4969", "0g54", "3g2f2b09272332",
		"0g1f1b39171302", "7e5g2g0e0c2a5a7876542406 4h43", "675b3b2a2737696c4e2e0c062454", "0c04",
	}
	i := 0
	for _, l := range letters {
		if l == r {
			return drawn[i], true
		}
		i++
	}
	return "", false
}

// accented takes a letter with an accent apart.
func accented(r rune) (letter, accent rune, ok bool) {
	const (
		with    = "áéíóúýÁÉÍÓÚÝàèìòùÀÈÌÒÙäëïöüÿÄËÏÖÜâêîôûÂÊÎÔÛãñõÃÑÕåÅçÇ"
		without = "aeıouyAEIOUYaeıouAEIOUaeıouyAEIOUaeıouAEIOUanoANOaAcC"
		accents = "''''''''''''``````````:::::::::::^^^^^^^^^^~~~~~~oo,,"
	)
	i := 0
	for _, l := range with {
		if l == r {
			return []rune(without)[i], rune(accents[i]), true
		}
		i++
	}
	return 0, 0, false
}

// accentStrokes are about x 0, from y 0 up.
func accentStrokes(accent rune) [][]point {
	switch accent {
	case '\'':
		return [][]point{{{-1, 0}, {1, 2}}}
	case '`':
		return [][]point{{{-1, 2}, {1, 0}}}
	case ':':
		return [][]point{{{-2, 0}, {-2, 0.5}}, {{2, 0}, {2, 0.5}}}
	case '^':
		return [][]point{{{-2, 0}, {0, 2}, {2, 0}}}
	case '~':
		return [][]point{{{-3, 0}, {-1, 1.5}, {1, 0.5}, {3, 2}}}
	}
	return [][]point{around(point{0, 1}, 1.2, 8)}
}

// letter is the lines of a letter on the grid, from the writing line up, and
// how wide it is. One that nobody drew is an empty box.
func letter(r rune) (lines [][]point, wide float64) {
	if r == ' ' {
		return nil, blankWide
	}
	base, accent, _ := accented(r)
	if base == 0 {
		base = r
	}
	text, ok := strokesOf(base)
	if !ok {
		text = "040g6g6404"
	}
	for _, stroke := range strings.Fields(text) {
		var line []point
		for i := 0; i+1 < len(stroke); i += 2 {
			p := point{gridPlace(stroke[i]), gridPlace(stroke[i+1]) - gridBase}
			line, wide = append(line, p), max(wide, p.x)
		}
		lines = append(lines, line)
	}
	if accent == ',' {
		return append(lines, []point{{wide / 2, 0}, {wide/2 + 1, -2}, {wide/2 - 1, -3}}), wide
	}
	if accent != 0 {
		up := float64(lowAccent - gridBase)
		if base >= 'A' && base <= 'Z' {
			up = highAccent - gridBase
		}
		for _, l := range accentStrokes(accent) {
			for i := range l {
				l[i] = point{l[i].x + wide/2, l[i].y + up}
			}
			lines = append(lines, l)
		}
	}
	return lines, wide
}

func gridPlace(sign byte) float64 {
	if sign >= 'a' {
		return float64(sign-'a') + 10
	}
	return float64(sign - '0')
}

// written is how long a text is as it is drawn, in sizes.
func written(text string) float64 {
	w := 0.0
	for _, r := range text {
		_, wide := letter(r)
		w += (wide + letterGap) * gridUnit
	}
	return max(w-letterGap*gridUnit, 0)
}

func (c *canvas) label(t label) {
	x := t.at.x
	switch long := written(t.text) * t.size; t.anchor {
	case "middle":
		x += (t.at.w - long) / 2
	case "end":
		x += t.at.w - long
	}
	unit, width := gridUnit*t.size, penWide*t.size
	if t.bold {
		width = boldWide * t.size
	}
	y := t.at.y + t.at.h/2 + 0.36*t.size // as in the SVG file
	for _, r := range t.text {
		lines, wide := letter(r)
		var pens [][]point
		for _, l := range lines {
			on := make([]point, len(l))
			for i, p := range l {
				on[i] = point{x + p.x*unit, y - p.y*unit}
			}
			pens = append(pens, pen(on, width)...)
		}
		if len(pens) > 0 {
			c.fill(pens, color.Gray{})
		}
		x += (wide + letterGap) * unit
	}
}
