package recipe

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// slip is a number as it may have been meant where another is printed. A guess
// needs something beside it that speaks for it: any number comes of any other
// by changing one digit.
type slip struct {
	text  string
	guess bool
}

var fractionForm = regexp.MustCompile(`^(.*?)(\d{1,3})/(\d{1,3})(.*)$`)

// rulerParts are the parts of an inch that rulers are marked in, likeliest first.
var rulerParts = []string{"16", "8", "32", "4", "64", "2"}

// slips are what one slip of the hand may have made of a number, likeliest
// first: a digit too many in a fraction (1/18 for 1/8), a wrong denominator
// (3/12 for 3/16), a wrong numerator; swapped digits, a moved decimal point,
// one wrong digit. The unit stays.
func slips(number string) []slip {
	var out []slip
	guess := false
	add := func(s string) {
		if s != number && !slices.ContainsFunc(out, func(o slip) bool { return o.text == s }) {
			out = append(out, slip{s, guess})
		}
	}
	if m := fractionForm.FindStringSubmatch(number); m != nil {
		whole, num, den, rest := m[1], m[2], m[3], m[4]
		n, _ := strconv.Atoi(num)
		for _, d := range append(shorter(den), swappedDigits(den)...) {
			if v, _ := strconv.Atoi(d); slices.Contains(rulerParts, d) && n < v {
				add(whole + num + "/" + d + rest)
			}
		}
		for _, near := range []bool{true, false} {
			guess = !near
			for _, d := range rulerParts {
				if v, _ := strconv.Atoi(d); n > 0 && n < v && near == (len(d) == len(den) && d[0] == den[0]) {
					add(whole + num + "/" + d + rest)
				}
			}
		}
		if slices.Contains(rulerParts, den) {
			guess = true
			v, _ := strconv.Atoi(den)
			for off := 1; off < v; off++ {
				for _, k := range []int{n + off, n - off} {
					if k > 0 && k < v {
						add(whole + strconv.Itoa(k) + "/" + den + rest)
					}
				}
			}
		}
		return out
	}
	r := []rune(number)
	for _, s := range swappedDigits(number) {
		add(s)
	}
	for i := range r {
		if r[i] != '.' && r[i] != ',' {
			continue
		}
		for _, by := range []int{-1, 1} {
			if k := i + by; k > 0 && k < len(r)-1 && unicode.IsDigit(r[k]) && unicode.IsDigit(r[k+by]) {
				s := slices.Clone(r)
				s[i], s[k] = s[k], s[i]
				add(string(s))
			}
		}
	}
	guess = true
	for i := range r {
		for d := '0'; d <= '9' && unicode.IsDigit(r[i]); d++ {
			s := slices.Clone(r)
			s[i] = d
			add(string(s))
		}
	}
	return out
}

// shorter are the digits with one left out.
func shorter(digits string) []string {
	var out []string
	for i := range digits {
		if s := digits[:i] + digits[i+1:]; s != "" && !strings.HasPrefix(s, "0") {
			out = append(out, s)
		}
	}
	return out
}

// swappedDigits are the numbers with two neighbouring digits swapped.
func swappedDigits(number string) []string {
	var out []string
	r := []rune(number)
	for i := 0; i+1 < len(r); i++ {
		if unicode.IsDigit(r[i]) && unicode.IsDigit(r[i+1]) && r[i] != r[i+1] {
			s := slices.Clone(r)
			s[i], s[i+1] = s[i+1], s[i]
			out = append(out, string(s))
		}
	}
	return out
}
