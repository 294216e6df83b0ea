package cli

import "testing"

func TestAlikeInWhateverUnit(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"27.0 ± 0.5 mm", "27 ± 0.5 mm", true},
		{"25.4 ± 0.254 mm", "1 ± 0.01 in", true}, // 25.4 mm exactly: NIST SP 811, 2008, B.8
		{"27.0 ± 0.5 mm", "1 1/16 ± 1/64 in", false},
		{"14.6 mm", "14.60 mm", true},
		{"15 mm", "0.575 in", false},
		{"at most 1 mm", "0 .. 1 mm", false},
		{"24 .. 26 mm", "25 ± 1 mm", false}, // one has no middle written
		{"not a number", "not a number", true},
		{"not a number", "27 mm", false},
	} {
		if got := alike(c.a, c.b); got != c.want {
			t.Errorf("%s and %s: %v", c.a, c.b, got)
		}
		if alike(c.b, c.a) != alike(c.a, c.b) {
			t.Errorf("%s and %s are alike one way round only", c.a, c.b)
		}
	}
}
