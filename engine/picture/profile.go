package picture

import "math"

// profile is the half width of a part along the reed, mm, as a chain of points
// so near each other that a straight line between two is a curve on paper.
type profile []place

type place struct{ at, half float64 }

// sampled is how far apart points of a bent part are, mm of reed.
const sampled = 0.25

// profile of a part: its width, or its depth.
func (p *ReedPart) profile(deep bool) profile {
	knots := make(profile, len(p.Points))
	for i, x := range p.Points {
		knots[i] = place{mm(x.At), mm(x.Width) / 2}
		if deep {
			knots[i].half = mm(x.Deep) / 2
		}
	}
	if !p.Smooth {
		return knots
	}
	var out profile
	for from := 0; from < len(knots); {
		to := from + 1 // a step ends a curve
		for to < len(knots) && knots[to].at > knots[to-1].at {
			to++
		}
		out = append(out, bent(knots[from:to])...)
		from = to
	}
	return out
}

// Halves are the part's half width along the reed, mm: a chain of distance and
// half width, so near each other that straight lines between them are a curve on
// paper.
func (p *ReedPart) Halves() [][2]float64 {
	var out [][2]float64
	for _, x := range p.profile(false) {
		out = append(out, [2]float64{x.at, x.half})
	}
	return out
}

// bent joins places by a cubic in each stretch that never runs past its ends:
// F. N. Fritsch and R. E. Carlson, Monotone piecewise cubic interpolation, SIAM
// Journal on Numerical Analysis 17 (1980), with the slopes of F. N. Fritsch and
// J. Butland (1984): the weighted harmonic mean of the neighbouring chords.
func bent(k profile) profile {
	if len(k) < 3 {
		return k
	}
	n := len(k)
	chord, slope := make([]float64, n-1), make([]float64, n)
	for i := range chord {
		chord[i] = (k[i+1].half - k[i].half) / (k[i+1].at - k[i].at)
	}
	slope[0], slope[n-1] = chord[0], chord[n-2]
	for i := 1; i < n-1; i++ {
		if chord[i-1]*chord[i] <= 0 {
			continue
		}
		before, after := k[i].at-k[i-1].at, k[i+1].at-k[i].at
		a, b := 2*after+before, after+2*before
		slope[i] = (a + b) / (a/chord[i-1] + b/chord[i])
	}
	out := profile{k[0]}
	for i := range chord {
		long := k[i+1].at - k[i].at
		steps := int(min(math.Ceil(long/sampled), 400))
		for s := 1; s < steps; s++ {
			t := float64(s) / float64(steps)
			t2, t3 := t*t, t*t*t
			out = append(out, place{k[i].at + t*long,
				(2*t3-3*t2+1)*k[i].half + (t3-2*t2+t)*long*slope[i] + (3*t2-2*t3)*k[i+1].half + (t3-t2)*long*slope[i+1]})
		}
		out = append(out, k[i+1])
	}
	return out
}

// half at a distance; ok is false beyond the ends.
func (p profile) half(at float64) (float64, bool) {
	const near = 1e-9
	if at < p[0].at-near || at > p[len(p)-1].at+near {
		return 0, false
	}
	for i := 1; i < len(p); i++ {
		if a, b := p[i-1], p[i]; at <= b.at+near {
			if b.at == a.at {
				return max(a.half, b.half), true
			}
			return a.half + (b.half-a.half)*min(max((at-a.at)/(b.at-a.at), 0), 1), true
		}
	}
	return p[len(p)-1].half, true
}

// across is the width, mm, of the part a mark lies on: the upper one, or, where
// it is covered, the lowest.
func (r *Reed) across(m ReedMark, deep bool) float64 {
	wide := 0.0
	for i := range r.Parts {
		if h, ok := r.Parts[i].profile(deep).half(mm(m.At)); ok {
			if wide = 2 * h; m.Covered {
				return wide
			}
		}
	}
	return wide
}
