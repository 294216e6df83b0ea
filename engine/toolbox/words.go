package toolbox

import (
	"math"
	"strconv"
	"strings"
)

// short writes a number to be read: three digits, or two where it begins with
// none before the point, without trailing noughts.
func short(v float64) string {
	digits := 3
	switch a := math.Abs(v); {
	case a == 0:
		return "0"
	case a < 10:
		digits = 2
	}
	return significant(v, digits)
}

func significant(v float64, digits int) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'g', digits, 64)
	}
	decimals := max(digits-1-int(math.Floor(math.Log10(math.Abs(v)))), 0)
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// more says a difference in words: "1 mm wider", "0.4 mm narrower".
func more(v float64, up, down string) string {
	if v < 0 {
		return short(-v) + " mm " + down
	}
	return short(v) + " mm " + up
}

// signed is a difference as a change: "+1 mm (+0.0394 in)".
func signed(mm float64) string {
	sign := "+"
	if mm < 0 {
		sign, mm = "-", -mm
	}
	return sign + significant(mm, 4) + " mm (" + sign + significant(mm/25.4, 3) + " in)"
}

// spread is a standard uncertainty in words.
func spread(u float64) string {
	return "standard uncertainty " + significant(u, 2) + " mm, from the last places written"
}
