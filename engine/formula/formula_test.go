package formula

import (
	"math"
	"slices"
	"sync"
	"testing"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

func TestHolds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		have []string
		want bool
	}{
		// on a limit, in whole quanta
		{"gouge.centre - gouge.side >= 0.20 mm", []string{"gouge.centre", "1.30 mm", "gouge.side", "1.10 mm"}, true},
		{"gouge.centre - gouge.side > 0.20 mm", []string{"gouge.centre", "1.30 mm", "gouge.side", "1.10 mm"}, false},
		{"gouge.centre - gouge.side >= 0.20 mm", []string{"gouge.centre", "1.30 mm", "gouge.side", "1.100001 mm"}, false},
		{"gouge.centre <= gouge.side + 0.04 mm", []string{"gouge.centre", "10.05 mm", "gouge.side", "10.01 mm"}, true},
		{"10.05 mm >= 10.01 mm + 0.04 mm", nil, true},
		{"10.05 mm > 10.01 mm + 0.04 mm", nil, false},
		{"gouge.centre - gouge.side >= 0.001 mm", []string{"gouge.centre", "16.014 mm", "gouge.side", "16.013 mm"}, true},
		{"16.014 mm - 16.013 mm >= 0.001 mm", nil, true},
		{"16.014 mm - 16.013 mm > 0.001 mm", nil, false},
		{"gouge.centre <= 1 1/8 in", []string{"gouge.centre", "28.575 mm"}, true},
		{"gouge.centre < 1 1/8 in", []string{"gouge.centre", "28.575 mm"}, false},
		{"gouge.centre >= 31.4 thou", []string{"gouge.centre", "0.0314 in"}, true},
		{`gouge.centre >= 1/8"`, []string{"gouge.centre", "3.175 mm"}, true},
		// where a division enters, half a quantum counts as on the limit
		{"gouge.centre / 3 * 3 >= 1.3 mm", []string{"gouge.centre", "1.3 mm"}, true},
		{"gouge.centre / 3 * 3 > 1.3 mm", []string{"gouge.centre", "1.3 mm"}, false},
		{"gouge.centre / 3 * 3 < 1.3 mm", []string{"gouge.centre", "1.3 mm"}, false},
		{"gouge.centre / 3 * 3 <= 1.3 mm", []string{"gouge.centre", "1.3 mm"}, true},
		{"gouge.centre * gouge.side / gouge.side <= 1.3 mm", []string{"gouge.centre", "1.3 mm", "gouge.side", "1.1 mm"}, true},
		{"gouge.centre * 1.1 > 1.43 mm", []string{"gouge.centre", "1.3 mm"}, false},
		{"gouge.centre * 1.1 >= 1.43 mm", []string{"gouge.centre", "1.3 mm"}, true},
		{"tip.width / gouge.side >= 80 %", []string{"tip.width", "8 mm", "gouge.side", "10 mm"}, true},
		{"tip.width / gouge.side > 80 %", []string{"tip.width", "8 mm", "gouge.side", "10 mm"}, false},
		{"shrinkage * 3 >= 30 %", []string{"shrinkage", "0.1"}, true},
		{"shrinkage * 3 > 30 %", []string{"shrinkage", "0.1"}, false},
		// products of kinds: within 1e-12 of the larger side
		{"tip.width * gouge.side >= 14.3 mm²", []string{"tip.width", "13 mm", "gouge.side", "1.1 mm"}, true},
		{"tip.width * gouge.side > 14.3 mm²", []string{"tip.width", "13 mm", "gouge.side", "1.1 mm"}, false},
		{"tip.width * gouge.side > 14.3 mm²", []string{"tip.width", "13.00001 mm", "gouge.side", "1.1 mm"}, true},
		{"tube.section >= 14.3 mm²", []string{"tube.section", "14.3 mm²"}, true},
		{"tube.section > 14.3 mm²", []string{"tube.section", "14.300001 mm²"}, true},
		{"cane.density <= 0.5 g/cm³", []string{"cane.density", "500 kg/m³"}, true},
		{"cane.mass / (tip.width * tip.width * gouge.side) >= 0.5 g/cm³", []string{"cane.mass", "0.5 g", "tip.width", "10 mm", "gouge.side", "10 mm"}, true},
		{"cane.mass / (tip.width * tip.width * gouge.side) > 0.5 g/cm³", []string{"cane.mass", "0.5 g", "tip.width", "10 mm", "gouge.side", "10 mm"}, false},
		{"lever.force / gouge.side >= tip.stiffness", []string{"lever.force", "1 N", "gouge.side", "0.5 mm", "tip.stiffness", "2 N/mm"}, true},
		// points
		{"room >= 68 °F", []string{"room", "20 °C"}, true},
		{"room > 68 °F", []string{"room", "20 °C"}, false},
		{"room > -5 °C", []string{"room", "-4.9 °C"}, true},
		{"room - -5 °C >= 9 K", []string{"room", "4 °C"}, true},
		{"room - 20 °C <= 4 K", []string{"room", "24 °C"}, true},
		{"room + 2 K > 20 °C", []string{"room", "18 °C"}, false},
		{"2 K + room >= 20 °C", []string{"room", "18 °C"}, true},
		{"warming > -1 * 2 K", []string{"warming", "-1 K"}, true},
		{"crow.pitch >= F4 - 20 cents", []string{"crow.pitch", "F4 -20 cents"}, true},
		{"crow.pitch > F4 - 20 cents", []string{"crow.pitch", "F4 -20 cents"}, false},
		{"crow.pitch >= F4 -20 cents", []string{"crow.pitch", "F4 -20.000001 cents"}, false},
		{"crow.pitch - F#4 <= 20 cents", []string{"crow.pitch", "F#4 +20 cents"}, true},
		{"E4 <= crow.pitch <= F4", []string{"crow.pitch", "F4"}, true},
		{"Bb3 < crow.pitch", []string{"crow.pitch", "B3"}, true},
		{"abs(crow.pitch - F4) < 20 cents", []string{"crow.pitch", "F4 -20 cents"}, false},
		// a frequency beside a pitch is a pitch, beside a frequency its own
		{"crow.pitch >= 440 Hz", []string{"crow.pitch", "A4"}, true},
		{"crow.pitch > 440 Hz", []string{"crow.pitch", "A4"}, false},
		{"349 Hz < crow.pitch < 350 Hz", []string{"crow.pitch", "349.2 Hz"}, true},
		{"880 Hz - crow.pitch >= 1200 cents", []string{"crow.pitch", "A4"}, true},
		{"tap <= 349.2 Hz", []string{"tap", "349.2 Hz"}, true},
		{"tap - 300 Hz < 50 Hz", []string{"tap", "349.2 Hz"}, true},
		// scores, counts and other plain kinds
		{"tone >= 4", []string{"tone", "4"}, true},
		{"tone > 4", []string{"tone", "4"}, false},
		{"tone - 1 >= 3.5", []string{"tone", "4.5"}, true},
		{"tone * 2 >= 9", []string{"tone", "4.5"}, true},
		{"tone > -1", []string{"tone", "0"}, true},
		{"max(tone, 3) <= 3", []string{"tone", "2"}, true},
		{"near(tone, 4, 1)", []string{"tone", "3"}, true},
		{"near(tone, 4, 1)", []string{"tone", "2.999"}, false},
		{"between(tone, 2, 4)", []string{"tone", "4"}, true},
		{"wires >= 3", []string{"wires", "3"}, true},
		{"air > 45 % and air <= 0.6", []string{"air", "60 %"}, true},
		{"air - shrinkage >= 0.5", []string{"air", "60 %", "shrinkage", "10 %"}, true},
		{"1 - shrinkage >= 0.9", []string{"shrinkage", "0.1"}, true},
		{"3 * (1/3) >= 1", nil, true},
		{"1 1/8 >= 1.125", nil, true},
		// times
		{"soaked >= 2 h", []string{"soaked", "120 min"}, true},
		{"soaked < 1 h 30 min", []string{"soaked", "1 h 29 min"}, true},
		{"soaked + 1 h 30 min >= 2 h", []string{"soaked", "30 min"}, true},
		{"bevel <= 45°", []string{"bevel", "45 deg"}, true},
		// literals and names that look alike
		{"d > 1 d / 1 d * 1 mm", []string{"d", "2 mm"}, true},
		{"A < 24 AWG", []string{"A", "0.5 mm"}, true},
		{"A > 1 µm", []string{"A", "0.5 mm"}, true},
		{"gouge.side>=1mm", []string{"gouge.side", "1 mm"}, true},
		{"gouge.side >= .5 mm", []string{"gouge.side", "0.5 mm"}, true},
		{"gouge.side >= 1\u00a0mm", []string{"gouge.side", "1 mm"}, true},
		{"gouge.side\n  >= 1 mm", []string{"gouge.side", "1 mm"}, true},
		{"tip.width − gouge.side × 2 ÷ 1 >= 0 mm", []string{"tip.width", "2 mm", "gouge.side", "1 mm"}, true},
		{"tip.width / 3 mm <= 1", []string{"tip.width", "3 mm"}, true},
		// stations
		{"blade(3 mm, spine, A) - blade( 3 mm , rails , A ) >= 0.30 mm", []string{"3 mm, spine, A", "0.90 mm", "3 mm, rails, A", "0.60 mm"}, true},
		{"blade (3 mm, spine, A) > 0.9 mm", []string{"3 mm, spine, A", "0.90 mm"}, false},
		// words
		{"near(gouge.centre, gouge.side, 0.04 mm)", []string{"gouge.centre", "10.05 mm", "gouge.side", "10.01 mm"}, true},
		{"near(gouge.side, gouge.centre, 0.04 mm)", []string{"gouge.centre", "10.05 mm", "gouge.side", "10.01 mm"}, true},
		{"near(gouge.side, gouge.centre, 0.039999 mm)", []string{"gouge.centre", "10.05 mm", "gouge.side", "10.01 mm"}, false},
		{"near(room, 68 °F, 0 K)", []string{"room", "20 °C"}, true},
		{"near(crow.pitch, 440 Hz, 1 cents)", []string{"crow.pitch", "A4 +1 cents"}, true},
		{"near(shrinkage + 0.2, 0.3, 0)", []string{"shrinkage", "0.1"}, true},
		{"between(gouge.side, 1 mm, 2 mm)", []string{"gouge.side", "2 mm"}, true},
		{"between(gouge.side, 1 mm, 2 mm)", []string{"gouge.side", "1 mm"}, true},
		{"between(gouge.side, 1 mm, 2 mm)", []string{"gouge.side", "2.000001 mm"}, false},
		{"between(gouge.side / 3, 1 mm / 3, 2 mm)", []string{"gouge.side", "1 mm"}, true},
		{"0.1 mm < gouge.side < 1.1 mm", []string{"gouge.side", "1.1 mm"}, false},
		{"0.1 mm < gouge.side + 1 mm <= 2.1 mm", []string{"gouge.side", "1.1 mm"}, true},
		{"3 mm > gouge.side / 3 >= 1 mm / 3", []string{"gouge.side", "1 mm"}, true},
		{"3 mm > min(gouge.side, 2 mm) - -1 mm >= 2 mm", []string{"gouge.side", "1 mm"}, true},
		{"min(gouge.side, tip.width, 3 mm) >= 1 mm", []string{"gouge.side", "1 mm", "tip.width", "2 mm"}, true},
		{"abs(gouge.side - tip.width) <= 1 mm", []string{"gouge.side", "1 mm", "tip.width", "2 mm"}, true},
		{"(tone > 3 ? gouge.side : tip.width) >= 2 mm", []string{"tone", "3", "tip.width", "2 mm"}, true},
		{"tone > 3 ? gouge.side > 1 mm : true", []string{"tone", "2"}, true},
		{"not (gouge.side > 1 mm) and !(gouge.side < 1 mm)", []string{"gouge.side", "1 mm"}, true},
		{"gouge.side > 1 mm || gouge.side >= 1 mm && true", []string{"gouge.side", "1 mm"}, true},
		{"false or not true", nil, false},
	} {
		f := mustCompile(t, c.text)
		got, err := f.Holds(slots(t, c.have...))
		if err != nil || got != c.want || !f.Truth() {
			t.Errorf("%s with %v: %v %v, want %v", c.text, c.have, got, err, c.want)
		}
		if f.Text() != c.text {
			t.Errorf("Text is %q, want %q", f.Text(), c.text)
		}
	}
}

func TestNumber(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		have []string
		kind quantity.Kind
		want float64
	}{
		{"gouge.centre - gouge.side", []string{"gouge.centre", "1.30 mm", "gouge.side", "1.10 mm"}, quantity.Length, 200000},
		{"(gouge.centre + gouge.side) / 2", []string{"gouge.centre", "1.30 mm", "gouge.side", "1.10 mm"}, quantity.Length, 1200000},
		{"room - 20 °C", []string{"room", "22 °C"}, quantity.TempDiff, 18000},
		{"crow.pitch - F4", []string{"crow.pitch", "E4"}, quantity.Interval, -100e6},
		{"crow.pitch - 10 cents", []string{"crow.pitch", "A4"}, quantity.Pitch, -10e6},
		{"tip.width / gouge.side", []string{"tip.width", "3 mm", "gouge.side", "2 mm"}, quantity.Ratio, 1.5},
		{"tip.width * gouge.side", []string{"tip.width", "3 mm", "gouge.side", "2 mm"}, quantity.Area, 6e12},
		{"(air + 40 %) / 2", []string{"air", "60 %"}, quantity.Ratio, 0.5},
		{"(air + air) / 2", []string{"air", "60 %"}, quantity.Humidity, 0.6},
		{"wires + 1", []string{"wires", "3"}, quantity.Count, 4},
		{"2 * wires", []string{"wires", "3"}, quantity.Count, 6},
		{"wires / 2", []string{"wires", "3"}, quantity.Ratio, 1.5},
		{"tone + 1", []string{"tone", "3"}, quantity.Score, 4000},
		{"1 in", nil, quantity.Length, 25400000},
		// ASTM B258: 0.127 mm × 92^(14/39) is 0.643 803… mm
		{"22 AWG", nil, quantity.Length, 643803},
		{"-gouge.side", []string{"gouge.side", "1 mm"}, quantity.Length, -1000000},
		{"+gouge.side", []string{"gouge.side", "1 mm"}, quantity.Length, 1000000},
		{"349.2 Hz", nil, quantity.Frequency, 349200000},
	} {
		f := mustCompile(t, c.text)
		got, err := f.Number(slots(t, c.have...))
		if err != nil || got != c.want || f.Truth() || f.Kind() != c.kind {
			t.Errorf("%s: %v %v of kind %v, want %v of kind %v", c.text, got, err, f.Kind(), c.want, c.kind)
		}
	}
}

func TestMargin(t *testing.T) {
	t.Parallel()
	centre, side := 1.3e6, 1.1e6 // no constants: the division is to round as it does at run time
	have := []string{"gouge.centre", "1.30 mm", "gouge.side", "1.10 mm", "crow.pitch", "F4 -5 cents", "tone", "4", "cane.mass", "1 g"}
	for _, c := range []struct {
		text string
		ok   bool
		kind quantity.Kind
		want float64
	}{
		{"gouge.centre - gouge.side >= 0.10 mm", true, quantity.Length, 100000},
		{"gouge.centre - gouge.side > 0.30 mm", true, quantity.Length, -100000},
		{"gouge.side <= gouge.centre", true, quantity.Length, 200000},
		{"gouge.centre < gouge.side", true, quantity.Length, -200000},
		{"gouge.centre > 1.25 mm and gouge.side < 1.20 mm", true, quantity.Length, 50000},
		{"gouge.centre > 1.25 mm && gouge.side < 1 mm", true, quantity.Length, -100000},
		{"gouge.centre > 1.25 mm or gouge.side < 1.20 mm", true, quantity.Length, 100000},
		{"not (gouge.centre > 1.25 mm)", true, quantity.Length, -50000},
		{"1.0 mm < gouge.side < 1.3 mm", true, quantity.Length, 100000},
		{"near(gouge.centre, gouge.side, 0.30 mm)", true, quantity.Length, 100000},
		{"between(gouge.side, 1 mm, 1.15 mm)", true, quantity.Length, 50000},
		{"crow.pitch >= F4 - 20 cents", true, quantity.Interval, 15e6},
		{"crow.pitch >= 440 Hz", true, quantity.Interval, -405e6},
		{"tone >= 3", true, quantity.Score, 1000},
		{"gouge.centre / gouge.side >= 1", true, quantity.Ratio, centre/side - 1},
		{"gouge.centre > 1 mm and cane.mass > 1 g", false, quantity.Kind{}, 0},
		{"tone > 3 ? gouge.side > 1 mm : gouge.side > 2 mm", false, quantity.Kind{}, 0},
		{"(tone > 3 ? gouge.side : gouge.centre) > 1 mm", false, quantity.Kind{}, 0},
		{"gouge.side > 1 mm and true", false, quantity.Kind{}, 0},
		{"true", false, quantity.Kind{}, 0},
		{"gouge.side", false, quantity.Length, 0},
	} {
		f := mustCompile(t, c.text)
		got, ok := f.Margin(slots(t, have...))
		if ok != c.ok || got != c.want || f.Kind() != c.kind {
			t.Errorf("%s: margin %v %v of kind %v, want %v %v of kind %v", c.text, got, ok, f.Kind(), c.want, c.ok, c.kind)
		}
	}
}

func TestNeedsAreAscendingWithoutRepeats(t *testing.T) {
	t.Parallel()
	f := mustCompile(t, "tip.width > gouge.centre and gouge.centre > gouge.side + blade(3 mm, rails, A)")
	want := []int{slot("gouge.centre"), slot("gouge.side"), slot("tip.width"), slot("3 mm, rails, A")}
	if got := f.Needs(); !slices.Equal(got, want) {
		t.Errorf("needs %v, want %v", got, want)
	}
	f.Needs()[0] = 99
	if f.Needs()[0] == 99 {
		t.Error("the caller can change what the formula needs")
	}
}

func TestEvaluationErrors(t *testing.T) {
	t.Parallel()
	one := slots(t, "gouge.centre", "1 mm")
	with := func(name string, v float64) []float64 {
		out := slices.Clone(one)
		out[slot(name)] = v
		return out
	}
	for _, c := range []struct {
		text  string
		slots []float64
		want  string
	}{
		{"gouge.centre / gouge.side >= 1", one, `work out "gouge.centre / gouge.side >= 1": division by zero`},
		{"gouge.centre / gouge.side", one, `work out "gouge.centre / gouge.side": division by zero`},
		{"1 mm / (1 mm - gouge.centre)", one, `work out "1 mm / (1 mm - gouge.centre)": division by zero`},
		{"tip.width > 1 mm", one[:2], `work out "tip.width > 1 mm": value 2 of 2 is missing`},
		{"tip.width > 1 mm", nil, `work out "tip.width > 1 mm": value 2 of 0 is missing`},
		{"gouge.centre > 1 mm", with("gouge.centre", math.NaN()), `work out "gouge.centre > 1 mm": value 0 is no finite number`},
		{"gouge.centre > 1 mm", with("gouge.centre", math.Inf(1)), `work out "gouge.centre > 1 mm": value 0 is no finite number`},
		{"gouge.centre * gouge.centre", with("gouge.centre", 1e300), `work out "gouge.centre * gouge.centre": the result is no finite number`},
		{"gouge.centre * gouge.centre > 1 mm²", with("gouge.centre", 1e300), `work out "gouge.centre * gouge.centre > 1 mm²": the result is no finite number`},
	} {
		f := mustCompile(t, c.text)
		var err error
		if f.Truth() {
			_, err = f.Holds(c.slots)
		} else {
			_, err = f.Number(c.slots)
		}
		if err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %v", c.text, err, c.want)
		}
		if m, ok := f.Margin(c.slots); ok {
			t.Errorf("%s: margin %v although it cannot be worked out", c.text, m)
		}
	}
	if _, err := mustCompile(t, "true").Number(nil); err == nil {
		t.Error("a yes or no gave a number")
	}
	if _, err := mustCompile(t, "1 mm").Holds(nil); err == nil {
		t.Error("a number gave a yes or no")
	}
}

// A division that is not reached does not count.
func TestUnreachedDivisionByZero(t *testing.T) {
	t.Parallel()
	f := mustCompile(t, "gouge.side > 0 mm ? gouge.centre / gouge.side : 0")
	if v, err := f.Number(slots(t, "gouge.centre", "1 mm")); v != 0 || err != nil {
		t.Errorf("%v %v, want 0", v, err)
	}
}

func TestConcurrentUse(t *testing.T) {
	t.Parallel()
	f := mustCompile(t, "gouge.centre / 3 - gouge.side >= 0.10 mm")
	yes := slots(t, "gouge.centre", "3.3 mm", "gouge.side", "1 mm")
	no := slots(t, "gouge.centre", "3.2999 mm", "gouge.side", "1 mm")
	var wg sync.WaitGroup
	for i := range 4 {
		wg.Go(func() {
			s, want := yes, true
			if i%2 == 1 {
				s, want = no, false
			}
			for range 500 {
				if got, err := f.Holds(s); got != want || err != nil {
					t.Errorf("%v %v, want %v", got, err, want)
					return
				}
			}
		})
	}
	wg.Wait()
}

func TestFindingsStandInTheFile(t *testing.T) {
	t.Parallel()
	src := diagnostic.NewSource("recipe.yaml", []byte("that: gouge.side >\n  1 g\n"))
	text := diagnostic.Text{Value: "gouge.side > 1 g", Whole: diagnostic.Span{Source: src}}
	for col := 7; col <= 18; col++ {
		text.Places = append(text.Places, diagnostic.Pos{Line: 1, Col: col})
	}
	text.Places = append(text.Places, diagnostic.Pos{Line: 1, Col: 19})
	for col := 3; col <= 6; col++ {
		text.Places = append(text.Places, diagnostic.Pos{Line: 2, Col: col})
	}
	_, list := Compile(text, bench{})
	want := "recipe.yaml:1:7: error: a length cannot be compared with a mass [formula/unit-mismatch]\n" +
		"  1 | that: gouge.side >\n" +
		"    |       ^~~~~~~~~~~~\n"
	if got := listed(list); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}
