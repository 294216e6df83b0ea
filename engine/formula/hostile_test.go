package formula

import (
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"canewright/engine/diagnostic"
)

func TestHostileTextsAreRefusedAtOnce(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ text, code string }{
		"300000 brackets":        {strings.Repeat("(", 300000) + "1" + strings.Repeat(")", 300000), TooLong},
		"21 brackets":            {strings.Repeat("(", 21) + "1" + strings.Repeat(")", 21), TooLong},
		"501 bytes":              {"1" + strings.Repeat(" ", 500), TooLong},
		"201 nodes":              {"1" + strings.Repeat("+1", 120), TooLong},
		"deep conditionals":      {strings.Repeat("true?1:", 70) + "1", TooLong},
		"conditionals in tests":  {strings.Repeat("true?", 90) + "1" + strings.Repeat(":1", 90), TooLong},
		"many not":               {strings.Repeat("!", 480) + "true", TooLong},
		"many signs":             {strings.Repeat("- ", 240) + "1", TooLong},
		"a huge number":          {strings.Repeat("9", 480), BadNumber},
		"a long fraction":        {"0." + strings.Repeat("1", 480), BadNumber},
		"an exponent":            {"1e308 * 10", BadNumber},
		"text doubling":          {`"a"` + strings.Repeat(`+"a"`, 100), NotAllowed},
		"a range":                {"1..1000000000", NotAllowed},
		"a repeat":               {`repeat("a", 1000000000)`, NotAllowed},
		"many unknown names":     {strings.TrimSuffix(strings.Repeat("q.q+", 125), "+"), UnknownName},
		"many commas":            {strings.Repeat(",", 500), Syntax},
		"nested calls":           {strings.Repeat("max(1,", 60) + "1" + strings.Repeat(")", 60), TooLong},
		"an open grid":           {"blade" + strings.Repeat("(", 400), Syntax},
		"a grid of many commas":  {"blade(" + strings.Repeat(",", 400) + ")", UnknownName},
		"no text but bytes":      {"\xff\xfe\x80", NotAllowed},
		"placeholders typed":     {"\ua000 > \ua001", UnknownName},
		"a placeholder as a sum": {"1 mm + \ua000 > 1 mm", UnknownName},
	} {
		text := diagnostic.Plain("test", c.text)
		f, list := Compile(text, bench{})
		took := fastest(c.text, 50*time.Millisecond)
		all := list.Sorted()
		if f != nil || len(all) == 0 || len(all) > mostFindings || all[0].Code != c.code {
			t.Errorf("%s: %v\n%s", name, f != nil, listed(list))
		}
		if limit := 50 * time.Millisecond; took > limit {
			t.Errorf("%s took %v, want less than %v", name, took, limit)
		}
	}
}

// fastest of up to three tries: one alone may have waited for other programs.
func fastest(text string, enough time.Duration) time.Duration {
	took := time.Hour
	for i := 0; i < 3 && took > enough; i++ {
		start := time.Now()
		compile(text, bench{})
		took = min(took, time.Since(start))
	}
	return took
}

func TestTheLargestAllowedFormulaWorks(t *testing.T) {
	t.Parallel()
	f := mustCompile(t, strings.Repeat("(", 20)+"1"+strings.Repeat("+1", 99)+strings.Repeat(")", 20))
	if v, err := f.Number(nil); v != 100 || err != nil {
		t.Errorf("%v %v, want 100", v, err)
	}
}

// The visitor refuses by itself what the scanner never lets through.
func TestVisitorHoldsTheAllowListAlone(t *testing.T) {
	t.Parallel()
	for _, twin := range []string{
		`"a" == "b"`, `"a" + "b"`, `[1, 2][0] > 1`, `{"a": 1}`, `1..3`, `1 in [1]`, `v[0] > 1`, `v`, `$env`, `now()`, `len("abc")`,
		`filter([1], # > 0)`, `let x = 1; x`, `1; 2`, `nil`, `1 == 1`, `1 != 1`, `2 ** 3`, `2 ^ 3`, `5 % 3`, `"a" matches "b"`, `v?.x`, `v ?? 1`,
		`if true {1} else {2}`, `abs | abs`, `quotient(1, 2)`, `atLeast(1, 2, 3, 4)`, `7`, `7.5`, `sum(v)`, `v.x()`, `map(1..9, #)`,
	} {
		s := &scanner{src: []rune(twin), twin: []rune(twin), scope: bench{}}
		f, found := s.compile(twin)
		if f != nil || len(found) == 0 {
			t.Errorf("%s was let through", twin)
		}
	}
}

func TestPanicsOfAFunctionBecomeErrors(t *testing.T) {
	t.Parallel()
	f := mustCompile(t, "boom(gouge.side) > 1 mm")
	_, err := f.Holds(slots(t))
	if want := `work out "boom(gouge.side) > 1 mm": boom: it stopped: no such cane`; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
	if _, ok := f.Margin(slots(t)); ok {
		t.Error("there is a margin")
	}
}

func FuzzCompile(f *testing.F) {
	for _, c := range refusals {
		text, _, _ := marked(c.text)
		f.Add(text)
	}
	for _, s := range []string{
		"gouge.centre - gouge.side >= 0.20 mm", "crow.pitch >= F#4 - 20 cents", "1 1/8 in < tip.width", "max(gouge.side,1 mm)*2/3 thou > 80 %",
		"blade(3 mm, spine, A) > 0.9 mm", "near(tone, 4, 1) and between(room, -5 °C, 68 °F)", "soaked < 1 h 30 min ? tone : 3", "349 Hz < crow.pitch < 370 Hz",
		"1 mm < gouge.side + tip.width / 3 < 2 mm", "not (air > 45 % RH) || wires >= 3", `1/8" − 2 × 1 AWG ÷ 3`, "1 h 2 h 3", "((((", "?:", "a?.5:.6",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		fm, list := Compile(diagnostic.Plain("fuzz", text), bench{})
		if took := fastest(text, 50*time.Millisecond); took > 50*time.Millisecond {
			t.Errorf("%q took %v", text, took)
		}
		again, list2 := Compile(diagnostic.Plain("fuzz", text), bench{})
		if listed(list) != listed(list2) || (fm == nil) != (again == nil) {
			t.Fatalf("%q: two results\n%s%s", text, listed(list), listed(list2))
		}
		if (fm == nil) != (list.Len() > 0) || list.Len() > mostFindings {
			t.Fatalf("%q: formula %v with %d findings", text, fm != nil, list.Len())
		}
		n := utf8.RuneCountInString(text)
		_, found := compile(text, bench{})
		for _, x := range found {
			if x.from < 0 || x.to < x.from || x.to > n {
				t.Fatalf("%q (%d runes): %d to %d: %s", text, n, x.from, x.to, x.message)
			}
			shown := x.message + x.hint
			for _, r := range shown {
				if r >= placeholder && r < placeholder+longestText && !strings.ContainsRune(text, r) {
					t.Fatalf("%q: a placeholder is shown: %s", text, shown)
				}
			}
		}
		if len(text) <= longestText {
			if s := scan(text, bench{}); !s.stop && len(s.twin) != len(s.src) {
				t.Fatalf("%q became %q", text, string(s.twin))
			}
		}
		if fm == nil {
			return
		}
		have := make([]float64, len(dimensions)+len(cells))
		for i := range have {
			have[i] = float64(i * 1000)
		}
		for _, s := range [][]float64{have, nil} {
			result := func(f *Formula) string {
				if f.Truth() {
					b, err := f.Holds(s)
					m, ok := f.Margin(s)
					return fmt.Sprint(b, err, m, ok)
				}
				v, err := f.Number(s)
				return fmt.Sprint(v, err)
			}
			if a, b := result(fm), result(again); a != b {
				t.Fatalf("%q: %s and %s", text, a, b)
			}
		}
	})
}
