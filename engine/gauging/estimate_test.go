package gauging

import (
	"math"
	"testing"

	"canewright/engine/quantity"
	"canewright/engine/tool"
)

func length(q int64) quantity.Value { return quantity.Value{Kind: quantity.Length, Q: q} }

func TestOf(t *testing.T) {
	t.Parallel()
	twelfth := math.Sqrt(1.0 / 12)
	dial := tool.Tool{Step: length(10000), Error: length(5000)}
	for _, c := range []struct {
		name     string
		kind     quantity.Kind
		readings []string
		tool     tool.Tool
		own      *Repeatability
		sum      int64
		s, a, b  float64
		ownUsed  bool
		freedom  float64
	}{
		{"one reading, nothing known of the tool: the last digit typed", quantity.Length, []string{"1.31 mm"}, tool.Tool{}, nil,
			1310000, 0, 0, 10000 * twelfth, false, math.Inf(1)},
		{"the tool's step before the digit typed", quantity.Length, []string{"1.310 mm"}, dial, nil,
			1310000, 0, 0, math.Sqrt(1e8/12 + 25e6), false, math.Inf(1)},
		{"the coarsest of the digits typed", quantity.Length, []string{"1.3 mm", "1.30 mm"}, tool.Tool{}, nil,
			2600000, 0, 0, 100000 * twelfth, false, math.Inf(1)},
		{"scatter of three: s = 10 µm", quantity.Length, []string{"1.30 mm", "1.31 mm", "1.32 mm"}, dial, nil,
			3930000, 10000, 10000 / math.Sqrt(3), math.Sqrt(1e8/12 + 25e6), false, 2 * math.Pow(1e8/3+1e8/12+25e6, 2) / math.Pow(1e8/3, 2)},
		{"own repeatability for one reading", quantity.Length, []string{"1.31 mm"}, tool.Tool{Step: length(1)}, &Repeatability{S: 8000, N: 10},
			1310000, 8000, 8000, twelfth, true, 9 * math.Pow(1+1.0/12/64e6, 2)},
		{"own repeatability is not used where readings scatter", quantity.Length, []string{"1.30 mm", "1.32 mm"}, tool.Tool{Step: length(10000)}, &Repeatability{S: 8000, N: 10},
			2620000, 20000 / math.Sqrt2, 10000, 10000 * twelfth, false, math.Pow(1+1.0/12, 2)},
		{"own repeatability of one reading says nothing", quantity.Length, []string{"1.31 mm"}, tool.Tool{Step: length(10000)}, &Repeatability{S: 8000, N: 1},
			1310000, 0, 0, 10000 * twelfth, false, math.Inf(1)},
		{"a step of another kind is not the reading's", quantity.Mass, []string{"0.85 g"}, dial, nil,
			850000000, 0, 0, 10000000 * twelfth, false, math.Inf(1)},
		{"a tuner's step in cents serves a pitch", quantity.Pitch, []string{"F4"}, tool.Tool{Step: quantity.Value{Kind: quantity.Interval, Q: 1e6}}, nil,
			-400e6, 0, 0, 1e6 * twelfth, false, math.Inf(1)},
		{"a gauge number has no step", quantity.Length, []string{"22 AWG"}, tool.Tool{}, nil,
			643803, 0, 0, 0, false, math.Inf(1)},
		{"a count is exact", quantity.Count, []string{"5"}, tool.Tool{}, nil,
			5, 0, 0, 0, false, math.Inf(1)},
		{"a score is exact", quantity.Score, []string{"3.5"}, tool.Tool{}, nil,
			3500, 0, 0, 0, false, math.Inf(1)},
	} {
		e := Of(readings(t, c.kind, c.readings...), c.tool, c.own)
		if e.N != len(c.readings) || e.Kind != c.kind || e.Sum != c.sum || e.Best != float64(c.sum)/float64(e.N) || e.Own != c.ownUsed {
			t.Errorf("%s: %+v", c.name, e)
		}
		near := func(what string, got, want float64) {
			t.Helper()
			if got != want && !(math.Abs(got-want) <= 1e-12*math.Abs(want)) {
				t.Errorf("%s: %s = %v, want %v", c.name, what, got, want)
			}
		}
		near("s", e.S, c.s)
		near("A", e.A, c.a)
		near("B", e.B, c.b)
		near("U", e.U, math.Hypot(c.a, c.b))
		near("freedom", e.Freedom, c.freedom)
	}
}

// Readings that differ in the last quantum keep their scatter, however large
// they are.
func TestScatterOfLargeReadings(t *testing.T) {
	t.Parallel()
	rs := []quantity.Entered{{Value: length(1<<52 - 1)}, {Value: length(1 << 52)}, {Value: length(1<<52 + 1)}}
	if e := Of(rs, tool.Tool{}, nil); e.S != 1 {
		t.Errorf("s = %v, want 1", e.S)
	}
}
