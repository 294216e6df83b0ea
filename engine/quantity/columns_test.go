package quantity

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestColumns(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text, first, second string
		at                  int
	}{
		{"27 mm", "27 mm", "", 0},
		{"27.0 ± 0.5 mm (1 1/16 in)", "27.0 ± 0.5 mm", "1 1/16 in", 15},
		{"27..30 mm( 1 1/16 .. 1 2/16 in )", "27..30 mm", "1 1/16 .. 1 2/16 in", 11},
		{"27 mm )", "27 mm )", "", 0},
		{"(1 in)", "", "1 in", 1},
		{"27 mm ()", "27 mm", "", 7},
	} {
		first, second, at := Columns(c.text)
		if first != c.first || second != c.second || at != c.at {
			t.Errorf("%q: %q %q %d", c.text, first, second, at)
		}
	}
}

// The half steps are those of NIST SP 811 (2008), B.7: a number is rounded to
// half of its last place; the inch is 25.4 mm exactly (B.8).
func TestPrintedIn(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text, want string
		rounding   []int64
	}{
		{"27.0 ± 0.5 mm", "27.0@0-4=27000000", []int64{100_000}},
		{"at most 1 1/8 in", "1 1/8 in@8-16=28575000", []int64{1_587_500}},
		{"1 in", "1 in@0-4=25400000", []int64{1_587_500}},
		{"1.00 in", "1.00 in@0-7=25400000", []int64{254_000}},
		{"27 .. 30.5 mm", "27@0-2=27000000 30.5 mm@6-13=30500000", []int64{1_000_000, 100_000}},
		{"1.30 +0.03 -0.02 mm", "1.30@0-4=1300000", []int64{10_000}},
		{"1/2 mm", "1/2 mm@0-6=500000", []int64{100_000}},
		{"1/64 in", "1/64 in@0-7=396875", []int64{396_875}},
		{"22 AWG", "22 AWG@0-6=643803", []int64{0}},
		{"1 and 1/8 in", "1 and 1/8 in@0-12=28575000", []int64{1_587_500}},
		{"31.4 thou", "31.4 thou@0-9=797560", []int64{2_540}},
	} {
		got, err := PrintedIn(c.text, Style{Want: Length})
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		var shown []string
		for i, n := range got {
			shown = append(shown, fmt.Sprintf("%s@%d-%d=%d", n.Text, n.From, n.To, n.Value.Q))
			if i >= len(c.rounding) || n.Rounding() != c.rounding[i] {
				t.Errorf("%q: rounded to %d, want %v", c.text, n.Rounding(), c.rounding)
			}
		}
		if s := strings.Join(shown, " "); s != c.want {
			t.Errorf("%q: %s, want %s", c.text, s, c.want)
		}
	}
	for _, text := range []string{"", "mm", "27", "27 mm or so", "27 ± mm", "27 .. mm", "at most", "3 g"} {
		if got, err := PrintedIn(text, Style{Want: Length}); err == nil {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}

func TestFind(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"Mark the wire at 27 mm (1 1/16 in).":      "27 mm|1 1/16 in",
		"27 to 30 mm":                              "27|30 mm",
		"1.25 or 1.3 mm":                           "1.25|1.3 mm",
		"put 3 in water":                           "",
		"1 in from the butt":                       "1 in",
		"a collar 1/8 in above it":                 "1/8 in",
		"exactly 1 in (25.4 mm)":                   "1 in|25.4 mm",
		"bark 1 and 1/18 in":                       "1 and 1/18 in",
		"no. 400 paper, 2 or 3 turns, piece A4 mm": "",
		"22 AWG wire":                              "22 AWG",
		"2 h, then 0.0314 in (31.4 thou)":          "2 h|0.0314 in|31.4 thou",
		"v1.2 mm, x3 mm":                           "",
		"3 C clamps at 21 °C":                      "21 °C",
		"120.000.000 mm":                           "",
		"28–28.5 mm, and 2 5/16\"":                 "28|28.5 mm|2 5/16\"",
		"the wire at 27mm":                         "27mm",
		"on 3 m of thread":                         "3 m",
	} {
		var got []string
		for _, n := range Find(text) {
			if back := string([]rune(text)[n.From:n.To]); strings.TrimSpace(back) != n.Text {
				t.Errorf("%q: %q stands where %q was found", text, back, n.Text)
			}
			got = append(got, n.Text)
		}
		if s := strings.Join(got, "|"); s != want {
			t.Errorf("%q: %q, want %q", text, s, want)
		}
	}
}

func FuzzFind(f *testing.F) {
	for _, s := range []string{"27 mm (1 1/16 in)", "1 and 1/18 in", "27 to 30 mm", "1/0 in", "9999999999999999999999 mm", "3 in", "±0,5 mm", "1 h 30 min", "28–28.5 mm", "at most 1 mm ( )", "1'000 mm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		last := 0
		for _, n := range Find(text) {
			if n.From < last || n.To <= n.From || n.To > utf8.RuneCountInString(text) || n.Unit.IsZero() || n.Rounding() < 0 {
				t.Fatalf("%q: %+v", text, n)
			}
			last = n.To
		}
		first, second, at := Columns(text)
		if second != "" && !strings.HasPrefix(string([]rune(text)[at:]), second) {
			t.Fatalf("%q: %q does not stand at %d", text, second, at)
		}
		for _, k := range []Kind{Length, Pitch, Count, Time} {
			if ns, err := PrintedIn(first, Style{Want: k}); err == nil && (len(ns) < 1 || len(ns) > 2) {
				t.Fatalf("%q: %v", first, ns)
			}
		}
	})
}
