package formula

import (
	"fmt"
	"strings"
	"testing"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

// One operand of each sort; a formula joins each pair by each operator.
var sorts = []struct {
	letter byte
	text   string
}{
	{'L', "gouge.side"}, {'M', "cane.mass"}, {'T', "room"}, {'K', "warming"}, {'P', "crow.pitch"}, {'I', "detune"},
	{'H', "tap"}, {'S', "tone"}, {'R', "shrinkage"}, {'C', "wires"}, {'U', "air"}, {'7', "7"}, {'h', "300 Hz"}, {'B', "(wires > 1)"},
}

// For each left sort, the right sorts that are accepted; worked out by hand
// from the rules: alike kinds, plain kinds among themselves, points only minus
// points or plus and minus differences, numbers beside scores, hertz beside
// pitches.
var accepted = map[string]map[byte]string{
	"+":   {'L': "L", 'M': "M", 'T': "K", 'K': "TK", 'P': "I", 'I': "PI", 'H': "Hh", 'S': "S7", 'R': "RCU7", 'C': "RCU7", 'U': "RCU7", '7': "SRCU7", 'h': "Hh", 'B': ""},
	"-":   {'L': "L", 'M': "M", 'T': "TK", 'K': "K", 'P': "PIh", 'I': "I", 'H': "Hh", 'S': "S7", 'R': "RCU7", 'C': "RCU7", 'U': "RCU7", '7': "SRCU7", 'h': "PHh", 'B': ""},
	">=":  {'L': "L", 'M': "M", 'T': "T", 'K': "K", 'P': "Ph", 'I': "I", 'H': "Hh", 'S': "S7", 'R': "RCU7", 'C': "RCU7", 'U': "RCU7", '7': "SRCU7", 'h': "PHh", 'B': ""},
	"*":   {'L': "LMKIHSRCU7h", 'M': "LMKIHSRCU7h", 'T': "", 'K': "LMKIHSRCU7h", 'P': "", 'I': "LMKIHSRCU7h", 'H': "LMKIHSRCU7h", 'S': "LMKIHSRCU7h", 'R': "LMKIHSRCU7h", 'C': "LMKIHSRCU7h", 'U': "LMKIHSRCU7h", '7': "LMKIHSRCU7h", 'h': "LMKIHSRCU7h", 'B': ""},
	"and": {'B': "B"},
	"max": {'L': "L", 'M': "M", 'T': "T", 'K': "K", 'P': "Ph", 'I': "I", 'H': "Hh", 'S': "S7", 'R': "RCU7", 'C': "RCU7", 'U': "RCU7", '7': "SRCU7", 'h': "PHh", 'B': ""},
	"?":   {'L': "L", 'M': "M", 'T': "T", 'K': "K", 'P': "Ph", 'I': "I", 'H': "Hh", 'S': "S7", 'R': "RCU7", 'C': "RCU7", 'U': "RCU7", '7': "SRCU7", 'h': "PHh", 'B': "B"},
}

func TestKindsMatrix(t *testing.T) {
	t.Parallel()
	for op, rows := range accepted {
		for _, l := range sorts {
			for _, r := range sorts {
				text := fmt.Sprintf("%s %s %s", l.text, op, r.text)
				switch op {
				case "max":
					text = fmt.Sprintf("max(%s, %s)", l.text, r.text)
				case "?":
					text = fmt.Sprintf("true ? %s : %s", l.text, r.text)
				}
				f, list := Compile(diagnostic.Plain("test", text), bench{})
				want := strings.IndexByte(rows[l.letter], r.letter) >= 0
				if (f != nil) != want || (list.Len() == 0) != want {
					t.Errorf("%s: accepted %v, want %v\n%s", text, f != nil, want, listed(list))
				}
			}
		}
	}
}

// Every unit can be written behind a number and means what it means elsewhere.
func TestEveryUnitIsReadAsAtTheBench(t *testing.T) {
	t.Parallel()
	units := 0
	for _, name := range quantity.KindNames() {
		k, _ := quantity.KindNamed(name)
		for _, u := range quantity.UnitsOf(k) {
			if u.Kind() != k {
				continue // a unit of points beside a difference
			}
			units++
			for _, text := range []string{"3 " + u.Name(), "3" + u.Name(), "0.25 " + u.Name(), "123.5 " + u.Name()} {
				f := mustCompile(t, text)
				got, err := f.Number(nil)
				want, perr := quantity.Parse(text, quantity.Style{Want: k, Point: true})
				if err != nil || perr != nil || f.Kind() != k || got != want.Value.Float() {
					t.Errorf("%s: %v of kind %v (%v), want %v of kind %v (%v)", text, got, f.Kind(), err, want.Value.Float(), k, perr)
				}
			}
		}
	}
	if units < 35 {
		t.Errorf("only %d units were tried", units)
	}
}
