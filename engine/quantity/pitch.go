package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strings"
)

// Semitones from A within one octave of the scientific numbering (A4 = 0).
var noteSteps = map[rune]int64{'C': -9, 'D': -7, 'E': -5, 'F': -4, 'G': -2, 'A': 0, 'B': 2}

const (
	semitone = 100e6  // µcents
	concertA = 440e6  // µHz, ISO 16
	octave   = 1200e6 // µcents
)

// note reads "F4", "Bb3", "F#4 -10 cents". ok is false when the text does not
// begin like a note.
func (p *parser) note() (t *term, err error, ok bool) {
	start := p.at
	step, is := noteSteps[upper(p.peek())]
	if !is {
		return nil, nil, false
	}
	p.at++
	switch p.peek() {
	case '#', '♯':
		step++
		p.at++
	case 'b', '♭':
		step--
		p.at++
	}
	if !isDigit(p.peek()) || isDigit(p.ahead(1)) {
		end := p.at
		for end < len(p.src) && !isBlank(p.src[end]) {
			end++
		}
		return nil, fault(start, end, "write the octave: F4 is the F above middle C", "this note has no octave from 0 to 9"), true
	}
	q := (int64(p.peek()-'4')*12 + step) * semitone
	p.at++
	t = &term{exact: big.NewRat(q, 1), unit: Unit{unitByName["cents"]}, step: big.NewRat(semitone, 1), from: start, to: p.at}
	if err := p.beside(t); err != nil {
		return nil, err, true
	}
	if err := inRange(t); err != nil { // Cb0 is below C0
		return nil, err, true
	}
	return t, nil, true
}

// beside reads the cents after a note. In a tolerance a number without a unit,
// or with another signed number behind it, is a deviation and left standing.
func (p *parser) beside(t *term) error {
	save := p.at
	p.blanks()
	if !isSign(p.peek()) || p.ahead(1) == '/' || isSign(p.ahead(1)) { // F4 +/- 20, F4 +- 20
		p.at = save
		return nil
	}
	at := p.at
	n, step, err := p.number()
	if err != nil {
		return err
	}
	u, err := p.unit()
	if err != nil {
		return err
	}
	end := p.at
	if p.target {
		p.blanks()
		if u.IsZero() || isSign(p.peek()) && !isSign(p.ahead(1)) && p.ahead(1) != '/' {
			p.at = save
			return nil
		}
		p.at = end
	}
	if u.IsZero() && p.style.Bare.d == unitByName["cents"] {
		u = p.style.Bare
	}
	if u.d == nil || u.d.kind != Interval {
		return fault(at, end, "write cents: F4 -10 cents", "what stands beside a note is not in cents")
	}
	t.exact.Add(t.exact, n.Mul(n, u.Quanta()))
	t.step = new(big.Rat).Mul(step, u.Quanta())
	t.to = end
	return nil
}

// inRange refuses what has no note from C0 to B9: no reed sounds there, and
// what is printed must be readable again.
func inRange(t *term) error {
	lowest, highest := int64((-4*12-9)*semitone-semitone/2), int64((5*12+2)*semitone+semitone/2)
	if t.exact.Cmp(big.NewRat(lowest, 1)) < 0 || t.exact.Cmp(big.NewRat(highest-1, 1)) > 0 {
		return fault(t.from, t.to, "", "this pitch lies outside the notes from C0 to B9")
	}
	return nil
}

func upper(r rune) rune {
	if r >= 'a' && r <= 'g' {
		return r - 'a' + 'A'
	}
	return r
}

// hertz turns a frequency into whole µcents from A4.
func (p *parser) hertz(t *term, n, step *big.Rat) (*term, error) {
	// One rounding to a float64, so that 349.2 Hz and 0.3492 kHz are the same.
	f, _ := new(big.Rat).Mul(n, t.unit.Quanta()).Float64()
	a4 := float64(p.style.A4)
	if a4 == 0 {
		a4 = concertA
	}
	if f <= 0 {
		return nil, fault(t.from, t.to, "", "a frequency is above zero")
	}
	cents := math.Floor(octave*math.Log2(f/a4) + 0.5)
	if t.exact = new(big.Rat).SetFloat64(cents); t.exact == nil {
		return nil, tooLarge(t)
	}
	if err := inRange(t); err != nil {
		return nil, err
	}
	s, _ := new(big.Rat).Mul(step, t.unit.Quanta()).Float64()
	t.step = new(big.Rat).SetFloat64(octave / math.Ln2 * s / f)
	return t, nil
}

var noteNames = [12]string{"A", "Bb", "B", "C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#"}

// formatPitch writes a pitch as the nearest note and cents beside it, with as
// many decimals as step has; step 0: all the value has.
func formatPitch(q, step int64) string {
	decimals := 6 // a quantum is 1 µcent
	if step > 0 {
		if d, den := places(Unit{unitByName["cents"]}, step); den == 0 {
			decimals = d
		}
	}
	n := floorDiv(q+semitone/2, semitone)
	name := fmt.Sprintf("%s%d", noteNames[mod(n, 12)], 4+floorDiv(n+9, 12))
	cents := decimal(big.NewRat(q-n*semitone, 1e6), decimals, step > 0)
	if strings.Trim(cents, "0.") == "" {
		return name
	}
	if cents[0] != '-' {
		cents = "+" + cents
	}
	return name + " " + cents + " cents"
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

func mod(a, b int64) int64 { return a - floorDiv(a, b)*b }

// Hertz is the frequency of a pitch, in Hz, for A4 in µHz (0: 440 Hz).
func Hertz(q, a4 int64) float64 {
	if a4 == 0 {
		a4 = concertA
	}
	return float64(a4) / 1e6 * math.Exp2(float64(q)/octave)
}
